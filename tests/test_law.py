"""The law stands where it bites: on the formula that offers a restricted jar, and beside the form itself."""

from __future__ import annotations

import re

from reckoner.calc.results import Results
from site_build import Site


def test_every_formula_shows_the_restrictions_of_its_jars_the_owner_s_law_in_full(
    demo_results: Results, site: Site
) -> None:
    law = demo_results.catalogue.settings.law
    seen = 0
    for formula, result in demo_results.formulas.items():
        page = site.page(f"solutions/{formula}")
        for chemical_id, form in result.jars:
            binding = [
                one
                for one in demo_results.catalogue.chemicals[chemical_id].restrictions
                if one.kind != "transport" and (not one.forms or form in one.forms)
            ]
            for one in binding:
                seen += 1
                said = one.text if one.where in law else f"{one.where}: {one.kind}"
                assert said in page.partition('id="weigh"')[0], (formula, chemical_id)
    assert seen > 20


def test_strong_sulfuric_acid_is_not_offered_without_its_law(site: Site) -> None:
    dichromate = site.page("solutions/bleach-dichromate")
    assert "no private person may buy, hold or use it" in dichromate.partition('id="weigh"')[0]
    assert "a private person needs a licence" in site.page("solutions/ecn2-stop").partition('id="weigh"')[0]


def test_the_form_says_that_it_is_restricted_beside_how_to_mix_it(site: Site) -> None:
    page = site.page("chemicals/sulfuric-acid")
    form = page[page.index('id="normal-7"') :].partition("<h3")[0]
    assert "European Union: licence" in form
    assert "not for private persons" in form


def test_one_page_holds_every_restriction_and_northern_ireland(demo_results: Results, site: Site) -> None:
    page = site.page("law")
    for chemical in demo_results.catalogue.chemicals.values():
        for one in chemical.restrictions:
            assert (one.text in page) == (one.kind != "transport"), (chemical.id, one.kind)
    for where in ("law", "chemicals/sulfuric-acid", "solutions/ecn2-stop"):
        assert re.search(r"Northern Ireland: the European Union's rules on explosives precursors", site.page(where))
