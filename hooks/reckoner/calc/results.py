"""Everything worked out from one catalogue: the figures that pages and the JSON show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from reckoner.calc.ageing import Aged, ages
from reckoner.calc.bath import FormulaResult, formula_result
from reckoner.calc.buying.all_in import AllIn, all_in
from reckoner.calc.buying.basket_before import BasketThen, before_newest_list
from reckoner.calc.buying.mixable import Lack, Mixable, lacking, mixable, standing_baths
from reckoner.calc.buying.plan_basket import PlanBought, buy
from reckoner.calc.buying.pools import own_jars
from reckoner.calc.compare.kit_or_own import Comparison, comparisons
from reckoner.calc.film.bottles import BottleState, bottle_states
from reckoner.calc.film.tank_loads import TankUse, tank_use
from reckoner.calc.hazards.cautions import step_cautions
from reckoner.calc.hazards.incompatible import Neighbours, neighbours
from reckoner.calc.mixing.rollup import uses
from reckoner.calc.mixing.scaling import first_litres, litre_lists
from reckoner.calc.not_working import not_working
from reckoner.calc.own_changes import OwnChanges, own_changes
from reckoner.calc.prices.complete_sets import Sets, sets_of, usual_baths
from reckoner.calc.prices.costing import Market
from reckoner.calc.prices.history import PriceHistory, price_history
from reckoner.calc.prices.offers import PricedOffer, priced_offers, sold
from reckoner.calc.provenance import Provenance, provenance
from reckoner.records.catalogue import Catalogue
from reckoner.records.caution import Caution
from reckoner.records.plan import Plan


@dataclass(frozen=True)
class PlanResult:
    """A plan's basket, its money, and what it would have bought before the newest price list."""

    bought: PlanBought
    money: AllIn
    then: BasketThen | None

    @property
    def sure(self) -> AllIn | None:
        """The money where there is a basket."""
        return None if self.bought.missing or self.bought.impossible else self.money


@dataclass(frozen=True)
class Results:
    """All figures of a handbook.

    Attributes:
        comparisons: plan id to its processes, each mixed and bought ready-made.
        history: what everything cost on the day of each price list, and what changed since.
        ages_of: the same ages by kind and subject.
        tanks: process id to its films and tanks.
        step_cautions: process id to the cautions of each step.
        used_in: chemical id to the ids of formulas that ask for it directly.
        part_of: formula id to the ids of formulas that use it as an ingredient.
        not_working: formula id to the formulas in it that do not work as written, where there are any.
        in_process: formula id to the ids of processes that accept it.
        rests_on: what every value of the handbook rests on.
        own_changes: what the owner's records say otherwise than the library's, by kind and id.
    """

    catalogue: Catalogue
    formulas: Mapping[str, FormulaResult]
    processes: Mapping[str, Sets]
    tanks: Mapping[str, TankUse]
    plans: Mapping[str, PlanResult]
    bottles: Mapping[str, BottleState]
    mixable: Mapping[str, Mixable]
    lacking: Mapping[str, tuple[Lack, ...]]
    comparisons: Mapping[str, tuple[Comparison, ...]]
    neighbours: Mapping[str, tuple[Neighbours, ...]]
    step_cautions: Mapping[str, tuple[tuple[Caution, ...], ...]]
    offers: Mapping[str, tuple[PricedOffer, ...]]
    history: PriceHistory
    ages: tuple[Aged, ...]
    ages_of: Mapping[tuple[str, str], tuple[Aged, ...]]
    used_in: Mapping[str, tuple[str, ...]]
    part_of: Mapping[str, tuple[str, ...]]
    in_process: Mapping[str, tuple[str, ...]]
    not_working: Mapping[str, tuple[str, ...]]
    rests_on: Provenance
    own_changes: Mapping[tuple[str, str], OwnChanges]

    @cached_property
    def past_limit(self) -> tuple[Aged, ...]:
        """Everything that is out of date, and every bottle that has expired."""
        return tuple(age for age in self.ages if age.old)


