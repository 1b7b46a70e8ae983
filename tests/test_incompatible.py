"""What must not meet: the known cases of the trade, inside a formula, between baths, and on the page."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from reckoner.calc.hazards.incompatible import keep_away, meetings
from reckoner.calc.results import Results
from reckoner.records.catalogue import Catalogue
from reckoner.warn import neighbour_warnings
from site_build import Site
from small import chemical, formula, page_text, results

ROOT = Path(__file__).parent.parent

#: Cases of the trade: what meets what, how grave, and a word of what happens. Common practice; acetic acid with bleach
#: (below) from The Darkroom Cookbook, 3rd ed., p. 171.
MEET = [
    ("sulfuric-acid", "potassium-ferricyanide", "danger", "cyanide"),
    ("acetic-acid", "potassium-ferricyanide", "danger", "cyanide"),
    ("citric-acid", "potassium-ferricyanide", "danger", "cyanide"),
    ("sulfuric-acid", "potassium-permanganate", "danger", "explodes"),
    ("sodium-chloride", "potassium-permanganate", "danger", "Chlorine"),
    ("formaldehyde", "potassium-permanganate", "danger", "Violent"),
    ("acetic-acid", "sodium-sulfite", "caution", "Sulfur dioxide"),
    ("citric-acid", "sodium-thiosulfate", "caution", "Sulfur"),
    ("acetic-acid", "sodium-sulfide", "danger", "Hydrogen sulfide"),
    ("acetic-acid", "sodium-carbonate", "caution", "Carbon dioxide"),
    ("potassium-permanganate", "propylene-glycol", "danger", "Fire"),
    ("potassium-dichromate", "hydroquinone", "danger", "Fire"),
    ("sodium-persulfate", "sodium-thiosulfate", "danger", "Heat"),
    ("sodium-hydroxide", "ammonium-bromide", "caution", "Ammonia"),
    ("ferric-ammonium-edta", "ammonium-thiosulfate", "caution", "iron salt last"),
]


@pytest.mark.parametrize(("one", "other", "severity", "word"), MEET)
@pytest.mark.parametrize("turned", [False, True])
def test_known_cases(demo: Catalogue, one: str, other: str, severity: str, word: str, turned: bool) -> None:
    assert demo.incompatibilities is not None
    left, right = (other, one) if turned else (one, other)
    found = [m for m in meetings([left], [right], demo.incompatibilities) if word in m.pair.result]
    assert [m.pair.severity for m in found] == [severity]


#: What stands in no catalogue: chlorine bleach and aluminium.
OUTSIDE = [
    ("ammonium-thiosulfate", "chlorine bleach", "Chloramines"),
    ("sodium-thiosulfate", "chlorine bleach", "toxic gas"),
    ("potassium-ferricyanide", "chlorine bleach", "cyanogen chloride"),
    ("potassium-permanganate", "chlorides", "Chlorine"),
    ("sodium-hydroxide", "used fixer", "fulminating silver"),
    ("acetic-acid", "chlorine bleach", "Chlorine"),
    ("sodium-hydroxide", "aluminium", "Hydrogen"),
]


@pytest.mark.parametrize(("chemical_id", "other", "word"), OUTSIDE)
def test_household_things_to_keep_away(demo: Catalogue, chemical_id: str, other: str, word: str) -> None:
    assert demo.incompatibilities is not None
    found = [m for m in keep_away([chemical_id], demo.incompatibilities) if m.right[0].startswith(other)]
    assert any(word in m.pair.result and m.pair.severity == "danger" for m in found)


def test_what_is_in_both_groups_does_not_meet_itself(demo: Catalogue) -> None:
    table = demo.incompatibilities
    assert table is not None
    pair = table.pairs[0].model_copy(update={"groups": ("strong-acids", "strong-acids")})
    both = table.model_copy(update={"pairs": (pair,)})
    assert meetings(["sulfuric-acid"], ["sulfuric-acid"], both) == ()
    assert len(meetings(["sulfuric-acid"], ["phosphoric-acid"], both)) == 1


def test_two_harmless_chemicals_do_not_meet(demo: Catalogue) -> None:
    assert demo.incompatibilities is not None
    assert meetings(["borax"], ["sodium-sulfate"], demo.incompatibilities) == ()


TABLE = (
    "groups:\n  - {id: a, name: acids, chemicals: [acid]}\n  - {id: b, name: ferricyanide, chemicals: [ferri]}\n"
    "pairs:\n  - {groups: [a, b], result: Hydrogen cyanide., severity: danger, certainty: common practice}\n"
    "source: {certainty: common practice, checked: 2026-11-25}\n"
)


def stepped(*steps: str) -> str:
    return (
        "id: all\nname: all\nkind: paper\ndarkness: none\ncautions: [gloves]\nsteps:\n"
        + "".join(f"  - {{{step}, light: room light, certainty: common practice}}\n" for step in steps)
        + "source: {certainty: common practice, checked: 2026-11-25}\n"
    )


STOP = "name: Stop, kind: bath, baths: [{formula: stop, certainty: common practice}]"
BLEACH = "name: Bleach, kind: bath, baths: [{formula: bleach, certainty: common practice}]"
FILES = {
    "chemicals/acid.yml": chemical("acid", "[{id: solid, name: solid, formula: C6H8O7}]"),
    "chemicals/ferri.yml": chemical("ferri", "[{id: solid, name: solid, formula: 'K3[Fe(CN)6]'}]"),
    "solutions/a/stop.yml": formula("stop", "[{chemical: acid, form: solid, amount: 15 g}]"),
    "solutions/a/bleach.yml": formula("bleach", "[{chemical: ferri, form: solid, amount: 40 g}]"),
    "incompatibilities.yml": TABLE,
}


@pytest.mark.parametrize(
    ("between", "warned"),
    [
        ((), True),
        (("name: Wash, kind: wash",), False),
        (("name: Rinse, kind: rinse",), False),
        (("name: Wash, kind: wash, optional: yes",), True),
        (("name: Wash, kind: wash, only_for: film with rem-jet",), True),
        (("name: Wait, kind: handling",), True),
    ],
)
def test_a_missing_wash_between_baths_that_must_not_meet(between: tuple[str, ...], warned: bool) -> None:
    made = results({**FILES, "processes/all.yml": stepped(STOP, *between, BLEACH)})
    said = [str(problem) for problem in neighbour_warnings(made)]
    expected = (
        "formulas/processes/all.yml:7:5: stop and bleach follow one another without a wash: Hydrogen cyanide. "
        "(put a wash between them)"
    )
    assert said == ([expected] if warned else [])


def test_the_demonstration_has_no_dangerous_neighbours(demo_results: Results) -> None:
    assert neighbour_warnings(demo_results) == ()
    # Yet the check looked at real neighbours: an acid stop before a fixer is met with care.
    assert any(pairs for pairs in demo_results.neighbours.values())


def test_an_acid_stop_s_page_names_ferricyanide(site: Site) -> None:
    for stop in ("stop-acetic", "stop-citric", "ecn2-stop-acetic", "ecn2-stop"):
        page = site.page(f"solutions/{stop}")
        assert "ferricyanide" in page[page.index('id="keep-it-away-from"') :].partition("<h2")[0], stop


def test_findings_stand_on_the_pages_concerned(site: Site) -> None:
    bleach = site.page("solutions/ecn2-bleach")
    assert re.search(r"Danger: Potassium ferricyanide</strong> with <strong>strong acids", bleach)
    assert "Hydrogen cyanide" in site.page("keep-apart")
    assert "Carry-over hazards" in site.page("processes/black-and-white-negative")


def test_local_disposal_rules_and_their_day_stand_where_a_bath_is_spent(site: Site) -> None:
    assert "first Saturday of a month" in site.page("solutions/fixer-rapid")
    assert "read 5 Oct 2026" in site.page("solutions/fixer-rapid")
    assert "No rule recorded for this class: ask." in site.page("solutions/bw-mq-borax")


def test_one_table_speaks_on_every_page(site: Site) -> None:
    """A chemical's page, the page of all pairs, a bath's page, its bench sheet and its label."""
    words = "Hydrogen cyanide"
    assert words in site.page("chemicals/potassium-ferricyanide")
    assert words in site.page("solutions/ecn2-bleach")
    for page in ("bench/ecn2-bleach", "labels/ecn2-bleach"):
        said = re.search(r"Never (?:together )?with:? [^<]*", site.page(page))
        assert said is not None, page
        for group in ("acids", "chlorine bleach"):
            assert group in said[0], page
    assert "Keep apart:</strong> none known" in site.page("chemicals/sodium-sulfate")


def test_what_a_bath_holds_by_design(site: Site) -> None:
    inside = site.page("solutions/c41-developer").partition('id="inside-this-bath"')[2]
    assert "By design: ventilate." in inside.partition("<h2")[0]
    assert "solid or concentrate" in site.page("chemicals/hydroxylamine-sulfate")
    assert "by design in a colour developer: ventilate" in site.page("keep-apart")


def test_a_list_that_must_never_meet_stops_and_one_by_design_does_not() -> None:
    pair = "{groups: [a, b], result: Hydrogen cyanide., severity: danger, certainty: common practice"
    both = "[{chemical: acid, form: solid, amount: 15 g}, {chemical: ferri, form: solid, amount: 40 g}]"
    files = {**FILES, "solutions/a/both.yml": formula("both", both)}
    meant = TABLE.replace(
        "certainty: common practice}\nsource", "by_design: {purposes: [fixer], why: So}, certainty: published}\nsource"
    )
    jars = TABLE.replace(
        "certainty: common practice}\nsource", "states: [solid or concentrate], certainty: published}\nsource"
    )
    assert pair in TABLE
    for table, stops in ((TABLE, True), (meant, False), (jars, False)):
        found = results({**files, "incompatibilities.yml": table})
        for page in ("solutions/both.md", "bench/both.md"):
            assert ("Stop" in page_text(found, page)) == stops, (table, page)
