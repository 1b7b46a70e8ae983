"""Words about a danger against the classes that are recorded: never milder, stricter only where the text names whose
word it is. The grades of the words are those of the hazard statements of Regulation (EC) No 1272/2008, Annex III.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from data_layers import LIBRARY
from reckoner.calc.hazards.claims import claims, sourced
from reckoner.calc.results import Results
from reckoner.records.catalogue import Catalogue
from reckoner.warn.words import Wordings, worded_otherwise
from small import SOURCE, chemical, formula, results

PAGES = LIBRARY / "pages"


def test_no_text_of_the_demo_says_less_than_its_record(demo_results: Results) -> None:
    assert [str(problem) for problem in worded_otherwise(demo_results)] == []


@pytest.mark.parametrize("page", sorted(PAGES.rglob("*.md")), ids=lambda path: path.name)
def test_no_prose_of_the_handbook_says_less(page: Path, demo_results: Results) -> None:
    """Where it names a chemical: the handbook's own pages are Markdown, so each line is a text."""
    wordings = Wordings(demo_results)
    faults = [fault for line in page.read_text("utf-8").splitlines() for fault in wordings.faults(line, None)]
    assert faults == []


#: (text, statements of the chemical, is it warned of): H350 "May cause cancer", H351 "Suspected of causing cancer" and
#: so on, Annex III; the categories of acute toxicity are "fatal" (1, 2), "toxic" (3) and "harmful" (4), table 3.1.3.
ROWS = [
    ("Suspected of causing cancer.", "Carc. 1B H350", True),
    ("Suspected of causing cancer.", "Carc. 2 H351", False),
    ("Can cause cancer.", "Carc. 2 H351", True),
    ("Can cause cancer.", "Carc. 1B H350", False),
    ("A carcinogen.", "Carc. 2 H351", True),
    ("Suspected of genetic damage.", "Muta. 1B H340", True),
    ("Suspected of harm to the unborn child.", "Repr. 1B H360FD", True),
    ("May harm the unborn child.", "Repr. 2 H361d", True),
    ("It sensitises the skin.", "Eye Irrit. 2 H319", True),
    ("It sensitises the skin.", "Skin Sens. 1B H317", False),
    ("It can start a lasting allergy.", "Eye Irrit. 2 H319", True),
    ("It is a sensitiser of skin and airways.", "Skin Sens. 1 H317", True),
    ("It is a sensitiser of skin and airways.", "Resp. Sens. 1 H334", False),
    ("Toxic if swallowed.", "Acute Tox. 4 H302", True),
    ("Harmful if swallowed.", "Acute Tox. 4 H302", False),
    ("Harmful if swallowed.", "Acute Tox. 3 H301", True),
    ("Toxic if breathed in.", "Acute Tox. 2 H330", True),
    ("It is toxic.", "Acute Tox. 4 H312", True),
    ("It is harmful.", "Acute Tox. 3 H311", True),
    ("A poison.", "Acute Tox. 4 H302", True),
    ("A poison.", "Acute Tox. 1 H310", False),
    ("Irritates the eyes.", "Eye Dam. 1 H318", True),
    ("Irritates the eyes.", "Eye Irrit. 2 H319", False),
    ("Irritates the skin.", "Skin Corr. 1B H314", True),
    ("Burns skin and eyes.", "Skin Irrit. 2 H315", True),
    ("Harmful to water life.", "Aquatic Chronic 1 H410", True),
    ("Toxic to water life.", "Aquatic Chronic 3 H412", True),
    # Whose word it is stands in the text: such a text may be stricter, and still not milder.
    ("Some suppliers' sheets call it a skin sensitiser.", "Eye Irrit. 2 H319", False),
    ("Some suppliers' sheets say: harmful if swallowed.", "Acute Tox. 3 H301", True),
    # Of a gas, of another bath or of an illness: no claim on the substance.
    ("With acid it gives off a toxic gas.", "Eye Irrit. 2 H319", False),
    ("Anyone with a sulfite allergy should leave it to someone else.", "Eye Irrit. 2 H319", False),
    ("Wear gloves.", "Carc. 1B H350", False),
]


@pytest.mark.parametrize(("text", "classed", "warned"), ROWS)
def test_a_text_against_a_class(text: str, classed: str, warned: bool) -> None:
    warnings = worded_otherwise(book(text, classed))
    assert bool(warnings) == warned, warnings
    assert all(str(warning).startswith("formulas/chemicals/stuff.yml:") for warning in warnings)