def work_out(catalogue: Catalogue) -> Results:
    """Calculate everything from a checked catalogue."""
    offers = priced_offers(catalogue)
    settings = catalogue.settings
    lists = litre_lists(catalogue.formulas, catalogue.chemicals)
    at_hand = own_jars(catalogue)
    market = Market(sold(offers), lists, catalogue.chemicals, settings.currency, settings.tap_water, at_hand)
    rollup = market.rollup
    first_batch = first_litres(settings)
    formulas = {
        formula_id: formula_result(listed, catalogue, rollup, market, first_batch)
        for formula_id, listed in lists.items()
    }
    dated = ages(catalogue)
    processes = {
        process_id: sets_of([catalogue.formulas[f] for f in usual_baths(process)], rollup, market, first_batch)
        for process_id, process in catalogue.processes.items()
    }
    plans = {i: _plan(plan, catalogue, market) for i, plan in catalogue.plans.items()}
    inside = {i: frozenset(part.chemical for part in r.hazards.composition.substances) for i, r in formulas.items()}
    bottles = bottle_states(catalogue)
    return Results(
        catalogue=catalogue,
        formulas=formulas,
        processes=processes,
        tanks={i: tank_use(process, catalogue) for i, process in catalogue.processes.items()},
        plans=plans,
        bottles={state.bottle.id: state for state in bottles},
        mixable=mixable(catalogue, rollup, market) if catalogue.shelf and catalogue.shelf.packs else {},
        lacking=lacking(catalogue, rollup, market, standing_baths(bottles, catalogue)) if catalogue.shelf else {},
        comparisons={i: comparisons(plan, catalogue, market, plans[i].sure) for i, plan in catalogue.plans.items()},
        neighbours=_neighbours(catalogue, inside),
        step_cautions={i: step_cautions(p, inside, catalogue) for i, p in catalogue.processes.items()},
        offers=offers,
        history=price_history(catalogue, market, {i: (r.needs, r.cost) for i, r in formulas.items()}, processes),
        ages=dated,
        ages_of=_by_subject(dated),
        used_in=_turned(_chemicals_asked(catalogue)),
        part_of=_turned((f.id, used) for f in catalogue.formulas.values() for used in uses(f)),
        in_process=_turned(_baths_named(catalogue)),
        not_working=not_working(catalogue.formulas),
        rests_on=provenance(catalogue),
        own_changes=own_changes(catalogue),
    )


def _plan(plan: Plan, catalogue: Catalogue, market: Market) -> PlanResult:
    bought = buy(plan, catalogue, market)
    return PlanResult(bought, all_in(bought, catalogue), before_newest_list(bought, catalogue, market))


def _by_subject(dated: tuple[Aged, ...]) -> dict[tuple[str, str], tuple[Aged, ...]]:
    by_subject: dict[tuple[str, str], tuple[Aged, ...]] = {}
    for aged in dated:
        by_subject[aged.kind, aged.subject] = (*by_subject.get((aged.kind, aged.subject), ()), aged)
    return by_subject


def _neighbours(catalogue: Catalogue, inside: Mapping[str, frozenset[str]]) -> dict[str, tuple[Neighbours, ...]]:
    if catalogue.incompatibilities is None:
        return {}
    return {
        process_id: tuple(neighbours(process, inside, catalogue.incompatibilities))
        for process_id, process in catalogue.processes.items()
    }


def _chemicals_asked(catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    for formula in catalogue.formulas.values():
        yield from ((formula.id, item.chemical) for item in formula.items if item.chemical)


def _baths_named(catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    for process in catalogue.processes.values():
        for step in process.steps:
            for bath in step.baths:
                yield process.id, bath.formula


def _turned(pairs: Iterator[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    """(user, used) pairs to used -> users, each sorted and once."""
    users_of: dict[str, set[str]] = {}
    for user, used in pairs:
        users_of.setdefault(used, set()).add(user)
    return {used: tuple(sorted(users)) for used, users in sorted(users_of.items())}
