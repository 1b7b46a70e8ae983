"""What everything cost on each day a price list took effect, and what it costs now.

On a day of the past, the lists and exchange rates not after that day count; formulas are those of today. Needs are
taken over from today but where a formula leaves a choice, and so is a cost for whose chemicals no price differs.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from reckoner.calc.mixing.rollup import WATER, Need, uses
from reckoner.calc.prices.complete_sets import Sets
from reckoner.calc.prices.costing import TAP, Cost, Market, cost_of
from reckoner.calc.prices.offers import Listed, OfferKey, PricedOffer, priced_offers, sold
from reckoner.calc.prices.price_changes import ListChange, list_changes, out_of_stock
from reckoner.calc.prices.price_jumps import Jump, price_jumps
from reckoner.calc.prices.then_now import ThenNow, by_choice, then_now
from reckoner.money import Money
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Ingredient


@dataclass(frozen=True)
class CostPoint:
    """A cost on one day.

    Attributes:
        used: of a litre; None while a price is missing.
        to_start: of whole packs for the first batch, without delivery.
        by_price: the first day's ``used`` with every later change of prices, rates and packs no longer sold, but
            without what another choice among the packs sold makes; None where ``used`` is.
        missing: chemicals without a price on that day.
    """

    day: date
    used: Money | None
    to_start: Money | None
    by_price: Money | None
    missing: tuple[str, ...]


@dataclass(frozen=True)
class CostHistory:
    """One formula or process over time.

    Attributes:
        points: the oldest first: each day a list took effect, then today where that is another day.
        change: None where no list but the first changed anything.
    """

    points: tuple[CostPoint, ...]
    change: ThenNow | None


@dataclass(frozen=True)
class PriceHistory:
    """All price lists and what they did to the costs, by id of formula and process.

    Attributes:
        out_of_stock: offers in force that cannot be bought, each with the day since when.
        jumps: prices so far from the former list's that they are asked about.
    """

    lists: tuple[ListChange, ...]
    formulas: Mapping[str, CostHistory]
    processes: Mapping[str, CostHistory]
    out_of_stock: Mapping[OfferKey, Listed]
    jumps: tuple[Jump, ...]


@dataclass(frozen=True)
class State:
    """Prices and costs on one day."""

    day: date
    market: Market
    needs: Mapping[str, tuple[Need, ...]]
    formulas: Mapping[str, Cost]
    processes: Mapping[str, Cost]


@dataclass(frozen=True)
class _Asked:
    """What a formula may buy, through the solutions it uses: chemicals, and whether it leaves a choice."""

    chemicals: frozenset[str]
    choice: bool


def price_history(
    catalogue: Catalogue,
    market: Market,
    formulas: Mapping[str, tuple[tuple[Need, ...], Cost]],
    sets: Mapping[str, Sets],
) -> PriceHistory:
    """The history of every formula and process, from the needs and costs of today."""
    now = State(
        catalogue.today,
        market,
        {i: needs for i, (needs, _) in formulas.items()},
        {i: cost for i, (_, cost) in formulas.items()},
        {i: complete.cost for i, complete in sets.items()},
    )
    asked = {i: _asked(i, catalogue) for i in formulas}
    states = [now]
    days = sorted(
        {price_list.prices.date for price_list in catalogue.price_lists if price_list.prices.date <= catalogue.today}
    )
    for day in reversed(days):
        states.append(_earlier(day, states[-1], catalogue, asked, sets))
    if days and days[-1] == catalogue.today:
        states.pop(1)
    states.reverse()
    return PriceHistory(
        list_changes(catalogue),
        {i: _history([state.formulas[i] for state in states], states, days) for i in formulas},
        {i: _history([state.processes[i] for state in states], states, days) for i in sets},
        out_of_stock(catalogue),
        price_jumps(catalogue),
    )


def _earlier(
    day: date, later: State, catalogue: Catalogue, asked: Mapping[str, _Asked], sets: Mapping[str, Sets]
) -> State:
    """The state on an earlier day; what no price differs for is that of the later one."""
    old, offers = later.market, sold(priced_offers(replace(catalogue, today=day)))
    market = replace(old, offers=offers)
    differs = {c for c in offers.keys() | old.offers.keys() if _figures(offers.get(c)) != _figures(old.offers.get(c))}
    touched = {i for i, watched in asked.items() if not differs.isdisjoint(watched.chemicals)}
    rollup = market.rollup
    jars = {c for c in differs if _jars(offers.get(c)) != _jars(old.offers.get(c))}
    # Other jars may decide between alternatives, and how much room a line has in the vessel.
    needs = {i: rollup.needs(catalogue.formulas[i]) for i in touched if not jars.isdisjoint(asked[i].chemicals)}
    all_needs = {**later.needs, **needs}
    costs = {i: _cost(all_needs[i], market, later.formulas[i], differs) for i in touched}
    processes = {
        i: _cost([need for bath in complete.baths for need in all_needs[bath]], market, later.processes[i], differs)
        for i, complete in sets.items()
        if not touched.isdisjoint(complete.baths)
    }
    return State(day, market, all_needs, {**later.formulas, **costs}, {**later.processes, **processes})


def _cost(needs: Iterable[Need], market: Market, later: Cost, differs: set[str]) -> Cost:
    """A cost with the rows of the later one that no price differs for."""
    known = {
        row.asked: row
        for row in later.rows
        if all(need.chemical not in differs and differs.isdisjoint(need.swap) for need in row.asked)
    }
    return cost_of(needs, market, later.batch_litres, known)


def _jars(offers: tuple[PricedOffer, ...] | None) -> set[tuple[object, ...]]:
    """What of a chemical can be bought: decides between an ingredient and its alternatives."""
    return {(offer.offer.form, offer.jar.assay) for offer in offers or ()}


def _figures(offers: tuple[PricedOffer, ...] | None) -> list[tuple[object, ...]]:
    """All of a chemical's offers that a cost depends on."""
    return [(offer.id, offer.price.number, offer.amount, offer.jar.assay) for offer in offers or ()]


