"""What a plan really costs: chemicals in used baths, baths poured away, left-overs that die, delivery.

Three figures are kept apart everywhere: *used* (what the baths consume), *to start* (the basket,
delivered) and *all-in*.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property

from reckoner.calc.buying.demand import plan_rolls
from reckoner.calc.buying.pack_keeping import opened_keeps
from reckoner.calc.buying.plan_basket import PlanBought, PoolBought
from reckoner.calc.film.capacity import rolls_of
from reckoner.calc.film.film_baths import plan_days
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.calc.prices.money_split import Split
from reckoner.money import Money, in_currency, money_shares, nothing, shares_of_rows, sum_money
from reckoner.records.catalogue import Catalogue
from reckoner.records.plan import Plan
from reckoner.units import Proportion, Rolls

ZERO = Decimal(0)
NONE, ALL = Proportion(ZERO), Proportion(Decimal(1))


@dataclass(frozen=True)
class PlanSplit(Split[Money]):
    """What money went for, exact, in the owner's currency.

    Attributes:
        film: chemicals in baths that did their work.
        poured: chemicals in batches poured away before they were spent.
        dying: left-overs of opened packs that pass their keeping time before they can be used at the plan's rate.
        delivery: shared by value.
    """

    film: Money
    poured: Money
    dying: Money
    delivery: Money

    @property
    def used(self) -> Money:
        """What the baths consume, spent or poured away."""
        return self.film + self.poured


@dataclass(frozen=True)
class ChemicalCost:
    """One pool of a plan: its money, and the value of what is left and still good."""

    chemical: str
    parts: PlanSplit
    left_value: Money


@dataclass(frozen=True)
class FilmCost:
    """Cost of one film of a format; the three figures are never added.

    Attributes:
        used: what the baths consume.
        to_start: its part of the basket.
        all_in: used, what dies unused, and delivery.
    """

    format: str
    used: Money
    to_start: Money
    all_in: Money


@dataclass(frozen=True)
class ProcessCost:
    """What a plan's film through one process costs."""

    process: str
    rolls: Rolls
    parts: PlanSplit
    films: tuple[FilmCost, ...]

    @property
    def per_roll(self) -> Money | None:
        """All-in, for one roll; None where litres are planned and not film."""
        return self.parts.total / self.rolls if self.rolls else None


@dataclass(frozen=True)
class AllIn:
    """The money of a plan.

    Attributes:
        to_start: the basket with its delivery.
        by_formula: formula id to its parts.
        unpriced: packs from the shelf of which nobody knows what they cost: they are counted as nothing.
    """

    to_start: Money
    parts: PlanSplit
    chemicals: tuple[ChemicalCost, ...]
    by_formula: Mapping[str, PlanSplit]
    processes: tuple[ProcessCost, ...]
    unpriced: tuple[str, ...]

    @property
    def total(self) -> Money:
        """All-in, in whole minor units."""
        return self.parts.total.whole

    @cached_property
    def table(self) -> tuple[PlanSplit, ...]:
        """Each chemical's money in whole minor units; rows and columns add up to the total."""
        exact = [[part.exact_minor for part in chemical.parts.parts] for chemical in self.chemicals]
        rows, currency = shares_of_rows(self.total.minor, exact), self.total.currency
        return tuple(PlanSplit(*(in_currency(part, currency) for part in row)) for row in rows)

    @property
    def whole(self) -> PlanSplit:
        """All money together: each part the sum of its column."""
        return _sum(self.table, self.total.currency)

    @property
    def of_baths(self) -> Mapping[str, Money]:
        """All-in of each bath, in whole minor units that add up to the total."""
        whole = money_shares(self.total, [parts.total for parts in self.by_formula.values()])
        return dict(zip(self.by_formula, whole, strict=True))


def all_in(bought: PlanBought, catalogue: Catalogue) -> AllIn:
    """Work out a plan's money from its basket."""
    litres = {bath.formula: bath.litres for bath in bought.baths}
    poured = {bath.formula: bath.poured for bath in bought.baths}
    delivery, currency = _delivery(bought), catalogue.settings.currency
    none = _sum((), currency)
    chemicals, by_formula, unpriced = [], dict.fromkeys(litres, none), []
    start = dict.fromkeys(litres, nothing(currency))
    for pool in bought.pools:
        cost, left = _pool_cost(pool, bought.plan, catalogue, delivery)
        part_of = {formula: each * litres[formula] for formula, each in pool.pool.uses}
        mine = none
        for formula, share in part_of.items():
            spent = cost.times(share)
            split = PlanSplit(
                spent.film * (1 - poured[formula]), spent.film * poured[formula], spent.dying, spent.delivery
            )
            by_formula[formula] = by_formula[formula] + split
            mine = mine + split
            start[formula] += (_paid(pool, currency) + cost.delivery) * share
        chemicals.append(ChemicalCost(pool.pool.chemical, mine, left))
        unpriced += [pack.pack.chemical for pack in pool.shelf if pack.amount and pack.pack.paid is None]
    return AllIn(
        to_start=bought.total,
        parts=_sum(by_formula.values(), currency),
        chemicals=tuple(sorted(chemicals, key=lambda c: (-c.parts.total.number, c.chemical))),
        by_formula=by_formula,
        processes=_processes(bought.plan, by_formula, start, catalogue),
        unpriced=tuple(sorted(set(unpriced))),
    )


