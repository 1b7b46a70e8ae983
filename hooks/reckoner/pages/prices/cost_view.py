"""Costs in words: used, to start and all-in kept apart; per litre, batch, roll and film; and where the money goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.bath import FormulaResult
from reckoner.calc.film.capacity import doing
from reckoner.calc.film.films_per_litre import owners_films
from reckoner.calc.film.per_roll import PerRoll, film_cost, formula_per_roll, process_per_roll
from reckoner.calc.prices.complete_sets import Sets
from reckoner.calc.prices.costing import Cost, CostRow
from reckoner.money import Money
from reckoner.pages.charts.chart_view import BarChartView, bars_view
from reckoner.pages.shared.capacity_words import capacity_lines, span
from reckoner.pages.shared.parts import Link, Shower
from reckoner.pages.shared.sums import Say
from reckoner.records.formula import Formula

#: Why the figures of one bath differ, on every page that has several of them.
DIFFER = (
    "Chemicals used are what a litre takes, at the price of the packs below. A first order is whole packs. The full "
    "cost in a plan is its own basket and shelf, with batches poured away, packs that expire and postage."
)
#: Why a film may cost more than its part of a roll.
WHOLE = "A film costs its part of a batch by whole films in your tanks, a roll by what a litre does."


@dataclass(frozen=True)
class CostLine:
    """One row of a cost table."""

    name: Link
    pack: str
    where: str
    day: str
    per_litre: str
    used: str
    to_start: str
    makes: str
    why: str


@dataclass(frozen=True)
class SumLine:
    """One sum: what it is for, where that is told, and the figure."""

    what: str
    where: Link | None
    figure: str


@dataclass(frozen=True)
class CostView:
    """A cost table with its sums.

    Attributes:
        incomplete: chemicals without a price, in words; empty where the sum is whole.
        rates: exchange rates used, with their days.
    """

    rows: tuple[CostLine, ...]
    incomplete: str
    sums: tuple[SumLine, ...]
    notes: tuple[str, ...]
    picture: BarChartView | None
    rates: tuple[str, ...]
    taxes: tuple[str, ...]
    old: tuple[str, ...]
    demo: bool


def formula_cost(result: FormulaResult, shower: Shower) -> CostView:
    """The cost of one formula."""
    cost = result.cost
    roll = formula_per_roll(result.formula, cost)
    sums = (
        *_used(cost, "a litre", shower),
        *_rolls(roll, (result.formula,), shower),
        *_to_start(cost, shower),
        *_all_in_litre(result.formula.id, shower),
    )
    does = doing(result.formula)
    notes = (f"A roll is counted with {span(does, shower)}.", WHOLE) if roll and does else ()
    notes = (*notes, *([DIFFER] if not cost.missing else []))
    return _view(cost, "/L", sums, notes, shower)


def process_cost(process_id: str, sets: Sets, shower: Shower) -> CostView:
    """The cost of a set of a process's usual baths."""
    results = shower.results
    costs = {bath: results.formulas[bath].cost for bath in sets.baths}
    baths = tuple(results.catalogue.formulas[bath] for bath in sets.baths)
    roll = process_per_roll(baths, costs)
    sums = (
        *_used(sets.cost, "a litre of each bath", shower),
        *_rolls(roll, baths, shower),
        *_to_start(sets.cost, shower),
        *_all_in_roll(process_id, shower),
    )
    notes = [*(f"{line}." for line in capacity_lines(sets.baths, shower)), WHOLE] if roll else []
    if roll is not None and roll.followed:
        names = ", ".join(shower.formula(bath).text for bath in roll.followed)
        notes.append(f"No capacity is recorded for {names}: counted with the bath that is exhausted first.")
    notes += [DIFFER] if not sets.cost.missing else []
    return _view(sets.cost, " for 1\u00a0L of each bath", sums, tuple(notes), shower)


def _view(cost: Cost, per: str, sums: tuple[SumLine, ...], notes: tuple[str, ...], shower: Shower) -> CostView:
    names = [shower.short_name(c) for c in cost.missing]
    offers = [row.offer for row in cost.rows if row.offer]
    suppliers = shower.results.catalogue.suppliers
    return CostView(
        rows=tuple(
            _line(*one, per, shower) for one in zip(cost.rows, cost.used_shown, cost.to_start_shown, strict=True)
        ),
        incomplete=f"incomplete: no price for {', '.join(names)}" if names else "",
        sums=sums,
        notes=notes,
        picture=None if names else _picture(cost, shower),
        rates=shower.rates(offers),
        taxes=shower.taxes(offers),
        old=shower.old_prices(offers),
        demo=any(suppliers[o.supplier].invented for o in offers),
    )


