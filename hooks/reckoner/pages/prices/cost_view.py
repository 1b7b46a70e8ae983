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
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.records.formula import Formula
from reckoner.records.process import FILM_KINDS

#: Why the figures of one bath differ, on every page that has several of them.
DIFFER = (
    "Chemicals used are what a litre takes, at the price of the packs below. A first order is whole packs. The full "
    "cost in a plan is its own basket and shelf, with batches poured away, packs that expire and postage."
)
NO_OFFER = "no offer in force converts to what is asked"
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

    name: str
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


def formula_cost(result: FormulaResult, writer: PageWriter) -> CostView:
    """The cost of one formula."""
    cost = result.cost
    roll = formula_per_roll(result.formula, cost)
    sums = (
        *_used(cost, "a litre", writer),
        *_rolls(roll, (result.formula,), writer),
        *_to_start(cost, writer),
        *_all_in_litre(result.formula.id, writer),
    )
    does = doing(result.formula)
    notes = (f"A roll is counted with {span(does, writer)}.", WHOLE) if roll and does else ()
    notes = (*notes, *([DIFFER] if not cost.missing else []))
    return _view(cost, "/L", sums, notes, writer)


def process_cost(process_id: str, sets: Sets, writer: PageWriter) -> CostView:
    """The cost of a set of a process's usual baths."""
    results = writer.results
    costs = {bath: results.formulas[bath].cost for bath in sets.baths}
    baths = tuple(results.catalogue.formulas[bath] for bath in sets.baths)
    roll = process_per_roll(baths, costs)
    film = results.catalogue.processes[process_id].kind in FILM_KINDS
    sums = (
        *_used(sets.cost, "a litre of each bath", writer),
        *_rolls(roll, baths, writer, film),
        *_to_start(sets.cost, writer),
        *_all_in_roll(process_id, writer),
    )
    notes = [f"{line}." for line in capacity_lines(sets.baths, writer)] if roll else []
    notes += [WHOLE] if roll and film else []
    if roll is not None and roll.followed:
        names = ", ".join(writer.formula(bath).text for bath in roll.followed)
        notes.append(f"No capacity is recorded for {names}: counted with the bath that is exhausted first.")
    notes += [DIFFER] if not sets.cost.missing else []
    return _view(sets.cost, " for 1\u00a0L of each bath", sums, tuple(notes), writer)


def _view(cost: Cost, per: str, sums: tuple[SumLine, ...], notes: tuple[str, ...], writer: PageWriter) -> CostView:
    names = [writer.short_name(c) for c in cost.missing]
    offers = [row.offer for row in cost.rows if row.offer]
    suppliers = writer.results.catalogue.suppliers
    return CostView(
        rows=tuple(
            _line(*row, per, writer) for row in zip(cost.rows, cost.used_shown, cost.to_start_shown, strict=True)
        ),
        incomplete=f"incomplete: no price for {', '.join(names)}" if names else "",
        sums=sums,
        notes=notes,
        picture=None if names else _picture(cost, writer),
        rates=writer.rates(offers),
        taxes=writer.taxes(offers),
        old=writer.old_prices(offers),
        demo=any(suppliers[o.supplier].invented for o in offers),
    )


def _line(row: CostRow, used_part: Money | None, start_part: Money | None, per: str, writer: PageWriter) -> CostLine:
    """One row; its sums are parts that add up to those of all rows."""
    show, name = writer.show, writer.chemical(row.chemical)
    amount = "" if row.per_litre is None else show.exactish(row.per_litre, row.unit) + per
    used = "no price" if row.used is None or used_part is None else show.part(used_part, row.used)
    start = "no price" if row.to_start is None or start_part is None else show.part(start_part, row.to_start)
    if row.offer is None:
        why = "; ".join(writer.too_weak(row.weak)) or (NO_OFFER if row.missing else "")
        pack = "by the meter" if row.used is not None else why
        return CostLine(name, pack, "", "", amount, used, start, "", "")
    makes = "" if row.litres_per_pack is None else show.exactish(row.litres_per_pack, "L")
    return CostLine(
        name=name,
        pack=f"{row.packs} × {writer.pack(row.offer)}",
        where=writer.supplier(row.offer.supplier),
        day=show.day(row.offer.day),
        per_litre=amount,
        used=used,
        to_start=start,
        makes=makes,
        why="the only offer" if row.considered == 1 else f"cheapest start of {row.considered} offers",
    )


