"""Amounts that are probably slips are asked about, with their place and both figures; a note answers for one line."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from handbook_command.command import main
from reckoner.checks import check as rules
from reckoner.checks.amount_rules import plausible_amounts
from reckoner.loading.catalogue import build_catalogue
from reckoner.loading.files import DataFile, kind_of
from reckoner.problems import Severity
from reckoner.records.catalogue import Catalogue
from site_build import FIXED_DAY
from small import SETTINGS, TODAY, WATER, chemical, formula

ROOT = Path(__file__).parent.parent
SALT = (
    "[{id: solid, name: solid, formula: NaCl, solubility: ["
    "{grams_per_litre: 350, at: 20 °C, certainty: common practice},"
    "{grams_per_litre: 390, at: 80 °C, certainty: common practice}]}, {id: unknown, name: unknown}]"
)


def said(*lines: str, more: str = "", purpose: str = "fixer", diluted: tuple[int, ...] = ()) -> list[str]:
    """What is said of formulas ``f0``, ``f1``, … with one ingredient each, and how grave it is.

    Those in ``diluted`` are concentrates.
    """
    texts = {"settings.yml": SETTINGS, "chemicals/water.yml": WATER, "chemicals/salt.yml": chemical("salt", SALT)}
    for number, line in enumerate(lines):
        item = f"[{{chemical: salt, form: solid, {line}}}]".replace("form: solid, form", "form")
        text = formula(f"f{number}", item, purpose, more if number == 0 else "")
        text = text.replace("strength: working", "strength: concentrate") if number in diluted else text
        texts[f"solutions/a/f{number}.yml"] = text
    files = []
    for name, text in texts.items():
        kind = kind_of(Path(name))
        assert kind is not None
        files.append(DataFile(f"formulas/{name}", kind, text))
    catalogue, problems = build_catalogue(files, TODAY)
    assert catalogue is not None, problems
    return [f"{'note' if one.severity is Severity.NOTE else 'warning'} {one}" for one in rules(catalogue)]


@pytest.mark.parametrize(
    ("amount", "times"), [("101 g", "10 times the usual"), ("0.99 g", "10 times less than the usual")]
)
def test_ten_times_off_in_either_direction(amount: str, times: str) -> None:
    for others, severity in ((2, "note"), (3, "warning"), (4, "warning")):
        (line,) = said(f"amount: {amount}", *["amount: 10 g"] * others)
        assert line.startswith(f"{severity} formulas/solutions/a/f0.yml:7:53: {amount} of salt is ")
        assert f"{times} 10 g of {others} other formulas for a fixer" in line
        assert "say in a note: of the line why" in line


def test_at_ten_times_nothing_is_asked() -> None:
    for others in (2, 3):
        assert said("amount: 100 g", *["amount: 10 g"] * others) == []
        assert said("amount: 1 g", *["amount: 10 g"] * others) == []


def test_what_is_diluted_first_is_compared_with_its_like() -> None:
    """Else a working bath is asked about because concentrates take more, and the other way round."""
    lines = ["amount: 10 g", "amount: 300 g", "amount: 300 g", "amount: 300 g"]
    assert said(*lines, diluted=(1, 2, 3)) == []
    assert said(*lines, diluted=(0,)) == []
    assert len(said(*lines)) == len(said(*lines, diluted=(0, 1, 2, 3))) == 1
    assert said(*lines, diluted=(0, 1)) == []
    (line,) = said(*lines, diluted=(0, 1, 2))
    assert line.startswith("note ")


def test_the_median_counts_and_one_other_is_no_rule() -> None:
    assert said("amount: 101 g", "amount: 10 g") == []
    # The slip among the others does not move what is usual, and is the only one that is asked about.
    lines = said("amount: 5 g", "amount: 10 g", "amount: 12 g", "amount: 300 g")
    assert [line.split(":")[0][-6:] for line in lines] == ["f3.yml"]


def test_a_stock_solution_may_be_of_any_strength() -> None:
    assert said("amount: 101 g", "amount: 10 g", "amount: 10 g", purpose="stock solution") == []


def test_a_note_on_the_line_silences_it_and_is_still_told() -> None:
    (line,) = said("amount: 101 g, note: so it is printed", "amount: 10 g", "amount: 10 g")
    assert line.startswith("note formulas/solutions/a/f0.yml:7:53: ")
    assert line.endswith("the note of the line: so it is printed")


@pytest.mark.parametrize(
    ("amount", "more", "figures"),
    [
        ("amount: 391 g", "", "391 g for each litre of the bath, and 390 g/L dissolve"),
        ("amount: 390 g", "", ""),
        # Water that is not hot dissolves what is recorded for cold water.
        ("amount: 351 g", "mix_temperature: 25 °C\n", "351 g for each litre of the bath, and 350 g/L dissolve"),
        ("amount: 350 g", "mix_temperature: 25 °C\n", ""),
        (
            "amount: 200 g",
            "start_water: 500 mL\n",
            "400 g for each litre of the 500 mL to start with, and 390 g/L dissolve",
        ),
        ("amount: 195 g", "start_water: 500 mL\n", ""),
        # Not recorded: what outweighs the water is asked about all the same.
        ("form: unknown, amount: 2 kg", "", "2000 g for each litre of the bath, more than the 1000 g/L that water"),
        ("form: unknown, amount: 1 kg", "", ""),
    ],
)
def test_more_than_dissolves(amount: str, more: str, figures: str) -> None:
    lines = said(amount, more=more)
    assert [figures in line for line in lines] == ([True] if figures else [])


#: A unit or a decimal point that slipped in a published list, and the figures that the question names: metol dissolves
#: to 47 g/L (recorded), and D-76 takes 2 g of it.
SLIPS = [
    ("black-and-white-film/bw-mq-borax", "amount: 2.0 g", "amount: 2 kg", ("2 kg of metol", "2000 g", "47 g/L")),
    ("black-and-white-film/bw-mq-borax", "amount: 2.0 g", "amount: 2 mg", ("2 mg of metol", "times less")),
    ("colour-negative-still/c41-developer", "amount: 1.3 g", "amount: 130 g", ("130 g of potassium-bromide",)),
]


@pytest.mark.sweep
@pytest.mark.parametrize(("name", "old", "new", "figures"), SLIPS)
def test_slips_are_found_in_the_folder_and_in_one_file(
    name: str,
    old: str,
    new: str,
    figures: tuple[str, ...],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", FIXED_DAY)
    text = (ROOT / "formulas" / "library" / "solutions" / f"{name}.yml").read_text("utf-8")
    assert old in text
    line_number = text[: text.index(old)].count("\n") + 1
    folder = tmp_path / "formulas"
    # A basket for a hundred times the amount is another matter, and takes long.
    shutil.copytree(ROOT / "formulas", folder, ignore=shutil.ignore_patterns("plans", "kits"))
    inside = folder / "library" / "solutions" / f"{name}.yml"
    inside.write_text(text.replace(old, new, 1), "utf-8")
    for arguments in ([str(folder)], [str(inside), str(folder)]):
        assert main(["check", *arguments]) == 0
        place = f"{Path(name).name}.yml:{line_number}:"
        lines = [line for line in capsys.readouterr().out.splitlines() if place in line]
        assert any(all(figure in line for figure in figures) for line in lines), (arguments, lines)


def test_the_demonstration_has_no_question_left_and_its_notes_are_told(demo: Catalogue) -> None:
    found = list(plausible_amounts(demo))
    assert {one.severity for one in found} == {Severity.NOTE}
    assert any("750 g of potassium-carbonate is 1250 g" in str(one) for one in found)
