"""Commands as they are printed: each with the interpreter that has the handbook's packages."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from reckoner.records.catalogue import Catalogue
from site_build import ROOT

SAID = [
    ROOT / "README.md",
    *sorted((ROOT / "handbook").glob("*.md")),
    *sorted((ROOT / "formulas" / "library" / "pages").glob("*.md")),
    *sorted((ROOT / "hooks").rglob("*.jinja")),
    *sorted((ROOT / "hooks").rglob("*.py")),
]


@pytest.mark.parametrize("path", SAID, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_a_script_is_named_with_its_interpreter(path: Path) -> None:
    text = path.read_text("utf-8")
    assert re.findall(r"(?<!\.venv/bin/)python3? (?:\./)?hooks/\w+\.py", text) == []


def test_some_are_named() -> None:
    assert sum(".venv/bin/python hooks/check.py" in path.read_text("utf-8") for path in SAID) >= 4


@pytest.mark.process
@pytest.mark.parametrize("script", ["check.py", "from_table.py"])
def test_it_runs_from_any_folder(script: str, tmp_path: Path) -> None:
    done = subprocess.run([sys.executable, str(ROOT / "hooks" / script)], cwd=tmp_path, capture_output=True, text=True)
    assert "Traceback" not in done.stderr and done.stdout


@pytest.mark.parametrize(
    ("name", "chemical"),
    [
        ("elon", "metol"),
        ("hypo", "sodium-thiosulfate"),
        ("washing soda", "sodium-carbonate"),
        ("baking soda", "sodium-bicarbonate"),
        ("quinol", "hydroquinone"),
        ("lye", "sodium-hydroxide"),
    ],
)
def test_names_of_the_house_and_of_old_books(demo: Catalogue, name: str, chemical: str) -> None:
    record = demo.chemicals[chemical]
    known = [*record.synonyms, *(one.name for one in record.household)]
    assert any(name == one.lower() for one in known), known