def _line(row: CostRow, used_part: Money | None, start_part: Money | None, per: str, shower: Shower) -> CostLine:
    """One row; its sums are parts that add up to those of all rows."""
    show, name = shower.show, shower.chemical(row.chemical)
    amount = "" if row.per_litre is None else show.exactish(row.per_litre, row.unit) + per
    used = "no price" if row.used is None or used_part is None else show.part(used_part, row.used)
    start = "no price" if row.to_start is None or start_part is None else show.part(start_part, row.to_start)
    if row.offer is None:
        why = "; ".join(shower.too_weak(row.weak)) or row.missing or ""
        pack = "by the meter" if row.used is not None else why
        return CostLine(name, pack, "", "", amount, used, start, "", "")
    makes = "" if row.litres_per_pack is None else show.exactish(row.litres_per_pack, "L")
    return CostLine(
        name=name,
        pack=f"{row.packs} × {shower.pack(row.offer)}",
        where=shower.supplier(row.offer.supplier),
        day=show.day(row.offer.day),
        per_litre=amount,
        used=used,
        to_start=start,
        makes=makes,
        why="the only offer" if row.considered == 1 else f"cheapest start of {row.considered} offers",
    )


def _used(cost: Cost, what: str, shower: Shower) -> Iterator[SumLine]:
    if cost.used_per_litre is None:
        return
    yield SumLine(f"Chemicals used, for {what}", None, shower.show.money(cost.used_per_litre))
    if cost.batch_litres != 1:
        batch = shower.show.exactish(cost.batch_litres, "L")
        used = cost.used_per_litre.times(cost.batch_litres)
        yield SumLine(f"Chemicals used, for {what.replace('a litre', batch)}", None, shower.show.money(used))


def _rolls(roll: PerRoll | None, baths: tuple[Formula, ...], shower: Shower) -> Iterator[SumLine]:
    if roll is None:
        return
    yield SumLine("Chemicals used, for a roll of 80 square inches", None, roll_cost(roll, shower))
    catalogue = shower.results.catalogue
    costs = {one.id: shower.results.formulas[one.id].cost for one in baths}
    for film in owners_films(catalogue):
        each = film_cost(baths, costs, film, catalogue.settings)
        if each is not None:
            yield SumLine(f"Chemicals used, for one {film.name}", None, roll_cost(each, shower))


def roll_cost(roll: PerRoll, shower: Shower) -> str:
    """What a roll uses, from the generous capacity to the cautious one."""
    low, high = shower.show.money(roll.generous), shower.show.money(roll.cautious)
    return low if low == high else f"{low} to {high}"


def _to_start(cost: Cost, shower: Shower) -> Iterator[SumLine]:
    if cost.to_start is None:
        return
    batch = shower.show.exactish(cost.batch_litres, "L")
    yield SumLine(f"First order, without delivery: whole packs for {batch}", None, shower.show.money(cost.to_start))
    if cost.first_out and cost.first_out_litres is not None:
        litres = shower.show.exactish(cost.first_out_litres, "L")
        yield SumLine("Runs out first (water apart)", None, f"{shower.short_name(cost.first_out)}, after {litres}")


def _all_in_litre(formula_id: str, shower: Shower) -> Iterator[SumLine]:
    for plan_id, plan in shower.results.plans.items():
        litres = {bath.formula: bath.litres for bath in plan.bought.baths}.get(formula_id)
        if litres and not plan.bought.missing:
            each = plan.money.by_formula[formula_id].total / litres
            yield SumLine("Full cost of a litre, in the plan", shower.plan(plan_id), Say(shower).minor(each))


def _all_in_roll(process_id: str, shower: Shower) -> Iterator[SumLine]:
    for plan_id, plan in shower.results.plans.items():
        for one in plan.money.processes:
            if one.process == process_id and one.per_roll is not None and not plan.bought.missing:
                figure = Say(shower).minor(one.per_roll)
                yield SumLine("Full cost of a roll, in the plan", shower.plan(plan_id), figure)


def _picture(cost: Cost, shower: Shower) -> BarChartView | None:
    bars = list(_bars(cost, shower))
    if len(bars) < 2:
        return None
    currency = shower.results.catalogue.settings.currency

    def say(value: Decimal) -> str:
        return shower.show.money(Money(value, currency))

    title = "Where the money of a litre goes: chemicals used"
    described = "; ".join(f"{name}: {say(value)}" for name, value in bars)
    return bars_view("used", title, f"Bars: {described}. The table below has the same figures.", bars, say)


def _bars(cost: Cost, shower: Shower) -> Iterator[tuple[str, Decimal]]:
    for row, part in zip(cost.rows, cost.used_shown, strict=True):
        if part is not None and part.number:
            yield shower.short_name(row.chemical), part.number
