"""A newer library under a handbook: what changed of its pages is told, dangers first, until it is taken over."""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from data_layers import LIBRARY
from reckoner.build import load_checked
from reckoner.library_news import KEPT, library_notes, library_now
from reckoner.loading.source import parse_yaml
from reckoner.problems import Severity
from site_build import ROOT
from small import SETTINGS, SOURCE, TODAY

CHANGE = f"id: sodium-sulfite\nchanges:\n  use: what I use it for\n{SOURCE}\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The data of an own handbook with a library of its own beside it, taken over as it is."""
    data = tmp_path / "formulas"
    (data / "chemicals").mkdir(parents=True)
    shutil.copytree(LIBRARY, data / "library")
    (data / "settings.yml").write_text(f"{SETTINGS}library: {{formulas: [bw-metol-sulfite]}}\n", "utf-8")
    (data / "chemicals" / "sodium-sulfite.yml").write_text(CHANGE, "utf-8")
    (tmp_path / "schema").mkdir()
    (tmp_path / KEPT).write_text(library_now(data, load_checked(data, TODAY)[0]).text(), "utf-8")
    return data


def edited(folder: Path, file: str, edit: Callable[[str], str]) -> None:
    """Another text of a file of the library."""
    path = folder / "library" / file
    before = path.read_text("utf-8")
    path.write_text(edit(before), "utf-8")
    assert path.read_text("utf-8") != before


def told(folder: Path) -> list[tuple[Severity, str]]:
    """What a build says of a newer library."""
    return [(note.severity, str(note)) for note in library_notes(folder, load_checked(folder, TODAY)[0])]


def test_nothing_is_told_of_the_same_library(folder: Path) -> None:
    assert told(folder) == []


def test_dangers_come_first_and_an_own_record_warns(folder: Path) -> None:
    edited(folder, "library.yml", lambda text: text.replace("version: ", "version: 9"))
    edited(
        folder,
        "chemicals/metol.yml",
        lambda text: text.replace("    h: H317", "    h: H317\n    effect: skin (invented)", 1),
    )
    edited(folder, "chemicals/sodium-sulfite.yml", lambda text: text.replace("\nuse: ", "\nuse: newly "))
    edited(folder, "chemicals/metol.yml", lambda text: text.replace("\nuse: ", "\nuse: newly "))
    # Of what stands on no page of this handbook nothing is said.
    edited(folder, "chemicals/citric-acid.yml", lambda text: text.replace("\nuse: ", "\nuse: newly "))
    (_, head), *rest = told(folder)
    assert "library 91.0.0" in head
    assert "3 changes for your pages" in head
    assert [severity for severity, _ in rest] == [Severity.NOTE, Severity.WARNING, Severity.NOTE]
    assert rest[1][1].startswith("formulas/chemicals/sodium-sulfite.yml:3:8: the library changed: ")
    assert "chemical metol, hazards: now classes effect skin (invented)" in rest[0][1]
    assert "citric" not in str(rest)


def test_a_spoiled_file_is_told_and_stops_nothing(folder: Path) -> None:
    (folder.parent / KEPT).write_text("{", "utf-8")
    ((severity, line),) = told(folder)
    assert (severity, line.split(": ")[0]) == (Severity.WARNING, f"{KEPT}:1:1")


def test_the_library_has_the_version_of_the_package() -> None:
    stated = parse_yaml((LIBRARY / "library.yml").read_text("utf-8"), "library.yml").tree
    package = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"]
    assert isinstance(stated, dict)
    assert stated["version"] == package
