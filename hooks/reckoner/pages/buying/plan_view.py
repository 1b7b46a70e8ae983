"""What a plan's page shows: the basket per supplier, what is left over, and the money."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.all_in import AllIn, ProcessCost
from reckoner.calc.buying.demand import BathDemand
from reckoner.calc.buying.plan_basket import PlanBought
from reckoner.calc.film.capacity import doing
from reckoner.pages.buying.asked_view import AskedView, asked_view
from reckoner.pages.buying.basket_view import OrderView, left_line, order_view, taken_line
from reckoner.pages.buying.shelf_worth_view import WorthView, worth_view
from reckoner.pages.charts.chart_view import BarChartView, bars_view
from reckoner.pages.compare.kit_view import KitsView, kits_view
from reckoner.pages.prices.then_view import ThenView, then_view
from reckoner.pages.shared.capacity_words import least
from reckoner.pages.shared.parts import Link, Shower
from reckoner.pages.shared.sums import Say
from reckoner.pages.trust.dates_view import DatedView, dates_view, priced

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
class FilmLine:
    """What one film costs, in the three figures that are kept apart."""

    name: str
    used: str
    to_start: str
    all_in: str


@dataclass(frozen=True)
class FilmTable:
    """Films of every format through one process."""

    process: Link
    lines: tuple[FilmLine, ...]


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


def plan_view(plan_id: str, shower: Shower) -> PlanView:
    """Put a plan's basket and money into words."""
    result = shower.results.plans[plan_id]
    bought, money, plan = result.bought, result.money, result.bought.plan
    offers = [line.offer for order in bought.orders for line in order.lines]
    suppliers = shower.results.catalogue.suppliers
    say = Say(shower)
    return PlanView(
        title=plan.name,
        summary=f"A plan over {shower.show.range(plan.over)}",
        note=plan.note or "",
        csv=shower.links.file(f"data/plan-{plan.id}.csv"),
        faults=_faults(bought, shower),
        asked=asked_view(plan, bought.baths, shower),
        summed=result.sure is not None,
        to_start=say.minor(money.to_start),
        used=say.minor(sum(money.whole[:2])),
        all_in=say.minor(money.total),
        films=tuple(_films(process, shower) for process in money.processes),
        orders=tuple(order_view(order, shower) for order in bought.orders),
        nothing_to_buy=not bought.orders and not bought.missing and not bought.impossible,
        shelf=tuple(taken_line(one, plan.id, shower) for pool in bought.pools for one in pool.shelf if one.amount),
        worth=worth_view(bought, shower),
        left_out=tuple(
            taken_line(one, plan.id, shower) for pool in bought.pools for one in pool.shelf if one.left_out or one.weak
        ),
        baths=tuple(_bath(bath, result.sure, shower) for bath in bought.baths),
        left=tuple(left_line(pool, plan, shower) for pool in bought.pools if pool.left_share > TRIFLE),
        picture=_picture(money, shower),
        money=tuple(
            _money(shower.chemical(c.chemical), row, say)
            for c, row in zip(money.chemicals, money.table, strict=True)
            if c.parts.total
        ),
        sum=_money(Link("All together"), money.whole, say),
        still_good=say.minor(sum((c.left_value for c in money.chemicals), Decimal(0))),
        then=then_view(result.then, bought.total, shower),
        fewer=_fewer(bought, say),
        fewer_orders=tuple(order_view(order, shower) for order in bought.fewer or ()),
        kits=kits_view(plan.id, shower) if plan.compare else None,
        kits_page=shower.links.path("kit-or-own"),
        rates=shower.rates(offers),
        taxes=shower.taxes(offers),
        old=shower.old_prices(offers),
        demo=any(suppliers[offer.supplier].invented for offer in offers),
        dates=dates_view(priced(offers), shower),
    )


