"""What a plan's page shows: the basket per supplier, what is left over, and the money."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.all_in import AllIn, PlanSplit, ProcessCost
from reckoner.calc.buying.demand import BathDemand
from reckoner.calc.buying.plan_basket import PlanBought
from reckoner.calc.film.capacity import doing
from reckoner.money import Money, sum_money
from reckoner.pages.buying.asked_view import AskedView, asked_view
from reckoner.pages.buying.basket_view import OrderView, left_line, order_view, taken_line
from reckoner.pages.buying.shelf_worth_view import WorthView, worth_view
from reckoner.pages.charts.chart_view import BarChartView, bars_view
from reckoner.pages.compare.kit_view import KitsView, kits_view
from reckoner.pages.prices.then_view import ThenView, then_view
from reckoner.pages.safety.not_working_view import before, plan_in_short
from reckoner.pages.shared.capacity_words import least
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.trust.dates_view import DatedView, dates_view, priced
from reckoner.rounding import significant

#: A left-over below this part of what was needed is no news.
TRIFLE = Decimal("0.01")


@dataclass(frozen=True)
class MoneyLine:
    """One row of a table of parts."""

    name: Link
    film: str
    poured: str
    dying: str
    delivery: str
    total: str


@dataclass(frozen=True)
class FilmCostLine:
    """What one film costs, in the three figures that are kept apart."""

    name: str
    used: str
    to_start: str
    all_in: str


@dataclass(frozen=True)
class FilmTable:
    """Films of every format through one process."""

    process: Link
    lines: tuple[FilmCostLine, ...]


@dataclass(frozen=True)
class BathLine:
    """One bath of the plan."""

    name: Link
    litres: str
    how: str
    cost: str


@dataclass(frozen=True)
class PlanView:
    """The context of ``plan.md.jinja``."""

    title: str
    summary: str
    note: str
    not_working: str
    csv: str
    faults: tuple[str, ...]
    asked: AskedView
    summed: bool
    to_start: str
    used: str
    all_in: str
    films: tuple[FilmTable, ...]
    orders: tuple[OrderView, ...]
    nothing_to_buy: bool
    shelf: tuple[str, ...]
    worth: WorthView | None
    left_out: tuple[str, ...]
    baths: tuple[BathLine, ...]
    left: tuple[tuple[Link, str], ...]
    picture: BarChartView | None
    money: tuple[MoneyLine, ...]
    sum: MoneyLine
    still_good: str
    then: ThenView | None
    fewer: str
    fewer_orders: tuple[OrderView, ...]
    kits: KitsView | None
    kits_page: str
    rates: tuple[str, ...]
    taxes: tuple[str, ...]
    old: tuple[str, ...]
    demo: bool
    dates: tuple[DatedView, ...]


def plan_view(plan_id: str, writer: PageWriter) -> PlanView:
    """Put a plan's basket and money into words."""
    result = writer.results.plans[plan_id]
    bought, money, plan = result.bought, result.money, result.bought.plan
    offers = [line.offer for order in bought.orders for line in order.lines]
    suppliers = writer.results.catalogue.suppliers
    show = writer.show
    return PlanView(
        title=plan.name,
        summary=f"A plan over {writer.show.range(plan.over)}",
        note=plan.note or "",
        not_working=plan_in_short(plan.id, writer),
        csv=writer.links.file(f"data/plan-{plan.id}.csv"),
        faults=_faults(bought, writer),
        asked=asked_view(plan, bought.baths, writer),
        summed=result.sure is not None,
        to_start=show.money(money.to_start),
        used=show.money(money.whole.used),
        all_in=show.money(money.total),
        films=tuple(_films(process, writer) for process in money.processes),
        orders=tuple(order_view(order, writer) for order in bought.orders),
        nothing_to_buy=not bought.orders and not bought.missing and not bought.impossible,
        shelf=tuple(
            taken_line(taken, plan.id, writer) for pool in bought.pools for taken in pool.shelf if taken.amount
        ),
        worth=worth_view(bought, writer),
        left_out=tuple(
            taken_line(taken, plan.id, writer)
            for pool in bought.pools
            for taken in pool.shelf
            if taken.left_out or taken.weak
        ),
        baths=tuple(_bath(bath, result.sure, writer) for bath in bought.baths),
        left=tuple(left_line(pool, plan, writer) for pool in bought.pools if pool.left_share > TRIFLE),
        picture=_picture(money, writer),
        money=tuple(
            _money(writer.chemical(c.chemical), row, show)
            for c, row in zip(money.chemicals, money.table, strict=True)
            if c.parts.total.number
        ),
        sum=_money(Link("All together"), money.whole, show),
        still_good=show.money(sum_money((c.left_value for c in money.chemicals), money.total.currency)),
        then=then_view(result.then, bought.total, writer),
        fewer=_fewer(bought, writer),
        fewer_orders=tuple(order_view(order, writer) for order in bought.fewer or ()),
        kits=kits_view(plan.id, writer) if plan.compare else None,
        kits_page=writer.links.path("kit-or-own"),
        rates=writer.rates(offers),
        taxes=writer.taxes(offers),
        old=writer.old_prices(offers),
        demo=any(suppliers[offer.supplier].invented for offer in offers),
        dates=dates_view(priced(offers), writer),
    )


