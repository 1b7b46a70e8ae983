"""Words on every bottle label of the demonstration: none reads as an all-clear, each names what is in the bottle."""

from __future__ import annotations

import re
from html import unescape

from reckoner.calc.results import Results
from site_build import Site


def label(site: Site, formula: str) -> str:
    """One copy of a formula's label."""
    page = unescape(site.page(f"labels/{formula}"))
    return page[page.index('<section class="hb-label">') :].partition("</section>")[0]


def test_every_label_has_hazard_words_or_says_that_none_is_not_harmless(demo_results: Results, site: Site) -> None:
    silent = 0
    for formula, result in demo_results.formulas.items():
        said = label(site, formula)
        assert "Goggles and gloves." in said, formula
        if not result.hazards.label.statements:
            silent += 1
            words = (
                "Not assessed" if result.hazards.unknown else "No class reached by calculation, which is not the same"
            )
            assert words in said, formula
    assert silent > 10


def test_every_label_names_the_contents_that_have_a_class(demo_results: Results, site: Site) -> None:
    for formula, result in demo_results.formulas.items():
        said = label(site, formula)
        assessed = [part for part in result.hazards.composition.substances if part.hazards]
        assert ("Contains " in said) >= bool(assessed), formula
        for part in assessed:
            assert part.hazards is not None
            if part.hazards.classes or part.hazards.euh:
                name = demo_results.catalogue.chemicals[part.chemical].name.partition(" (")[0]
                assert name in said.partition("Contains ")[2], (formula, name)


def test_the_contents_that_were_missing(site: Site) -> None:
    assert "Sulfuric acid" in label(site, "ecn2-stop")
    assert "Potassium permanganate" in label(site, "bleach-permanganate")
    assert "Pyrogallol" in label(site, "bw-pyro-metol-working")


def test_labels_carry_the_cautions_of_the_trade(site: Site) -> None:
    for stop in ("stop-acetic", "ecn2-stop-acetic", "stop-citric", "ecn2-stop"):
        assert "An acid: keep it from ferricyanide, sulfide and chlorine bleach." in label(site, stop), stop
    for alkaline in ("bw-pyro-soda-working", "bw-pyro-soda-1"):
        assert "An acid" not in label(site, alkaline), alkaline
    # A bleach-fix of pH 6.5 is no acid, and yet it names what it must not meet.
    assert "An acid" not in label(site, "blix")
    assert "Never with ferricyanide, sulfide, oxidisers, chlorine bleach" in label(site, "blix")
    assert "Keep it from acids and chlorine bleach." in label(site, "ecn2-bleach")
    assert "Keep it from developers" in label(site, "cyanotype-peroxide")
    assert "Hazard data of 25 Nov 2026." in label(site, "ecn2-stop")


def test_what_must_not_meet_is_named(demo_results: Results, site: Site) -> None:
    """ "Others" alone names nothing: two names at least, where there are two."""
    for formula, result in demo_results.formulas.items():
        said = label(site, formula)
        never = said.partition("Never with ")[2].partition(".")[0]
        if result.never_with and never:
            assert not never.startswith("others"), formula
    assert "Never with hydroxylamine, formaldehyde bisulfite, others (see its page)." in label(
        site, "ecn2-prebath-soda"
    )


def test_prohibitions_of_the_formula_itself_stand_on_its_label(site: Site) -> None:
    assert "Never join parts A and B without the water." in label(site, "bw-pyrocatechin-b")


def test_what_a_bath_holds_by_design_is_forbidden_beyond_that_only(site: Site) -> None:
    """Acid and permanganate make this bleach; more of them, their jars and their waste stay a danger."""
    beyond = "Beyond what it holds or its own step joins it with, never with"
    for page in ("solutions", "bench"):
        working = unescape(site.page(f"{page}/bleach-permanganate"))
        never = working.partition("Never together with: ")[2].partition(".")[0]
        assert "chlorides" in never and "permanganate" not in never and "strong acids" not in never
        more = working.partition(f"{beyond}, nor with their jars or waste: ")[2].partition(".")[0]
        assert "strong acids" in more and "permanganate" in more
        part = unescape(site.page(f"{page}/bleach-permanganate-b"))
        assert "permanganate" not in part.partition("Never together with: ")[2].partition(".")[0].split("; ")
        assert f"{beyond}, nor with their jars or waste: permanganate." in part
        persulfate = unescape(site.page(f"{page}/ecn2-bleach-persulfate"))
        assert "acids" in persulfate.partition(f"{beyond}, nor with their jars or waste: ")[2].partition(".")[0]
    assert f"{beyond}: permanganate." in label(site, "bleach-permanganate-b")


def test_no_group_is_lost_from_the_warning(demo_results: Results, site: Site) -> None:
    for formula, result in demo_results.formulas.items():
        page = unescape(site.page(f"solutions/{formula}"))
        sentences = re.findall(r"<strong>((?:Never together with|Beyond what it holds).*?)</strong>", page)
        for group in result.never_with:
            assert any(group.name in sentence for sentence in sentences), (formula, group.id)


def test_acid_is_forbidden_in_one_voice(site: Site) -> None:
    """A list that asks for none says never; only one that holds acid itself names the step."""
    for formula in ("toner-sepia-sulfide", "reducer-ferricyanide", "bw-pyro-soda-working"):
        for page in ("solutions", "bench"):
            text = unescape(site.page(f"{page}/{formula}"))
            assert "Never add acid: " in text, formula
            assert "Add it only in the step" not in text and "beyond what a step" not in text, formula
    assert "Keep acid away: toxic gas. Add it only in the step that names it." in site.page("solutions/blix")
