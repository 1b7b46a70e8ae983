"""What to do in an accident: one page, in reach of every other, and the same times wherever an eye is meant."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest

from reckoner.calc.results import Results
from reckoner.pages.safety.accident_view import accident_view
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.shared.render import render
from reckoner.records.settings import PoisonCentre
from site_build import Site


def test_every_page_s_header_leads_there(site: Site) -> None:
    """But the labels', which have no header and a line of their own, and pages that only lead on to another."""
    pages = [p for p in site.folder.rglob("index.html") if "md-header" in p.read_text("utf-8")]
    assert len(pages) > 200
    for page in pages:
        header = page.read_text("utf-8").partition("</header>")[0]
        link = re.search(r'<a class="hb-help" href="([^"]+)">Accident</a><label class="[^"]+" for="__search">', header)
        assert link, page
        assert header.count("hb-help") == 1, page
        assert (page.parent / link.group(1)).resolve() == (site.folder / "accident").resolve(), page


@pytest.mark.parametrize(
    "page", ["solutions/ecn2-bleach", "processes/motion-picture-colour-negative-home", "chemicals/cd-3"]
)
def test_the_box_of_cautions_begins_with_it(site: Site, page: str) -> None:
    box = site.page(page).partition('<div class="hb-warn" role="note">\n<p><strong>In an accident')
    assert box[1], page
    assert '../../accident/">what to do</a>' in box[2][:120]


def test_labels_on_the_screen_lead_there(site: Site) -> None:
    assert '<a href="../../accident/">In an accident</a>' in site.page("labels/ecn2-stop")


def test_eyes_are_rinsed_as_long_on_every_page(site: Site) -> None:
    both = "several minutes at least; fifteen is the usual advice (common practice)"
    for page in ("accident", "safety", "solutions/ecn2-bleach", "chemicals/sodium-hydroxide"):
        assert both in " ".join(site.page(page).split()), page
    assert "at least fifteen" not in site.page("safety")


def test_a_chemical_says_what_it_asks_for(site: Site) -> None:
    page = site.page("chemicals/potassium-dichromate")
    said = page[page.index('id="in-an-accident"') :]
    assert "IF SWALLOWED: Immediately call" in said
    assert "P303+P361+P353" in said


def test_the_owner_s_poison_centre_stands_on_top(demo_results: Results) -> None:
    show = Display(demo_results.catalogue.settings.locale)
    without = render("accident.md.jinja", accident_view(PageWriter(demo_results, show, Links("accident.md"))))
    assert "No number is recorded" in without
    centre = PoisonCentre.model_validate(
        {"name": "Poison line of Aldermere (invented)", "number": "+00 000 111", "checked": "2026-11-25"}
    )
    settings = demo_results.catalogue.settings.model_copy(update={"poison_centre": centre})
    named = replace(demo_results, catalogue=replace(demo_results.catalogue, settings=settings))
    said = unescape(render("accident.md.jinja", accident_view(PageWriter(named, show, Links("accident.md")))))
    assert '<a href="tel:+00000111">+00 000 111</a>' in said
    assert "No number is recorded" not in said