def book(text: str, classed: str, more: str = "", tables: dict[str, str] | None = None) -> Results:
    """A handbook of one chemical with one class, its caution, and a bath of it."""
    hazard, h = classed.rsplit(" ", 1)
    record = f"hazards: [{{forms: [solid], classes: [{{hazard: {hazard}, h: {h}}}], jurisdiction: GB, edition: a table,"
    file = chemical("stuff", "[{id: solid, name: solid}]") + f"{record} status: harmonised, {SOURCE}}}]\n"
    return results(
        {
            "chemicals/stuff.yml": file + f'cautions: ["{text}"]\n',
            "solutions/bath.yml": formula("bath", "[{chemical: stuff, form: solid, amount: 20 g}]", more=more),
            **(tables or {}),
        }
    )


def test_a_formula_is_judged_by_the_chemical_that_it_names_and_by_its_bath() -> None:
    """ "Stuff is suspected …" is said of stuff, whatever else is in the bath."""
    warnings = worded_otherwise(book("Gloves.", "Carc. 1B H350", 'notes: ["Stuff is suspected of causing cancer."]\n'))
    assert [str(warning).split(": ")[0] for warning in warnings] == ["formulas/solutions/bath.yml:10:9"]
    assert "H350" in str(warnings[0])
    unnamed = worded_otherwise(book("Gloves.", "Carc. 1B H350", 'notes: ["It is suspected of causing cancer."]\n'))
    assert len(unnamed) == 1


def test_words_keep_to_their_clause() -> None:
    """Toxic through skin and harmful if swallowed: two grades, two routes."""
    said = {(claim.wanted) for claim in claims("Toxic through the skin and harmful if swallowed; irritates eyes")}
    assert said == {"H311", "H302", "H319"}
    assert not sourced("Toxic through the skin")


def test_whatever_can_sensitise_says_so_on_its_line(demo_results: Results) -> None:
    """Every jar with H317 or H334 in every formula, by its label: nothing depends on a list of names."""
    catalogue, seen = demo_results.catalogue, set()
    for result in demo_results.formulas.values():
        for (index, number), cautions in result.cautions.ingredients.items():
            line = result.formula.ingredients[index]
            item = (line, *line.alternatives)[number]
            record = catalogue.chemicals[item.chemical].hazards_of(item.form) if item.chemical and item.form else None
            codes = {entry.h for entry in record.classes} if record else set()
            said = " ".join(caution.text for caution in cautions)
            above = " ".join(caution.text for caution in result.cautions.ingredients[index, 0])
            if "H317" in codes:
                seen.add(item.chemical)
                assert "can sensitise the skin" in said + above, (result.formula.id, item.chemical)
            if "H334" in codes:
                assert "can sensitise the airways" in said + above, (result.formula.id, item.chemical)
    assert {"stannous-chloride", "sodium-formaldehyde-bisulfite", "metol", "cd-3", "formaldehyde"} <= seen


@pytest.mark.parametrize("name", ["stannous-chloride", "amidol", "hexamine", "sodium-formaldehyde-bisulfite"])
def test_the_page_of_a_sensitiser_says_so(name: str, demo_pages: Mapping[str, str]) -> None:
    assert "Skin sensitiser: it can start a lasting allergy" in demo_pages[f"chemicals/{name}.md"]


@pytest.mark.parametrize(
    ("classed", "words"), [("Skin Sens. 1 H317", "the skin"), ("Resp. Sens. 1 H334", "the airways")]
)
def test_a_chemical_of_the_owners_own_is_warned_of_by_its_class(classed: str, words: str, demo: Catalogue) -> None:
    """The demo's own cautions by statement, and a chemical that no list names."""
    assert demo.cautions is not None
    kept = [
        {"text": c.text, "at": c.at, "statements": list(c.statements), "certainty": c.certainty}
        for c in demo.cautions.cautions
        if {"H317", "H334"} & set(c.statements) and not c.chemicals and not c.groups
    ]
    made = book("Gloves.", classed, tables={"cautions.yml": f"cautions: {json.dumps(kept)}\n{SOURCE}\n"})
    said = " ".join(caution.text for caution in made.formulas["bath"].cautions.ingredients[0, 0])
    assert f"can sensitise {words}" in said


def test_the_page_of_a_chemical_words_its_classes(demo_pages: Mapping[str, str]) -> None:
    page = demo_pages["chemicals/catechol.md"]
    for words in ("It can cause cancer.", "It is suspected of causing genetic defects.", "It is toxic if swallowed."):
        assert words in page
    assert "sensitiser" not in page
