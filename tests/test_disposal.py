"""Where used baths go: one sentence of each class, and of two rules the stricter."""

from __future__ import annotations

import re

from reckoner.calc.results import Results
from reckoner.pages.safety.apart_view import WATER_LIFE
from site_build import Site


def spent(site: Site, formula: str) -> str:
    page = site.page(f"solutions/{formula}")
    return page[page.index("When it is spent (") :].partition("</p>")[0]


def test_no_page_says_both(demo_results: Results, site: Site) -> None:
    drained = 0
    for formula, result in demo_results.formulas.items():
        said, page = spent(site, formula), site.page(f"solutions/{formula}").lower()
        drain = "small amounts go down a drain" in page
        drained += drain
        assert not (drain and "not down a drain" in page), formula
        assert not (drain and "Collect it" in said), formula
        assert said.count("Collect it") <= 1, formula
        assert "where complex cyanides are regulated" not in said
        if WATER_LIFE & {finding.h for finding in result.hazards.findings} or result.formula.disposal_collect:
            assert not drain, formula
    assert drained > 10


def test_the_baths_that_contradicted_themselves(site: Site) -> None:
    for formula in (
        "ecn2-developer",
        "ecn2-developer-home",
        "c41-developer",
        "c41-bleach",
        "ecn2-bleach",
        "e6-reversal",
    ):
        assert "Collect it, always." in spent(site, formula), formula
    permanganate = spent(site, "bleach-permanganate")
    assert "sulfur dioxide" in permanganate
    assert len(re.findall("colourless", permanganate)) == 1
