"""One file that somebody sends is judged by itself: its kind, every fault in it, and whether its id is taken."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from bad_input import VALID
from data_layers import below_its_layer
from handbook_command.command import main
from reckoner.loading.files import kind_of
from reckoner.one_file import kind_by_content
from site_build import ROOT

Capture = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("fixed_day")
DEMO = sorted(path for path in (ROOT / "formulas").rglob("*.yml"))
GOOD = (
    (VALID / "solutions" / "fixers" / "fixer.yml")
    .read_text("utf-8")
    .replace("id: fixer\nname: Plain fixer\n", "id: plain\nname: Another fixer\n")
)


def said(
    text: str, folder: Path, capsys: Capture, name: str = "plain.yml", data: Path = VALID
) -> tuple[int, list[str]]:
    """Exit code and lines, the file's folder left out."""
    file = folder / name
    file.write_text(text, "utf-8")
    code = main(["check", str(file), str(data)])
    return code, [line.removeprefix(f"{folder.as_posix()}/") for line in capsys.readouterr().out.splitlines()]


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_every_kind_is_known_by_what_is_in_it(path: Path) -> None:
    found = kind_by_content(path.read_text("utf-8"), path.name)
    assert found is kind_of(below_its_layer(path))


def test_a_good_file_is_told_where_it_belongs(tmp_path: Path, capsys: Capture) -> None:
    code, lines = said(GOOD, tmp_path, capsys)
    assert (code, lines) == (0, ["plain.yml: a formula, in order (put it at handbook/solutions/plain.yml)"])


def test_every_fault_is_told_at_once_with_its_place(tmp_path: Path, capsys: Capture) -> None:
    spoilt = GOOD.replace("250 g", "250 gr").replace("form: anhydrous", "form: dry").replace("disposal:", "disposel:")
    code, lines = said(spoilt, tmp_path, capsys)
    assert code == 1
    *faults, count = lines
    assert [line.split(": ")[0] for line in faults] == [f"plain.yml:{at}" for at in ("10:13", "12:11", "16:1")]
    assert count.startswith("3 errors")
    assert "grain for 64.8 mg, g for a gram" in lines[0]
    assert "has no form 'dry' (write one of: anhydrous" in lines[1]
    assert "did you mean 'disposal'?" in lines[2]
    # A needed key that is misspelt is one fault: it is not missing as well.
    assert "is missing" not in "".join(lines)


def test_a_taken_id_is_said(tmp_path: Path, capsys: Capture) -> None:
    code, lines = said(GOOD.replace("id: plain", "id: fixer"), tmp_path, capsys, "fixer.yml")
    what = (
        "id 'fixer' is also the id of handbook/solutions/fixers/fixer.yml (give one of them another id and file name)"
    )
    assert (code, lines) == (1, [f"fixer.yml:1:5: {what}", "1 error: not in order"])


def test_faults_of_the_handbook_are_no_faults_of_the_file(tmp_path: Path, capsys: Capture) -> None:
    data = tmp_path / "formulas"
    shutil.copytree(VALID, data)
    (data / "processes" / "fixing.yml").write_text("id: fixing\n", "utf-8")
    assert main(["check", str(data)]) == 1
    capsys.readouterr()
    code, lines = said(GOOD, tmp_path, capsys, data=data)
    assert (code, lines) == (0, ["plain.yml: a formula, in order (put it at formulas/solutions/plain.yml)"])


def test_a_file_of_the_handbook_is_judged_against_the_rest(capsys: Capture) -> None:
    assert main(["check", str(VALID / "solutions" / "fixers" / "fixer.yml"), str(VALID)]) == 0
    assert "a formula, in order" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", "plain.yml:1:1: the file is empty"),
        ("colour: red\nsize: 4\n", "plain.yml:1:1: no record is like this"),
        ("- a\n- b\n", "plain.yml:1:1: no record is like this"),
        ('id: "x', "plain.yml:1:5: a quote is never closed"),
        ("<html>", "plain.yml:1:1: no record is like this"),
    ],
)
def test_what_is_no_record_is_said(text: str, line: str, tmp_path: Path, capsys: Capture) -> None:
    code, lines = said(text, tmp_path, capsys)
    assert code == 1
    assert lines[0].startswith(line)


def test_a_file_that_is_not_there_is_said(tmp_path: Path, capsys: Capture) -> None:
    assert main(["check", str(tmp_path / "none.yml"), str(VALID)]) == 1
    assert "none.yml:1:1: the file cannot be read: No such file or directory" in capsys.readouterr().out
