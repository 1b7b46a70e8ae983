"""Words on every bottle label of the demonstration: none reads as an all-clear, each names what is in the bottle."""

from __future__ import annotations

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
    assert "Keep it from acids and chlorine bleach." in label(site, "ecn2-bleach")
    assert "Keep it from developers" in label(site, "cyanotype-peroxide")
    assert "Hazard data of 25 Nov 2026." in label(site, "ecn2-stop")