def _asked(formula_id: str, catalogue: Catalogue) -> _Asked:
    """Walk a formula and the solutions it uses; checks have refused circles."""
    formula = catalogue.formulas[formula_id]
    chemicals = {item.chemical for item in formula.items if item.chemical}
    chemicals |= {swap for item in formula.items if isinstance(item, Ingredient) for swap in item.swap}
    if formula.water != TAP or catalogue.settings.tap_water is None:
        chemicals.add(WATER)
    used = [_asked(inner, catalogue) for inner in uses(formula)]
    return _Asked(
        frozenset(chemicals).union(*(other.chemicals for other in used)),
        any(ingredient.alternatives for ingredient in formula.ingredients) or any(other.choice for other in used),
    )


def _history(costs: list[Cost], states: list[State], days: list[date]) -> CostHistory:
    points = tuple(
        CostPoint(state.day, cost.used_per_litre, cost.to_start, alone, cost.missing)
        for state, cost, alone in zip(states, costs, _by_price(costs, states), strict=True)
    )
    for index in range(len(days) - 1, 0, -1):
        if costs[index] is not costs[index - 1] and _bought(costs[index]) != _bought(costs[index - 1]):
            then, now = costs[index - 1], costs[-1]
            markets = (states[index - 1].market, states[-1].market)
            return CostHistory(points, then_now(days[index], days[index - 1], then, now, *markets))
    return CostHistory(points, None)


def _by_price(costs: list[Cost], states: list[State]) -> list[Money | None]:
    """The cost on each day as prices alone would have made it; a day without a whole price is passed over."""
    at_old_choice: list[Money | None] = []
    last: Cost | None = None
    alone: Money | None = None
    for cost, state in zip(costs, states, strict=True):
        used = cost.used_per_litre
        if used is not None and cost is not last:
            if last is None or last.used_per_litre is None or alone is None:
                alone = used
            else:
                more = used.number - last.used_per_litre.number - by_choice(last, cost, state.market)
                alone = Money(alone.number + more, used.currency)
            last = cost
        at_old_choice.append(None if used is None else alone)
    return at_old_choice


def _bought(cost: Cost) -> list[tuple[object, ...]]:
    """What is bought and at which listed price: what a price list can change, as an exchange rate cannot."""
    return list(_listed(cost))


def _listed(cost: Cost) -> Iterator[tuple[object, ...]]:
    for row in cost.rows:
        offer = row.offer
        yield (
            row.chemical,
            row.per_litre,
            row.packs,
            offer and (offer.key, offer.listed.number, offer.listed.currency),
        )
