"""The size of the owner's batch and the strength of a litre are two sides of one thing.

Batches of twice the volume, of baths half as strong that do half as much a litre, hold the same salt, do the same film
and cost the same money. Every figure of a plan, of mixing against a kit and of sets from packs must say so; a factor of
the batch's litres that is left out or taken twice shows at once.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from reckoner.calc.film.per_roll import process_per_roll
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.calc.results import Results
from small import SETTINGS, SOURCE, chemical, formula, process, results, supplier

D = Decimal
FILM = f"formats: [{{id: roll, name: a roll, length: 1475 mm, width: 35 mm, counts_as: 1, {SOURCE}}}]\n"
SHELF = """packs:
  - {chemical: salt, form: solid, pack: 1 kg, left: 150 g, paid: 9 EUR, bought: 2026-10-01}
"""


def bath(name: str, litres: Decimal, does: int, keeps: str, purpose: str) -> str:
    """100 g of salt and so many rolls a batch."""
    rolls = f"{does / litres:f}-{2 * does / litres:f} rolls"
    more = f"capacity: [{{does: {rolls}, per: 1 L, certainty: common practice}}]\n"
    more += f"keeping: [{{state: part-full bottle, time: {keeps}, certainty: common practice}}]\n"
    return formula(name, f"[{{chemical: salt, form: solid, amount: {100 / litres:f} g}}]", purpose, more)


def handbook(litres: Decimal, kind: str) -> Results:
    sizes = SETTINGS.replace("batch_sizes: [500 mL, 1 L]", f"batch_sizes: [{litres} L]")
    kit = "" if kind == "lab" else f"makes: {litres} L\ndoes: 8-12 rolls\nmixed: 1-2 months\n"
    wants = f"{{process: pr, films: [{{format: roll, count: 13}}]}}, {{formula: fixer, litres: {3 * litres} L}}"
    return results(
        {
            "settings.yml": sizes.replace("first_batch: 1 L", f"first_batch: {litres} L").replace("tap_water", "#"),
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")
            + "keeping: {opened: 3 months, certainty: common practice}\n",
            "solutions/developer.yml": bath("developer", litres, 4, "1-2 weeks", "colour developer"),
            "solutions/fixer.yml": bath("fixer", litres, 20, "2 months", "fixer"),
            "processes/pr.yml": process("developer", "fixer"),
            "film_formats.yml": FILM,
            "prices/shop/supplier.yml": supplier() + "delivery: {charge: 5 EUR, free_from: 90 EUR}\n",
            "prices/shop/2026-11-01.yml": "date: 2026-11-01\noffers:\n"
            "  - {chemical: salt, form: solid, pack: 1 kg, price: 12 EUR}\n"
            "  - {chemical: salt, form: solid, pack: 300 g, price: 5 EUR}\n"
            f"  - {{chemical: water, form: tap, pack: {100 * litres} L, price: 3 EUR}}\n",
            "kits/ready.yml": f"id: ready\nname: Ready-made\nkind: {kind}\nprocess: pr\nprice: 30 EUR\n"
            f"delivery: 6 EUR\n{kit}day: 2026-11-01\ninvented: yes\n{SOURCE}\n",
            "plans/p.yml": f"id: p\nname: p\nover: 12 months\ncompare: [ready]\nwants: [{wants}]\n",
            "shelf.yml": SHELF,
        }
    )


def told(found: Results, litres: Decimal) -> dict[str, Any]:
    """Everything that must not depend on the size of a batch; sums to a billionth of a cent."""
    result, sets = found.plans["p"], found.processes["pr"]
    (comparison,) = found.comparisons["p"]
    other = comparison.alternatives[0]
    costs = {i: one.cost for i, one in found.formulas.items()}
    per_roll = process_per_roll(
        [found.catalogue.formulas[i] for i in usual_baths(found.catalogue.processes["pr"])], costs
    )
    assert comparison.own and comparison.own.plan and sets.cost.used_per_litre and per_roll and sets.cost.to_start
    return {
        "packs": [(line.offer.offer.chemical, line.packs) for order in result.bought.orders for line in order.lines],
        "basket": result.bought.total,
        "parts": [round(part.number, 11) for part in result.money.parts.parts],
        "by bath": {i: round(part.total.number, 11) for i, part in result.money.by_formula.items()},
        "a roll": [cost.per_roll and round(cost.per_roll.number, 11) for cost in result.money.processes],
        "film": [
            tuple(round(sum_.number, 11) for sum_ in (f.used, f.to_start, f.all_in))
            for p in result.money.processes
            for f in p.films
        ],
        "batches": [
            (b.formula, b.batches, b.rolls, b.session, b.ends_by, b.litres / litres) for b in result.bought.baths
        ],
        "mixing": [round(one, 9) for one in comparison.own.plan.spent()],
        "ready": [round(one, 9) for one in (other.plan.spent() if other.plan else ())],
        "bridge": comparison.bridge,
        "sets": (sets.made, sets.ends_with, sets.restock, sets.cost.to_start),
        "set": round(sets.cost.used_per_litre.number * litres, 12),
        "per roll": (round(per_roll.cautious.number, 9), round(per_roll.generous.number, 9)),
        "lacking": [
            (one.wanted.need.chemical, round(one.wanted.amount, 9), round(one.held, 9)) for one in found.lacking["pr"]
        ],
        "mixable": round(found.mixable["fixer"].litres / litres, 12),
    }


@pytest.mark.parametrize("kind", ["kit", "lab"])
@pytest.mark.parametrize("litres", ["2", "0.5", "5"])
def test_the_same_film_costs_the_same_in_batches_of_any_size(litres: str, kind: str) -> None:
    assert told(handbook(D(litres), kind), D(litres)) == told(handbook(D(1), kind), D(1))