def _used(cost: Cost, made: str, writer: PageWriter) -> Iterator[SumLine]:
    if cost.used_per_litre is None:
        return
    yield SumLine(f"Chemicals used, for {made}", None, writer.show.money(cost.used_per_litre))
    if cost.batch_litres != 1:
        batch = writer.show.exactish(cost.batch_litres, "L")
        used = cost.used_per_litre * cost.batch_litres
        yield SumLine(f"Chemicals used, for {made.replace('a litre', batch)}", None, writer.show.money(used))


def _rolls(
    roll: PerRoll | None, baths: tuple[Formula, ...], writer: PageWriter, on_film: bool = True
) -> Iterator[SumLine]:
    """For a roll, which is an area of paper too, and for each of the owner's films where film goes through it."""
    if roll is None:
        return
    yield SumLine("Chemicals used, for a roll of 80 square inches", None, roll_cost(roll, writer))
    if not on_film:
        return
    catalogue = writer.results.catalogue
    costs = {bath.id: writer.results.formulas[bath.id].cost for bath in baths}
    for film in owners_films(catalogue):
        each = film_cost(baths, costs, film, catalogue.settings)
        if each is not None:
            yield SumLine(f"Chemicals used, for one {film.name}", None, roll_cost(each, writer))


def roll_cost(roll: PerRoll, writer: PageWriter) -> str:
    """What a roll uses, from the generous capacity to the cautious one."""
    low, high = writer.show.money(roll.generous), writer.show.money(roll.cautious)
    return low if low == high else f"{low} to {high}"


def _to_start(cost: Cost, writer: PageWriter) -> Iterator[SumLine]:
    if cost.to_start is None:
        return
    batch = writer.show.exactish(cost.batch_litres, "L")
    yield SumLine(f"First order, without delivery: whole packs for {batch}", None, writer.show.money(cost.to_start))
    if cost.first_out and cost.first_out_litres is not None:
        litres = writer.show.exactish(cost.first_out_litres, "L")
        yield SumLine("First pack to run out", None, f"{writer.short_name(cost.first_out)}, after {litres}")


def _all_in_litre(formula_id: str, writer: PageWriter) -> Iterator[SumLine]:
    for plan_id, plan in writer.results.plans.items():
        litres = {bath.formula: bath.litres for bath in plan.bought.baths}.get(formula_id)
        if litres and not plan.bought.missing:
            each = plan.money.by_formula[formula_id].total / litres
            yield SumLine("Full cost of a litre, in the plan", writer.plan(plan_id), writer.show.money(each))


def _all_in_roll(process_id: str, writer: PageWriter) -> Iterator[SumLine]:
    for plan_id, plan in writer.results.plans.items():
        for process in plan.money.processes:
            if process.process == process_id and process.per_roll is not None and not plan.bought.missing:
                figure = writer.show.money(process.per_roll)
                yield SumLine("Full cost of a roll, in the plan", writer.plan(plan_id), figure)


def _picture(cost: Cost, writer: PageWriter) -> BarChartView | None:
    bars = list(_bars(cost, writer))
    if len(bars) < 2:
        return None
    currency = writer.results.catalogue.settings.currency

    def in_words(value: Decimal) -> str:
        return writer.show.money(Money(value, currency))

    title = "Where the money of a litre goes: chemicals used"
    described = "; ".join(f"{name}: {in_words(value)}" for name, value in bars)
    return bars_view("used", title, f"Bars: {described}. The table below has the same figures.", bars, in_words)


def _bars(cost: Cost, writer: PageWriter) -> Iterator[tuple[str, Decimal]]:
    for row, part in zip(cost.rows, cost.used_shown, strict=True):
        if part is not None and part.number:
            yield writer.short_name(row.chemical), part.number
