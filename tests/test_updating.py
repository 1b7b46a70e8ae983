"""The library under a handbook is updated: told first, taken over when asked, nothing of the owner's touched."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from data_layers import LIBRARY
from handbook_command.command import main
from reckoner.library_news import KEPT
from reckoner.write_schemas import all_schemas
from site_build import tree
from small import SETTINGS, SOURCE

Capture = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("fixed_day")


@pytest.fixture
def newer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the library that stands for the installed one, to be changed as a newer version would."""
    place = tmp_path / "site packages" / "library"
    shutil.copytree(LIBRARY, place)
    monkeypatch.setattr("reckoner.loading.layers.library_folder", lambda: place)
    return place


@pytest.fixture
def ours(tmp_path: Path, newer: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A handbook of one's own that changes a key of a chemical, with the library taken over."""
    folder = tmp_path / "our handbook"
    (folder / "formulas" / "chemicals").mkdir(parents=True)
    (folder / "mkdocs.yml").write_text("site_name: Ours\n", "utf-8")
    chosen = "library: {formulas: [bw-metol-sulfite]}"
    (folder / "formulas" / "settings.yml").write_text(f"{SETTINGS}{chosen}\n", "utf-8")
    change = f"id: sodium-sulfite\nchanges:\n  use: what I use it for\n{SOURCE}\n"
    (folder / "formulas" / "chemicals" / "sodium-sulfite.yml").write_text(change, "utf-8")
    monkeypatch.chdir(folder)
    assert main(["update"]) == 0
    return folder


def test_an_update_writes_the_schemas_and_what_it_took_over(capsys: Capture, ours: Path) -> None:
    said = capsys.readouterr().out.splitlines()
    assert sorted(said) == sorted([KEPT, *(f"schema/{name}" for name in all_schemas())])
    schemas = {name: (ours / "schema" / name).read_text("utf-8") for name in all_schemas()}
    assert schemas == all_schemas()
    kept = json.loads((ours / KEPT).read_text("utf-8"))["records"]
    assert {"chemical/metol", "formula/bw-metol-sulfite", "incompatibilities"} <= kept.keys()
    assert "chemical/citric-acid" not in kept
    assert main(["update"]) == 0
    assert capsys.readouterr().out == "nothing new\n"


def test_changes_are_told_until_they_are_taken_over(ours: Path, newer: Path, capsys: Capture) -> None:
    before = tree(ours / "formulas")
    for name, old, new in (
        ("library.yml", "version: ", "version: 9"),
        ("chemicals/metol.yml", "    h: H317", "    h: H317\n    effect: skin (invented)"),
        ("chemicals/sodium-sulfite.yml", "\nuse: ", "\nuse: newly "),
    ):
        text = (newer / name).read_text("utf-8")
        assert old in text
        (newer / name).write_text(text.replace(old, new, 1), "utf-8")
    capsys.readouterr()
    assert main(["changes"]) == 0
    head, danger, yours, last = capsys.readouterr().out.splitlines()
    assert head.startswith("Library 91.0.0 of ")
    assert head.endswith("taken over: 1.0.0. 2 changes for your pages.")
    assert danger == "  Danger: chemical metol, hazards: now classes effect skin (invented)"
    assert yours.startswith("  chemical sodium-sulfite, use: no longer ")
    assert yours.endswith(", where a record of yours stands")
    assert "update" in last
    assert main(["check"]) == 0
    assert "formulas/chemicals/sodium-sulfite.yml:3:8: the library changed: " in capsys.readouterr().out
    assert main(["update"]) == 0
    assert capsys.readouterr().out == f"{KEPT}\n"
    assert main(["check"]) == 0
    assert "the library changed" not in capsys.readouterr().out
    assert tree(ours / "formulas") == before


def test_copies_are_taken_out_when_asked_for(ours: Path, capsys: Capture) -> None:
    """A handbook that was a copy of everything becomes what is its owner's."""
    own = tree(ours / "formulas")
    for name in ("chemicals", "solutions", "processes"):
        shutil.copytree(LIBRARY / name, ours / "formulas" / name, dirs_exist_ok=True)
    shutil.copy(LIBRARY / "cautions.yml", ours / "formulas")
    changed = ours / "formulas" / "chemicals" / "metol.yml"
    changed.write_text(changed.read_text("utf-8").replace("\nuse: ", "\nuse: mine, "), "utf-8")
    mine = {"chemicals/metol.yml": tree(ours / "formulas")["chemicals/metol.yml"]}
    assert main(["update", "--take-out-copies"]) == 0
    del own["chemicals/sodium-sulfite.yml"]
    assert tree(ours / "formulas") == own | mine
    assert "formulas/cautions.yml taken out" in capsys.readouterr().out.splitlines()


def test_a_handbook_that_holds_the_library_takes_none_over(ours: Path, capsys: Capture) -> None:
    shutil.copytree(LIBRARY, ours / "formulas" / "library")
    with pytest.raises(SystemExit) as end:
        main(["update"])
    assert end.value.code == 2
    assert "no library comes with the engine for this handbook" in capsys.readouterr().err


def test_faults_are_told_and_nothing_is_written(ours: Path, capsys: Capture) -> None:
    shutil.rmtree(ours / "schema")
    (ours / "formulas" / "shelf.yml").write_text("bottels: []\n", "utf-8")
    capsys.readouterr()
    assert main(["update"]) == 1
    assert "formulas/shelf.yml:1:1: unknown key 'bottels'" in capsys.readouterr().out
    assert not (ours / "schema").exists()


def test_before_the_first_update_nothing_is_known(ours: Path, capsys: Capture) -> None:
    shutil.rmtree(ours / "schema")
    capsys.readouterr()
    assert main(["changes"]) == 0
    assert "never taken over here" in capsys.readouterr().out
