"""Every kind of bad input is told at its place, with what to write instead, all at once, and never as a traceback."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import check
from bad_input import VALID, Case, cases
from site_build import FIXED_DAY

CASES = cases()
PLACED = re.compile(r"formulas(/[^:]+)?:\d+:\d+: .+ \(.+\)( \[note\])?\Z")

#: Kinds that must have a case; removing a case file fails here.
REQUIRED = {
    "unknown-key",
    "missing-key",
    "duplicate-key",
    "anchor",
    "merge-key",
    "tab-indentation",
    "broken-yaml",
    "wrong-encoding",
    "empty-file",
    "unknown-chemical",
    "unknown-form",
    "unknown-formula",
    "unknown-unit",
    "unit-oz",
    "unit-gr",
    "unit-percent",
    "unit-missing",
    "decimal-comma",
    "negative",
    "zero",
    "nan",
    "infinite",
    "absurdly-large",
    "absurdly-small",
    "volume-of-a-solid",
    "mass-where-volume",
    "cycle",
    "same-id-twice",
    "unknown-currency",
    "price-without-date",
    "checked-tomorrow",
    "pack-of-zero",
    "csv-missing-column",
    "csv-extra-column",
    "csv-quote-open",
    "csv-quote-inside",
    "csv-byte-order-mark",
    "unknown-chemical-look-alike",
    "several-at-once",
}


@pytest.fixture(autouse=True)
def _fixed_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", FIXED_DAY)


def test_the_valid_handbook_is_valid(capsys: pytest.CaptureFixture[str]) -> None:
    assert check.main([str(VALID)]) == 0
    assert capsys.readouterr().out == "2 formulas, 5 chemicals: in order\n"


def test_no_required_kind_is_missing() -> None:
    assert REQUIRED - {case.name for case in CASES} == set()


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_exact_message_and_exit_code(case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "formulas"
    case.make(folder)
    code = check.main([str(folder)])
    lines = [line for line in capsys.readouterr().out.splitlines() if not line.endswith(": in order")]
    assert lines == case.problems
    assert code == case.exit_code
    assert all(PLACED.match(line) for line in lines)
    assert lines == sorted(lines, key=_place)


def _place(line: str) -> tuple[str, int, int]:
    file, row, column, _ = line.split(":", 3)
    return file, int(row), int(column)


def test_a_look_alike_is_never_the_only_suggestion(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """sodium-sulfide is a letter from sodium-sulfite, and gives off hydrogen sulfide with acid."""
    case = next(case for case in CASES if case.name == "unknown-chemical-look-alike")
    case.make(tmp_path / "formulas")
    check.main([str(tmp_path / "formulas")])
    said = capsys.readouterr().out
    assert "did you mean" not in said
    assert "different chemicals" in said


def test_an_unreadable_day_is_said(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    assert check.main([str(VALID)]) == 1
    assert "SOURCE_DATE_EPOCH" in capsys.readouterr().out


def test_a_missing_folder_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check.main([str(tmp_path / "formulas")]) == 1
    assert "the folder is missing" in capsys.readouterr().out
