"""The page on writing a formula says what the records say, and its lines to begin with are good ones."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import repeat
from pathlib import Path
from typing import get_args

import pytest

from handbook_command.begin import begin
from handbook_plugin.navigation import DEFAULT, paths
from reckoner.build import load_checked
from reckoner.checks import check
from reckoner.guide import BLANK, FITTING, guide_page, meanings, parts, records_inside, starts
from reckoner.loading.catalogue import build_catalogue
from reckoner.loading.examples import Examples
from reckoner.loading.files import DataFile
from reckoner.loading.kinds import FORMULA
from reckoner.loading.layers import read_layers
from reckoner.loading.source import parse_yaml
from reckoner.loading.structure import to_record
from reckoner.loading.writing import to_yaml
from reckoner.problems import Severity
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula, Purpose
from reckoner.records.values import Record
from site_build import ROOT, Site
from small import TODAY

CLASSES = list(records_inside(Formula))
#: Keys that stand only beside certain others.
NEED_OTHERS = {
    ("Formula", "dilution"),
    ("Formula", "of"),
    ("OtherTemperatures", "factor"),
    ("OtherTemperatures", "hold"),
}
#: What is written in place of each blank, by the key it stands behind.
FILLED = {
    "id": "my-{}",
    "name": "Mine {}",
    "citation": "A book, page 1",
    "certainty": "common practice",
    "checked": "2026-11-20",
    "start_water": "700 mL",
}


def test_every_chemical_of_the_library_stands_with_its_forms_chosen_or_not(tmp_path: Path) -> None:
    """Whoever installed a wheel has no files of the library to look into."""
    begin(tmp_path / "mine", TODAY)
    catalogue, _ = load_checked(tmp_path / "mine" / "formulas", TODAY)
    assert "potassium-ferricyanide" not in catalogue.chemicals, "this one is not chosen"
    text = guide_page(catalogue).markdown
    for chemical_id, chemical in catalogue.known_chemicals.items():
        forms = ", ".join(f"<code>{form.id}</code>" for form in chemical.forms)
        assert f"<code>{chemical_id}</code>: {forms}</li>" in text


def test_a_chemicals_page_says_how_files_name_its_forms(demo_pages: Mapping[str, str]) -> None:
    assert (
        "<code>chemical: metol</code>, with <code>form: sulfate</code> (Metol, powder)"
        in demo_pages["chemicals/metol.md"]
    )


@pytest.mark.parametrize("kind", CLASSES, ids=lambda kind: kind.__name__)
def test_every_key_says_what_it_is(kind: type[Record]) -> None:
    """In the docstring of its record, below Attributes."""
    assert [key for key, meaning in meanings(kind).items() if not meaning] == []


def test_every_key_has_its_example_and_a_mistake_that_is_really_answered() -> None:
    keys = [line for part in parts() for line in part.keys]
    assert len(keys) > 90
    assert [line.key for line in keys if not (line.written and line.example and line.message)] == []


@pytest.mark.parametrize("kind", CLASSES, ids=lambda kind: kind.__name__)
def test_the_examples_are_right(kind: type[Record]) -> None:
    """Each key's example is read without a fault at it; the slips beside them are answered, as above."""
    for key in (line.key for part in parts() if part.anchor == f"keys-{kind.__name__.lower()}" for line in part.keys):
        if (kind.__name__, key) in NEED_OTHERS:
            continue
        examples = Examples(fixed={**FITTING, "Source.certainty": "common practice"})
        tree = {**examples.record(kind, needed_only=True), key: examples.key(kind, key)}
        parsed = parse_yaml(to_yaml(tree), "x.yml")
        _, problems = to_record(parsed, kind)
        assert [p for p in problems if p.at == parsed.places.at(key) != parsed.places.at()] == []


def test_lines_to_begin_with_are_in_order_once_filled_in(demo: Catalogue) -> None:
    """All purposes put into the demonstration at once, with the amounts of a formula there that takes the same.

    Of the demonstration's own lines only those are named that were so before: their notes answer for them.
    """
    began = list(starts(demo))
    assert [one.purpose.lower() for one in began] == list(get_args(Purpose))
    files, _ = read_layers(ROOT / "formulas", "formulas")
    for number, one in enumerate(began):
        _, blank = to_record(parse_yaml(one.text, "blank.yml"), Formula)
        assert any(f"'{BLANK}'" in problem.message for problem in blank)
        amounts = usual_amounts(one.text, one.purpose.lower(), demo)
        text = "\n".join(filled(line, number, amounts) for line in one.text.splitlines())
        files.append(DataFile(f"formulas/solutions/mine/my-{number}.yml", FORMULA, text))
    catalogue, problems = build_catalogue(files, TODAY)
    before = {(problem.at, problem.severity) for problem in check(demo)}
    new = [p for p in (*problems, *check(catalogue)) if (p.at, p.severity) not in before]
    assert [str(problem) for problem in new] == []
    assert {severity for _, severity in before} == {Severity.NOTE}
    assert len(catalogue.formulas) == len(demo.formulas) + len(began)


def usual_amounts(text: str, purpose: str, demo: Catalogue) -> Iterator[str]:
    """Per litre, of the first formula for this purpose that takes the chemicals of a template; else any amount."""
    chemicals = re.findall(r"chemical: ([a-z0-9-]+)", text)
    for formula in demo.formulas.values():
        lines = [line for line in formula.ingredients if line.chemical and not line.optional]
        if formula.purpose == purpose and [line.chemical for line in lines] == chemicals:
            return iter([str(line.amount.base * 1000 / formula.makes.base) for line in lines])
    return repeat("1.5")


def filled(line: str, number: int, amounts: Iterator[str]) -> str:
    """A line of a template as somebody might fill it in."""
    key = line.strip(" -").partition(":")[0]
    if key in FILLED and BLANK in line:
        return f"{line.partition(':')[0]}: {FILLED[key].format(number)}"
    words = {"chemical": "borax", "form": "decahydrate"}
    word = next(amounts) if key == "amount" else words.get(key, "Some words")
    return line.replace(BLANK, word)


def test_the_page_stands_in_the_site(site: Site, demo: Catalogue) -> None:
    html = site.page("how-to-write")
    assert "'2,5' has a decimal comma (write 2.5)" in html
    assert "purpose: film developer" in html
    # Indentation is part of the lines: they are copied from the page.
    assert re.search(r"\ningredients:\n  - chemical: [a-z-]+\n    form: ", html)
    assert html.count("<dt>") == sum(len(part.keys) for part in parts())
    assert guide_page(demo).path == "how-to-write.md"
    assert "how-to-write.md" in paths(DEFAULT)
