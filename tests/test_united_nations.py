"""Where the UN's GHS and CLP give different answers: both are worked out, and each is named."""

from __future__ import annotations

from typing import Any

import pytest

from hazard_cases import bath, classes, hazards
from reckoner.calc.hazards.classify import BathHazards
from reckoner.pages.shared.finding_words import value_words
from site_build import Site

HARMLESS = hazards()


def unclassed(value: str) -> Any:
    """A substance without a CLP class whose LD50 by mouth is known."""
    return hazards(acute=[{"way": "oral", "value": f"{value} mg/kg", "kind": "LD50", "source": "a test"}])


def harmful(value: str, statement: str = "Acute Tox. 4 H302") -> Any:
    return hazards(statement, acute=[{"way": "oral", "value": f"{value} mg/kg", "kind": "LD50", "source": "a test"}])


def beyond(result: BathHazards) -> dict[str, str]:
    return {finding.hazard: value_words(finding, str) for finding in result.elsewhere}


def test_unece_acute_example_a_by_both() -> None:
    """UNECE GHS guidance, acute toxicity example (a), ST/SG/AC.10/C.4/2008/23, annex 2, example 1 (read): the UN
    finds 1880 and category 4; CLP leaves the third ingredient out, 100 / (16/1600 + 4/200) = 3333: none."""
    result = bath(("16", harmful("1600")), ("4", harmful("200", "Acute Tox. 3 H301")), ("80", unclassed("3450")))
    assert classes(result) == set()
    assert beyond(result) == {"Acute Tox. 4": "ATE of the bath 1880.11"}
    assert result.elsewhere[0].h == "H302"


def test_unece_acute_example_c_by_both() -> None:
    """Example (c) of the same paper: 43425, no category by either."""
    result = bath(("4", harmful("1737")), ("5", HARMLESS), ("5", unclassed("5400")), ("86", HARMLESS))
    assert classes(result) == set()
    assert beyond(result) == {}


@pytest.mark.parametrize(("value", "five"), [("5000", True), ("5001", False), ("2001", True)])
def test_category_five_ends_at_5000(value: str, five: bool) -> None:
    """UN GHS table 3.1.1, from memory; CLP has no such category."""
    result = bath(("100", unclassed(value)))
    assert classes(result) == set()
    assert (beyond(result).keys() == {"Acute Tox. 5"}) == five


def test_where_both_agree_nothing_is_added() -> None:
    result = bath(("100", harmful("500")))
    assert classes(result) == {"Acute Tox. 4"}
    assert beyond(result) == {}


#: UN GHS table 4.1.1, from memory: the weighted sum, ten times it, a hundred times it, each against 25 %.
@pytest.mark.parametrize(
    ("share", "clp", "un"),
    [
        ("25", {"Aquatic Acute 1"}, set()),
        ("24.9", set(), {"Aquatic Acute 2"}),
        ("2.5", set(), {"Aquatic Acute 2"}),
        ("2.49", set(), {"Aquatic Acute 3"}),
        ("0.25", set(), {"Aquatic Acute 3"}),
        ("0.24", set(), set()),
    ],
)
def test_aquatic_acute_two_and_three(share: str, clp: set[str], un: set[str]) -> None:
    result = bath((share, hazards("Aquatic Acute 1 H400")))
    assert classes(result) == clp
    assert set(beyond(result)) == un


def test_the_page_names_whose_answer_it_is(site: Site) -> None:
    page = site.page("solutions/paper-mq-stock")
    assert "The UN system (GHS) has categories that CLP leaves out" in page
    assert "Aquatic Acute 2" in page or "Aquatic Acute 3" in page
    assert page.index("In the mixed bath") < page.index("The UN system (GHS)")


@pytest.mark.parametrize(("share", "five"), [("0.99", False), ("1", True), ("1.5", True)])
def test_an_ingredient_beyond_clp_counts_from_one_per_cent(share: str, five: bool) -> None:
    """UN GHS table 1.5.1, from memory. 9.8 % of 500 mg/kg alone is 5102; with 1 % of 2001 mg/kg it is 4975."""
    result = bath(("9.8", harmful("500")), (share, unclassed("2001")), ("89", HARMLESS))
    assert (beyond(result).keys() == {"Acute Tox. 5"}) == five
