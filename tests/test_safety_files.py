"""A data folder without its safety texts is told so: file by file, and a strict build fails."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from bad_input import VALID
from handbook_command.command import main
from reckoner.warn.safety import SAFETY_FILES
from site_build import build_here
from test_another_handbook import another

pytestmark = pytest.mark.usefixtures("fixed_day")
#: A valid file of each kind without an entry, where its record allows that.
EMPTY = {"look_alikes": "groups: []\nsource: {certainty: common practice, checked: 2026-11-25}\n"}


def said(folder: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, list[str]]:
    code = main(["check", str(folder)])
    return code, capsys.readouterr().out.splitlines()


def test_every_missing_file_is_named_with_what_is_lost(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A fresh folder: chemicals, a formula and settings, and nothing else."""
    folder = tmp_path / "formulas"
    shutil.copytree(VALID, folder)
    for file in SAFETY_FILES:
        (folder / f"{file.kind}.yml").unlink()
    code, lines = said(folder, capsys)
    assert code == 0
    assert len(lines) == len(SAFETY_FILES) + 1
    for kind in ("cautions", "hazard_phrases", "look_alikes", "incompatibilities", "control_tests"):
        assert any(line.startswith(f"formulas/{kind}.yml:1:1: the file is missing: ") for line in lines), kind
        assert any(line.endswith(f"(add {kind}.yml) [warning]") for line in lines), kind
    assert "with 5 warnings above" in lines[-1]


@pytest.mark.parametrize("kind", [file.kind for file in SAFETY_FILES])
def test_an_empty_file_never_passes(kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing in it, comments only, or an empty list: an error or a warning at the file."""
    for number, text in enumerate(("", "# to be filled in\n", EMPTY.get(kind, f"{kind}: []\n"))):
        folder = tmp_path / str(number) / "formulas"
        shutil.copytree(VALID, folder)
        (folder / f"{kind}.yml").write_text(text, "utf-8")
        code, lines = said(folder, capsys)
        assert code == 1 or "warning" in lines[-1]
        assert any(line.startswith(f"formulas/{kind}.yml:") for line in lines)


@pytest.mark.process
def test_a_strict_build_of_a_folder_without_cautions_fails(tmp_path: Path) -> None:
    root = another(tmp_path / "ours")
    (root / "recipes" / "cautions.yml").unlink()
    built = build_here(root / "site", "--strict", root=root)
    assert built.exit_code == 1
    assert "recipes/cautions.yml:1:1: the file is missing" in built.log
