"""Every kind of bad input is told at its place, with what to write instead, all at once, and never as a traceback."""

from __future__ import annotations

import re
import shutil
from itertools import product
from pathlib import Path
from typing import get_origin

import pytest

from bad_input import VALID, Case, cases
from handbook_command.command import main
from long_run import sampled
from reckoner.loading.retired import RETIRED

Capture = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("fixed_day")
CASES = cases()
PLACED = re.compile(r"formulas(/[^:]+)?:\d+:\d+: .+ \(.+\)( \[(note|warning)\])?\Z")

#: Every kind of bad input; a case file that is removed, added or renamed fails until this list says so too.
REQUIRED = {
    "absurdly-large",
    "absurdly-small",
    "accepted-old-over",
    "accepted-old-twice",
    "accepted-old-unknown",
    "acute-against-its-class",
    "acute-statement",
    "acute-unit",
    "alias",
    "anchor",
    "anchor-bomb",
    "backing-unknown",
    "bath-missing",
    "bottle-count-and-length",
    "bottle-discarded-before-mixing",
    "bottle-film-before-mixing",
    "bottle-negative-length",
    "bottle-of-tomorrow",
    "bottle-opened-before-mixing",
    "bottle-twice",
    "bottle-unknown-film",
    "broken-yaml",
    "broken-yaml-apostrophe",
    "broken-yaml-brace",
    "broken-yaml-bracket",
    "broken-yaml-colon",
    "broken-yaml-escape",
    "broken-yaml-first-character",
    "broken-yaml-hyphen",
    "broken-yaml-indentation",
    "broken-yaml-no-colon",
    "byte-order-mark",
    "called-safe",
    "capital-ending",
    "caution-unknown-group",
    "caution-without-groups",
    "certainty-of-no-value",
    "character-without-a-sign",
    "checked-tomorrow",
    "chemical-formula",
    "chemical-formula-of-groups",
    "chemical-formula-of-nothing",
    "chemical-with-faults",
    "choice",
    "comments-only",
    "control-character",
    "control-character-raw",
    "control-test-purpose",
    "control-test-twice",
    "count-of-packs",
    "csv-bad-cell",
    "csv-bare-carriage-return",
    "csv-bare-number",
    "csv-byte-order-mark",
    "csv-column-changed-among-ignored",
    "csv-column-twice",
    "csv-columns-twice",
    "csv-comma-where-the-locale-is-point",
    "csv-count-twice",
    "csv-currency-symbol",
    "csv-empty",
    "csv-empty-cell",
    "csv-extra-column",
    "csv-header-only",
    "csv-ignoring-every-column",
    "csv-locale-unknown",
    "csv-mapped-column-missing",
    "csv-missing-column",
    "csv-misspelt-column",
    "csv-pack-without-unit",
    "csv-point-where-the-locale-is-comma",
    "csv-quote-inside",
    "csv-quote-open",
    "csv-quote-then-text",
    "csv-quoted-cells",
    "csv-semicolons",
    "csv-several",
    "csv-supplier-with-faults",
    "csv-thousands-two-ways",
    "csv-too-few-cells",
    "csv-too-many-cells",
    "csv-unknown-chemical",
    "csv-unmapped-column",
    "csv-word-twice",
    "csv-word-without-meaning",
    "csv-wrong-encoding",
    "csv-yes-in-their-words",
    "currency-small",
    "cycle",
    "cycle-direct",
    "cycle-through-two",
    "danger-in-one-bath",
    "date-far",
    "date-not-the-file-name",
    "date-order",
    "date-wrong",
    "decimal-comma",
    "deep-nesting",
    "delivery-in-another-currency",
    "demo-day-unreadable",
    "dilution-and-ingredients",
    "dilution-parts",
    "dilution-with-colon",
    "disposal-of-sulfide",
    "disposal-too-plain",
    "document-end",
    "duplicate-key",
    "empty-file",
    "empty-value",
    "exponent",
    "exposure-limit-unit",
    "faults-and-wrong-names",
    "figures-beyond-use",
    "file-name-hidden",
    "file-name-no-id",
    "film-format-twice",
    "first-key-missing",
    "first-line-indented",
    "form-twice",
    "former-id-in-use",
    "former-id-twice",
    "formula-name-twice",
    "future-price-list",
    "group-twice",
    "hidden-character",
    "household-name",
    "id-not-the-file-name",
    "id-of-another-file",
    "id-with-capitals",
    "id-with-spaces",
    "infinite",
    "instruments-with-faults",
    "ion-of-a-limit",
    "keep-apart-contradicted",
    "keep-apart-in-words",
    "keep-apart-unsaid",
    "key-of-list",
    "keys-for-text",
    "kit-concentrate-of-nothing",
    "kit-in-sheets",
    "kit-negative-price",
    "kit-of-no-roll",
    "kit-of-tomorrow",
    "kit-replaces-no-bath",
    "kit-replaces-unknown",
    "kit-unknown-process",
    "kit-without-keeping",
    "kit-without-rate",
    "limit-backwards",
    "letters-for-digits",
    "limit-far",
    "limit-of-no-rule",
    "limit-of-nothing",
    "link-loop",
    "link-outside",
    "link-to-nothing",
    "liquid-without-density",
    "liquids-overflow",
    "list-at-top",
    "list-for-choice",
    "list-for-text",
    "locale-unknown",
    "long-value",
    "look-alikes-unknown",
    "look-alikes-with-faults",
    "mass-of-a-solution",
    "mass-where-volume",
    "merge-key",
    "missing-key",
    "named-as-formerly",
    "nan",
    "negative",
    "newer-format",
    "no-break-space",
    "offer-in-another-currency",
    "offer-of-unknown-chemical",
    "offer-twice",
    "order-developer-ferricyanide",
    "order-developer-permanganate",
    "order-no-stop",
    "order-no-wash",
    "order-permanganate-fixer",
    "order-sulfuric-ferricyanide",
    "order-wash-before-the-stop",
    "order-wash-for-some-film",
    "order-wash-left-out",
    "pack-of-zero",
    "pair-of-one",
    "pair-of-three",
    "pair-of-unknown",
    "ph-beside-its-reason",
    "plan-and-kit-with-faults",
    "plan-budget-below-any-basket",
    "plan-budget-without-rate",
    "plan-count-of-zero",
    "plan-film-for-a-formula",
    "plan-kit-of-another-process",
    "plan-of-nothing",
    "plan-supplier-by-its-beginning",
    "plan-unknown-film",
    "plan-unknown-formula",
    "plan-unknown-kit",
    "plan-unknown-process",
    "plan-unknown-supplier",
    "plan-with-faults",
    "plan-without-film-formats",
    "price-below-a-cent",
    "price-of-zero",
    "price-slipped",
    "price-without-currency",
    "price-without-date",
    "private-parts-of-public",
    "process-adapts-itself",
    "process-adapts-unknown",
    "process-with-faults",
    "published-far-off",
    "published-order",
    "published-unclear",
    "published-without-volume",
    "quote-open-before-others",
    "rate-absurd",
    "rate-of-tomorrow",
    "rate-of-zero",
    "rate-to-itself",
    "rate-twice",
    "rates-with-faults",
    "replenisher-unknown",
    "restriction-with-faults",
    "retired-keys",
    "reuse-steps-out-of-order",
    "same-id-twice",
    "second-document",
    "settings-missing",
    "settings-with-faults",
    "several-at-once",
    "several-in-one-file",
    "shelf-unknown-chemical",
    "source-without-citation",
    "start-water",
    "stray-file",
    "strength-percent",
    "strong-with-a-reason",
    "strong-without-a-ph",
    "supplier-missing",
    "swap-of-another-kind",
    "swap-unknown",
    "tab-indentation",
    "tag",
    "tank-unknown-film",
    "temperature-factor-without-range",
    "temperature-outside-the-table",
    "terminal-codes",
    "text-ending",
    "text-for-keys",
    "text-for-list",
    "thousands-comma",
    "too-large",
    "two-lists-of-a-day",
    "unit-fl-oz",
    "unit-glued",
    "unit-gr",
    "unit-length",
    "unit-missing",
    "unit-missing-volume",
    "unit-oz",
    "unit-percent",
    "unit-pt",
    "unknown-chemical",
    "unknown-chemical-look-alike",
    "unknown-currency",
    "unknown-form",
    "unknown-formula",
    "unknown-formula-in-process",
    "unknown-key",
    "unknown-key-for-a-needed-one",
    "unknown-key-inside",
    "unknown-owners-format",
    "unknown-unit",
    "utf-16",
    "utf-16-without-mark",
    "variation-nothing-left",
    "variation-of-no-time",
    "variation-two-times",
    "variation-unknown-step",
    "volume-of-a-solid",
    "water-by-weight",
    "water-in-another-currency",
    "water-of-no-form",
    "wrong-encoding",
    "yaml-ending",
    "yes-or-no",
    "zero",
}


