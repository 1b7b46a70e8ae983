"""A handbook elsewhere: its own folder, names and pages, with the engine where it is; and data of another format."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from bad_input import VALID
from handbook_command.command import main
from reckoner.loading import catalogue as loading
from site_build import FIXED_DAY, ROOT, build_here

pytestmark = pytest.mark.process


def another(root: Path, data: str = "recipes") -> Path:
    """A handbook that has nothing but its data, one page and its mkdocs.yml; all else is the engine's."""
    (root / "pages").mkdir(parents=True)
    (root / "pages" / "about.md").write_text("# About us\n\nOur own words.\n", "utf-8")
    shutil.copytree(VALID, root / "recipes")
    (root / "mkdocs.yml").write_text(
        f"site_name: Another handbook\ndocs_dir: pages\nnav:\n  - index.md\n  - shelf.md\n  - about.md\n"
        f"theme:\n  name: material\n  custom_dir: {ROOT}/hooks/theme\n  font: false\n"
        f"plugins: [search]\nhooks: [{ROOT}/hooks/handbook_hooks.py]\nextra:\n  data: {data}\n"
        "markdown_extensions: [attr_list]\n",
        "utf-8",
    )
    return root


def test_a_handbook_elsewhere_uses_this_engine(tmp_path: Path) -> None:
    root = another(tmp_path / "ours")
    built = build_here(root / "site", "--strict", root=root)
    assert built.exit_code == 0, built.log
    assert "WARNING" not in built.log
    assert "Small handbook (invented)" in built.page("")
    assert "Our own words" in built.page("about")
    assert [formula["id"] for formula in built.figures["formulas"]] == ["fixer", "fixer-half"]


def test_its_faults_name_its_folder(tmp_path: Path) -> None:
    root = another(tmp_path / "ours")
    (root / "recipes" / "settings.yml").unlink()
    built = build_here(root / "site", root=root)
    assert built.exit_code == 1
    assert "recipes/settings.yml:1:1: the file is missing (add settings.yml)" in built.log


@pytest.mark.parametrize(
    ("data", "said"),
    [("nowhere", "nowhere:1:1: the folder is missing"), ("[a, b]", "extra.data in mkdocs.yml names no folder")],
)
def test_a_folder_that_is_not_there_is_said(data: str, said: str, tmp_path: Path) -> None:
    built = build_here(tmp_path / "ours" / "site", root=another(tmp_path / "ours", data))
    assert built.exit_code == 1
    assert said in built.log
    assert "Traceback" not in built.log


@pytest.mark.parametrize(("engine", "age"), [(1, "newer"), (3, "older")])
def test_data_of_another_format_are_told_that_and_nothing_else(
    engine: int, age: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Keys that this engine does not know, or misses, are no faults of data made for another."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", FIXED_DAY)
    monkeypatch.setattr(loading, "FORMAT", engine)
    data = tmp_path / "formulas"
    shutil.copytree(VALID, data)
    settings = (data / "settings.yml").read_text("utf-8")
    (data / "settings.yml").write_text(settings.replace("format: 1", "format: 2\nholograms: yes"), "utf-8")
    (data / "solutions" / "fixers" / "fixer.yml").write_text("something: else\n", "utf-8")
    assert main(["check", str(data)]) == 1
    assert capsys.readouterr().out == (
        f"formulas/settings.yml:1:9: format 2 is {age} than this engine, which reads format {engine} "
        "(take the engine that fits)\n1 error: not in order\n"
    )
