"""Commands as they are printed: each with the folder of the handbook's packages, and with words that it knows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook_command.command import parser
from reckoner.records.catalogue import Catalogue
from site_build import ROOT

SAID = [
    ROOT / "README.md",
    *sorted((ROOT / "handbook").glob("*.md")),
    *sorted((ROOT / "formulas" / "library" / "pages").glob("*.md")),
    *sorted((ROOT / "hooks").rglob("*.jinja")),
    *sorted((ROOT / "hooks").rglob("*.py")),
]
#: The command with its words, to the end of the line or of the marked-up text.
PRINTED = re.compile(r"(?<=\.venv/bin/formula-handbook )[^`<\n]+")


@pytest.mark.parametrize("path", SAID, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_no_script_is_named_without_its_interpreter(path: Path) -> None:
    text = path.read_text("utf-8")
    assert re.findall(r"(?<!\.venv/bin/)python3? (?:\./)?hooks/\w+\.py", text) == []


def test_each_command_that_is_printed_has_words_that_it_knows() -> None:
    printed = [words for path in SAID for words in PRINTED.findall(path.read_text("utf-8"))]
    assert len(printed) >= 4
    for words in printed:
        parser().parse_args(words.split())


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