def test_the_valid_handbook_is_valid(capsys: Capture) -> None:
    assert main(["check", str(VALID)]) == 0
    assert capsys.readouterr().out == "2 formulas, 5 chemicals: in order\n"


def test_every_key_that_was_given_up_has_a_case() -> None:
    """And is none any more, or is now a single value where a list stood."""
    said = "\n".join(problem for case in CASES for problem in case.problems)
    for (kind, key), advice in RETIRED.items():
        assert f"key '{key}' is of an earlier form of these files ({advice})" in said
        assert key not in kind.by_key() or get_origin(kind.by_key()[key].annotation) is not tuple


def test_every_kind_has_its_case() -> None:
    assert {case.name for case in CASES} == REQUIRED
    assert all(case.spec["says"] for case in CASES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_exact_message_and_exit_code(case: Case, tmp_path: Path, capsys: Capture) -> None:
    folder = tmp_path / "formulas"
    case.make(folder)
    code = main(["check", str(folder)])
    *lines, last = capsys.readouterr().out.splitlines()
    assert lines == case.problems
    assert code == case.exit_code
    assert ("in order" if code == 0 else ": not in order") in last
    assert all(PLACED.match(line) for line in lines)
    assert lines == sorted(lines, key=lambda line: (line.endswith("[note]"), line.endswith("[warning]"), _place(line)))


def test_notes_beside_an_error_stay_notes_and_all_are_counted(tmp_path: Path, capsys: Capture) -> None:
    """What stops the build stands first, and what does not says so."""
    made = {case.name: case for case in CASES}
    folder = tmp_path / "formulas"
    made["future-price-list"].make(folder)
    (folder / "shelf.yml").write_text("bottels: []\n", "utf-8")
    assert main(["check", str(folder)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert "bottels" in lines[0]
    assert not lines[0].endswith("]")
    assert any(line.endswith("[note]") for line in lines[1:-1])
    assert re.fullmatch(r"\d+ errors?(, \d+ warnings?)?, \d+ notes?: not in order", lines[-1])


def _place(line: str) -> tuple[str, int, int]:
    file, row, column, _ = line.split(":", 3)
    return file, int(row), int(column)


def test_a_look_alike_is_never_the_only_suggestion(tmp_path: Path, capsys: Capture) -> None:
    """sodium-sulfide is a letter from sodium-sulfite, and gives off hydrogen sulfide with acid."""
    case = next(case for case in CASES if case.name == "unknown-chemical-look-alike")
    case.make(tmp_path / "formulas")
    main(["check", str(tmp_path / "formulas")])
    said = capsys.readouterr().out
    assert "did you mean" not in said
    assert "different chemicals" in said


def test_a_missing_folder_is_said(tmp_path: Path, capsys: Capture) -> None:
    assert main(["check", str(tmp_path / "formulas")]) == 1
    assert "the folder is missing" in capsys.readouterr().out


def test_a_flood_of_faults_is_cut_off(tmp_path: Path, capsys: Capture) -> None:
    """Twenty thousand anchors, or misspelt keys, are refused at once and in a hundred lines."""
    for text in ("".join(f"k{n}: &a{n} x\n" for n in range(20_000)), "".join(f"k{n}: x\n" for n in range(20_000))):
        folder = tmp_path / str(len(text)) / "formulas"
        shutil.copytree(VALID, folder)
        (folder / "solutions" / "fixers" / "fixer.yml").write_text(text, "utf-8")
        assert main(["check", str(folder)]) == 1
        lines = capsys.readouterr().out.splitlines()
        assert len(lines) == 102
        assert lines[-2].endswith("more faults follow in this file (mend these first)")
        assert lines[-1] == "101 errors: not in order"


@pytest.mark.parametrize("epoch", ["yesterday", "99999999999999999999", "-99999999999999", "1e3", " "])
def test_an_unreadable_day_is_said(epoch: str, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    assert main(["check", str(VALID)]) == 1
    assert "SOURCE_DATE_EPOCH" in capsys.readouterr().out


#: What may stand behind a key by mistake, whatever the key.
SLIPS = ["", "[]", "{a: b}", "9" * 30, '"\\x1b[2J"', "9999-12-31", "1 XXX"]
FILES = sorted(path.relative_to(VALID).as_posix() for path in VALID.rglob("*.yml"))


#: One of so many is tried in a run that is not long: with 8 slips another one behind each key.
ONE_OF = 13


@pytest.mark.sweep
@pytest.mark.parametrize("name", FILES)
def test_no_slip_behind_any_key_is_a_traceback(name: str, tmp_path: Path, capsys: Capture) -> None:
    """Each key of each file in turn gets each slip, or is left out; whatever is said is one placed line."""
    folder = tmp_path / "formulas"
    shutil.copytree(VALID, folder)
    lines = (VALID / name).read_text("utf-8").splitlines()
    keys = [(number, key[0]) for number, line in enumerate(lines) if (key := re.match(r"\s*(- )?\w+:", line))]
    for (number, key), slip in sampled(product(keys, [*SLIPS, None]), ONE_OF):
        changed = [] if slip is None else [f"{key} {slip}"]
        (folder / name).write_text("\n".join([*lines[:number], *changed, *lines[number + 1 :]]), "utf-8")
        code = main(["check", str(folder)])
        said = capsys.readouterr().out.splitlines()[:-1]
        assert all(PLACED.match(line) and line.isprintable() for line in said), said
        assert code == 0 or said
