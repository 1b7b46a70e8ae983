"""Rivals of one purpose: every formula of it once, the cheapest first, what is missing as the shelf tells it."""

from __future__ import annotations

from reckoner.calc.results import Results
from reckoner.pages.lists.choose_view import choose_view, shown_purposes
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter


def test_every_formula_of_a_purpose_stands_once_and_the_cheapest_first(demo_results: Results) -> None:
    writer = PageWriter(demo_results, Display("en_GB"), Links("choose/x.md"))
    seen = []
    for _, purpose in shown_purposes(demo_results):
        view = choose_view(purpose, writer)
        seen += [one.name.text for one in view.rivals] + [one.text for one in view.parts]
        for group in view.groups:
            costs = [float(one.litre.strip("€<")) for one in group.rivals if one.litre != "incomplete"]
            assert costs == sorted(costs)
            assert all(one.litre == "incomplete" for one in group.rivals[len(costs) :])
            assert len({one.strength == "working" for one in group.rivals}) == 1
    formulas = [one.formula for one in demo_results.formulas.values()]
    several = [f.name for f in formulas if sum(g.purpose == f.purpose for g in formulas) > 1]
    assert sorted(seen) == sorted(several)


def test_missing_is_what_the_shelf_tells(demo_results: Results) -> None:
    writer = PageWriter(demo_results, Display("en_GB"), Links("choose/x.md"))
    for one in choose_view("bleach", writer).rivals:
        formula = next(r.formula.id for r in demo_results.formulas.values() if r.formula.name == one.name.text)
        for chemical in demo_results.mixable[formula].missing:
            assert writer.short_name(chemical) in one.lacks