def _sum(parts: Iterable[PlanSplit], currency: str) -> PlanSplit:
    return sum(parts, PlanSplit(*[nothing(currency)] * len(fields(PlanSplit))))


def _delivery(bought: PlanBought) -> dict[str, Money]:
    """Delivery by offer: each order's charge shared over its goods by value."""
    charges: dict[str, Money] = {}
    for order in bought.orders:
        for line in order.lines:
            share = order.delivery * line.price.number / order.goods.number
            charges[line.offer.id] = charges.get(line.offer.id, nothing(share.currency)) + share
    return charges


def _pool_cost(
    pool: PoolBought, plan: Plan, catalogue: Catalogue, delivery: Mapping[str, Money]
) -> tuple[PlanSplit, Money]:
    """Money of a whole pool as if all were used (``film``), and the value left over that is still good."""
    currency = catalogue.settings.currency
    paid = _paid(pool, currency)
    got = sum((pool.pool.share(line.offer) * line.packs for line in pool.bought), ZERO)
    from_packs = sum((used.share for used in pool.shelf), ZERO)
    fresh = paid * (1 - from_packs) / got if got else nothing(currency)
    left = paid - fresh
    dying = left * dies(pool, plan, catalogue)
    sent = sum_money((delivery[line.offer.id] for line in pool.bought), currency)
    from_shelf = sum_money((used.paid for used in pool.shelf if used.paid), currency)
    return PlanSplit(fresh + from_shelf, nothing(currency), dying, sent), left - dying


def _paid(pool: PoolBought, currency: str) -> Money:
    return sum_money((line.price for line in pool.bought), currency)


def dies(pool: PoolBought, plan: Plan, catalogue: Catalogue) -> Proportion:
    """The part of the left-over that dies, 0 to 1: the owner goes on at the plan's rate, and opened the packs on its
    first day."""
    if plan.nothing_after:
        return ALL
    days = opened_keeps(catalogue.chemicals[pool.pool.chemical])
    if days is None or not pool.left_share:
        return NONE
    after = max(ZERO, days - plan_days(plan))
    usable = after / plan_days(plan)
    return Proportion(max(ZERO, 1 - usable / pool.left_share))


def dead_on(pool: PoolBought, catalogue: Catalogue) -> date | None:
    """The day on which what is left of a pool has passed its keeping time, opened today; None where it keeps."""
    days = opened_keeps(catalogue.chemicals[pool.pool.chemical])
    return None if days is None else catalogue.today + timedelta(days=days)


def _processes(
    plan: Plan, by_formula: Mapping[str, PlanSplit], start: Mapping[str, Money], catalogue: Catalogue
) -> tuple[ProcessCost, ...]:
    """Each process's part: a bath that several processes share is split by their film."""
    wanted = sorted({want.process for want in plan.wants if want.process and want.films})
    rolls = {process: plan_rolls(plan, process, catalogue) for process in wanted}
    baths = {process: usual_baths(catalogue.processes[process]) for process in wanted}
    through: dict[str, Decimal] = {}
    for process in wanted:
        for bath in baths[process]:
            through[bath] = through.get(bath, ZERO) + rolls[process]
    currency = catalogue.settings.currency
    process_costs = []
    for process in wanted:
        mine = _sum([by_formula[bath].times(rolls[process] / through[bath]) for bath in baths[process]], currency)
        basket = sum_money((start[bath] * rolls[process] / through[bath] for bath in baths[process]), currency)
        each = tuple(sum_ / rolls[process] for sum_ in (mine.used, basket, mine.total))
        process_costs.append(ProcessCost(process, rolls[process], mine, _films(plan, process, each, catalogue)))
    return tuple(process_costs)


def _films(plan: Plan, process: str, each: tuple[Money, ...], catalogue: Catalogue) -> tuple[FilmCost, ...]:
    """One film of each format that the plan or the owner uses; ``each`` are the costs of a roll."""
    planned = (film.format for want in plan.wants if want.process == process for film in want.films)
    used, to_start, total = each
    return tuple(
        FilmCost(name, used * (rolls := rolls_of(catalogue.films[name])), to_start * rolls, total * rolls)
        for name in dict.fromkeys((*planned, *catalogue.settings.formats))
        if name in catalogue.films
    )