def _faults(bought: PlanBought, writer: PageWriter) -> tuple[str, ...]:
    faults = [
        f"Nothing for sale to this plan fills {writer.short_name(chemical)}: there is no basket, and no sum is given."
        for chemical in bought.missing
    ]
    faults += [f"{line}." for pool in bought.pools for line in writer.too_weak(pool.pool.weak)]
    if bought.impossible:
        faults.append("No basket meets the suppliers' minimum orders: there is none, and no sum is given.")
    money = writer.show.money
    if bought.over_budget and bought.plan.budget:
        short, budget = money(bought.over_budget), money(bought.plan.budget)
        faults.append(f"The cheapest basket costs {money(bought.total)}, {short} more than the budget of {budget}.")
    faults += [
        f"{writer.supplier(supplier)}: no delivery charge is recorded, so none is counted."
        for supplier in bought.unknown_delivery
    ]
    names = ", ".join(writer.short_name(chemical) for chemical in writer.results.plans[bought.plan.id].money.unpriced)
    if names:
        faults.append(f"No price is recorded for what the shelf holds of {names}: it is counted as costing nothing.")
    return tuple(faults)


def _films(process: ProcessCost, writer: PageWriter) -> FilmTable:
    films, money = writer.results.catalogue.films, writer.show.money
    return FilmTable(
        writer.process(process.process),
        tuple(
            FilmCostLine(
                films[film.format].name,
                money(film.used),
                money(film.to_start),
                money(film.all_in),
            )
            for film in process.films
        ),
    )


def _bath(bath: BathDemand, money: AllIn | None, writer: PageWriter) -> BathLine:
    how = "as planned"
    if bath.batches:
        batches = f"{bath.batches} batches" if bath.batches > 1 else "1 batch"
        does = doing(writer.results.catalogue.formulas[bath.formula])
        counted = f"; {least(does, writer)}{_here(bath, does.cautious, writer)}" if does else ""
        how = f"{batches}; {_ends(bath, writer)}{counted}"
    cost = f"; full cost {writer.show.money(money.of_baths[bath.formula])}" if money else ""
    return BathLine(
        writer.formula(bath.formula), writer.show.exactish(bath.litres, "L"), before(bath.formula, how, writer), cost
    )


def _here(bath: BathDemand, does: Decimal, writer: PageWriter) -> str:
    """Rolls a litre of this plan, where they are fewer than the bath could do."""
    rolls = significant(bath.rolls / (bath.litres - bath.asked), 2)
    return f" as recorded, {writer.show.number(rolls)} in this plan" if rolls < does else ""


def _ends(bath: BathDemand, writer: PageWriter) -> str:
    """What ends the batches of a bath, and how much of what they could do is poured away undone."""
    undone = writer.show.percent(bath.unfinished)
    if bath.ends_by == "with":
        return "nothing recorded: new with the bath that is exhausted first"
    if not bath.unfinished:
        return "spent by the film"
    if bath.batches == 1:
        return f"more than all the film needs, {undone} of it undone"
    if bath.ends_by == "age":
        return f"too old before it is spent, {undone} of it poured away undone"
    if bath.undone == 1:
        return f"spent by the film but for the last batch, {undone} of all undone"
    return f"{bath.undone} of the {bath.batches} batches are not full of film, {undone} of all undone"


def _money(name: Link, whole: PlanSplit, show: Display) -> MoneyLine:
    film, poured, dying, delivery = (show.money(part) for part in whole.parts)
    return MoneyLine(name, film, poured, dying, delivery, show.money(whole.total))


def _picture(money: AllIn, writer: PageWriter) -> BarChartView | None:
    names = (
        "In baths that did their work",
        "Poured away before it was spent",
        "Left over and dead",
        "Delivery",
    )
    bars = [(name, part.number) for name, part in zip(names, money.whole.parts, strict=True) if part.number]
    if not bars:
        return None

    def in_words(number: Decimal) -> str:
        return writer.show.money(Money(number, money.total.currency))

    title = "Where the money of this plan goes"
    described = "; ".join(f"{name}: {in_words(value)}" for name, value in bars)
    return bars_view("money", title, f"Bars: {described}.", bars, in_words)


def _fewer(bought: PlanBought, writer: PageWriter) -> str:
    if len(bought.orders) < 2:
        return ""
    if bought.fewer_total is None:
        return "With one supplier fewer nothing fills the plan."
    names = ", ".join(writer.supplier(order.supplier) for order in bought.fewer or ())
    money, extra = writer.show.money, bought.fewer_total - bought.total
    return f"Ordered from {names} only: {money(bought.fewer_total)}, {money(extra)} more."