def _faults(bought: PlanBought, shower: Shower) -> tuple[str, ...]:
    found = [
        f"Nothing for sale to this plan fills {shower.short_name(chemical)}: there is no basket, and no sum is given."
        for chemical in bought.missing
    ]
    found += [f"{line}." for pool in bought.pools for line in shower.too_weak(pool.pool.weak)]
    if bought.impossible:
        found.append("No basket meets the suppliers' minimum orders: there is none, and no sum is given.")
    say = Say(shower)
    if bought.over_budget and bought.plan.budget:
        budget = shower.show.money(bought.plan.budget)
        short = say.minor(bought.over_budget)
        found.append(f"The cheapest basket costs {say.minor(bought.total)}, {short} more than the budget of {budget}.")
    found += [
        f"{shower.supplier(one)}: no delivery charge is recorded, so none is counted."
        for one in bought.unknown_delivery
    ]
    names = ", ".join(shower.short_name(one) for one in shower.results.plans[bought.plan.id].money.unpriced)
    if names:
        found.append(f"No price is recorded for what the shelf holds of {names}: it is counted as costing nothing.")
    return tuple(found)


def _films(process: ProcessCost, shower: Shower) -> FilmTable:
    films, say = shower.results.catalogue.films, Say(shower)
    return FilmTable(
        shower.process(process.process),
        tuple(
            FilmLine(films[film.format].name, say.minor(film.used), say.minor(film.to_start), say.minor(film.all_in))
            for film in process.films
        ),
    )


def _bath(bath: BathDemand, money: AllIn | None, shower: Shower) -> BathLine:
    how = "as planned"
    if bath.batches:
        batches = f"{bath.batches} batches" if bath.batches > 1 else "1 batch"
        does = doing(shower.results.catalogue.formulas[bath.formula])
        counted = f"; {least(does, shower)}" if does else ""
        how = f"{batches}; {_ends(bath, shower)}{counted}"
    cost = f"; full cost {Say(shower).minor(money.of_baths[bath.formula])}" if money else ""
    return BathLine(shower.formula(bath.formula), shower.show.exactish(bath.litres, "L"), how, cost)


def _ends(bath: BathDemand, shower: Shower) -> str:
    """What ends the batches of a bath, and how much of what they could do is poured away undone."""
    undone = shower.show.percent(bath.unfinished)
    if bath.ends_by == "with":
        return "nothing recorded: new with the bath that gives out first"
    if not bath.unfinished:
        return "spent by the film"
    if bath.batches == 1:
        return f"more than all the film needs, {undone} of it undone"
    if bath.ends_by == "age":
        return f"too old before it is spent, {undone} of it poured away undone"
    return f"spent by the film but for the last batch, {undone} of all undone"


def _money(name: Link, whole: tuple[int, ...], say: Say) -> MoneyLine:
    film, poured, dying, delivery = (say.minor(part) for part in whole)
    return MoneyLine(name, film, poured, dying, delivery, say.minor(sum(whole)))


def _picture(money: AllIn, shower: Shower) -> BarChartView | None:
    names = (
        "In baths that did their work",
        "Poured away before it was spent",
        "Left over and dead",
        "Delivery",
    )
    say = Say(shower)
    bars = [(name, Decimal(value)) for name, value in zip(names, money.whole, strict=True) if value]
    if not bars:
        return None
    title = "Where the money of this plan goes"
    described = "; ".join(f"{name}: {say.minor(value)}" for name, value in bars)
    return bars_view("money", title, f"Bars: {described}.", bars, say.minor)


def _fewer(bought: PlanBought, say: Say) -> str:
    if len(bought.orders) < 2:
        return ""
    if bought.fewer_total is None:
        return "With one supplier fewer nothing fills the plan."
    names = ", ".join(say.shower.supplier(order.supplier) for order in bought.fewer or ())
    extra = say.minor(bought.fewer_total - bought.total)
    return f"Ordered from {names} only: {say.minor(bought.fewer_total)}, {extra} more."
