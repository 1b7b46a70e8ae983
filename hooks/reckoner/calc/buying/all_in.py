"""What a plan really costs: chemicals in used baths, baths poured away, left-overs that die, delivery.

Three figures are kept apart everywhere: *used* (what the baths consume), *to start* (the basket,
delivered) and *all-in*.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
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
from reckoner.money import shares, shares_of_rows
from reckoner.records.catalogue import Catalogue
from reckoner.records.plan import Plan
from reckoner.rounding import round_half_up

ZERO, ONE = Decimal(0), Decimal(1)


@dataclass(frozen=True)
class PlanSplit(Split):
    """What money went for, exact minor units of the owner's currency.

    Attributes:
        film: chemicals in baths that did their work.
        poured: chemicals in batches poured away before they were spent.
        dying: left-overs of opened packs that pass their keeping time before they can be used at the plan's rate.
        delivery: shared by value.
    """

    film: Decimal = ZERO
    poured: Decimal = ZERO
    dying: Decimal = ZERO
    delivery: Decimal = ZERO

    @property
    def used(self) -> Decimal:
        """What the baths consume, spent or poured away."""
        return self.film + self.poured


@dataclass(frozen=True)
class ChemicalCost:
    """One pool of a plan: its money, and the value of what is left and still good."""

    chemical: str
    parts: PlanSplit
    left_value: Decimal


@dataclass(frozen=True)
class FilmCost:
    """Cost of one film of a format, minor units; the three figures are never added.

    Attributes:
        used: what the baths consume.
        to_start: its part of the basket.
        all_in: used, what dies unused, and delivery.
    """

    format: str
    used: Decimal
    to_start: Decimal
    all_in: Decimal


@dataclass(frozen=True)
class ProcessCost:
    """What a plan's film through one process costs."""

    process: str
    rolls: Decimal
    parts: PlanSplit
    films: tuple[FilmCost, ...]

    @property
    def per_roll(self) -> Decimal | None:
        """All-in, minor units for one roll; None where litres are planned and not film."""
        return self.parts.total / self.rolls if self.rolls else None


@dataclass(frozen=True)
class AllIn:
    """The money of a plan.

    Attributes:
        to_start: the basket with its delivery, minor units.
        by_formula: formula id to its parts.
        unpriced: packs from the shelf of which nobody knows what they cost: they are counted as nothing.
    """

    to_start: int
    parts: PlanSplit
    chemicals: tuple[ChemicalCost, ...]
    by_formula: Mapping[str, PlanSplit]
    processes: tuple[ProcessCost, ...]
    unpriced: tuple[str, ...]

    @property
    def total(self) -> int:
        """All-in, in whole minor units."""
        return int(round_half_up(self.parts.total, ONE))

    @cached_property
    def table(self) -> tuple[tuple[int, ...], ...]:
        """Parts of each chemical's money in whole minor units; rows and columns add up to the total."""
        return shares_of_rows(self.total, [chemical.parts.parts for chemical in self.chemicals])

    @property
    def whole(self) -> tuple[int, ...]:
        """The parts of all money together: each the sum of its column."""
        return tuple(sum(column) for column in zip(*self.table, strict=True)) or (0, 0, 0, 0)

    @property
    def of_baths(self) -> Mapping[str, int]:
        """All-in of each bath, in whole minor units that add up to the total."""
        whole = shares(self.total, [parts.total for parts in self.by_formula.values()])
        return dict(zip(self.by_formula, whole, strict=True))


def all_in(bought: PlanBought, catalogue: Catalogue) -> AllIn:
    """Work out a plan's money from its basket."""
    litres = {bath.formula: bath.litres for bath in bought.baths}
    poured = {bath.formula: bath.poured for bath in bought.baths}
    delivery = _delivery(bought)
    chemicals, by_formula, unpriced = [], dict.fromkeys(litres, PlanSplit()), []
    start = dict.fromkeys(litres, ZERO)
    for pool in bought.pools:
        cost, left = _pool_cost(pool, bought.plan, catalogue, delivery)
        part_of = {formula: each * litres[formula] for formula, each in pool.pool.uses}
        mine = PlanSplit()
        for formula, share in part_of.items():
            spent = cost.times(share)
            split = PlanSplit(
                spent.film * (1 - poured[formula]), spent.film * poured[formula], spent.dying, spent.delivery
            )
            by_formula[formula] = by_formula[formula] + split
            mine = mine + split
            start[formula] += share * (_paid(pool) + cost.delivery)
        chemicals.append(ChemicalCost(pool.pool.chemical, mine, left))
        unpriced += [pack.pack.chemical for pack in pool.shelf if pack.amount and pack.pack.paid is None]
    return AllIn(
        to_start=bought.total,
        parts=_sum(by_formula.values()),
        chemicals=tuple(sorted(chemicals, key=lambda c: (-c.parts.total, c.chemical))),
        by_formula=by_formula,
        processes=_processes(bought.plan, by_formula, start, catalogue),
        unpriced=tuple(sorted(set(unpriced))),
    )


def _sum(parts: Iterable[PlanSplit]) -> PlanSplit:
    total = PlanSplit()
    for part in parts:
        total = total + part
    return total


def _delivery(bought: PlanBought) -> dict[str, Decimal]:
    """Delivery by offer: each order's charge shared over its goods by value."""
    charges: dict[str, Decimal] = {}
    for order in bought.orders:
        for line in order.lines:
            share = Decimal(order.delivery) * line.price / order.goods
            charges[line.offer.id] = charges.get(line.offer.id, ZERO) + share
    return charges


def _pool_cost(
    pool: PoolBought, plan: Plan, catalogue: Catalogue, delivery: Mapping[str, Decimal]
) -> tuple[PlanSplit, Decimal]:
    """Money of a whole pool as if all were used (``film``), and the value left over that is still good."""
    paid = _paid(pool)
    got = sum((pool.pool.share(line.offer) * line.packs for line in pool.bought), ZERO)
    from_packs = sum((used.share for used in pool.shelf), ZERO)
    fresh = paid * (1 - from_packs) / got if got else ZERO
    left = paid - fresh
    dying = left * dies(pool, plan, catalogue)
    sent = sum((delivery[line.offer.id] for line in pool.bought), ZERO)
    return PlanSplit(
        film=fresh + sum((used.paid or ZERO for used in pool.shelf), ZERO), dying=dying, delivery=sent
    ), left - dying


def _paid(pool: PoolBought) -> Decimal:
    return Decimal(sum(line.price for line in pool.bought))


def dies(pool: PoolBought, plan: Plan, catalogue: Catalogue) -> Decimal:
    """The part of the left-over that dies, 0 to 1: the owner goes on at the plan's rate, and opened the packs on its
    first day."""
    if plan.nothing_after:
        return ONE
    days = opened_keeps(catalogue.chemicals[pool.pool.chemical])
    if days is None or not pool.left_share:
        return ZERO
    after = max(ZERO, days - plan_days(plan))
    usable = after / plan_days(plan)
    return max(ZERO, 1 - usable / pool.left_share)


def dead_on(pool: PoolBought, catalogue: Catalogue) -> date | None:
    """The day on which what is left of a pool has passed its keeping time, opened today; None where it keeps."""
    days = opened_keeps(catalogue.chemicals[pool.pool.chemical])
    return None if days is None else catalogue.today + timedelta(days=days)


def _processes(
    plan: Plan, by_formula: Mapping[str, PlanSplit], start: Mapping[str, Decimal], catalogue: Catalogue
) -> tuple[ProcessCost, ...]:
    """Each process's part: a bath that several processes share is split by their film."""
    wanted = sorted({want.process for want in plan.wants if want.process and want.films})
    rolls = {process: plan_rolls(plan, process, catalogue) for process in wanted}
    baths = {process: usual_baths(catalogue.processes[process]) for process in wanted}
    through: dict[str, Decimal] = {}
    for process in wanted:
        for bath in baths[process]:
            through[bath] = through.get(bath, ZERO) + rolls[process]
    process_costs = []
    for process in wanted:
        mine = _sum(by_formula[bath].times(rolls[process] / through[bath]) for bath in baths[process])
        basket = sum((start[bath] * rolls[process] / through[bath] for bath in baths[process]), ZERO)
        each = tuple(sum_ / rolls[process] for sum_ in (mine.used, basket, mine.total))
        process_costs.append(ProcessCost(process, rolls[process], mine, _films(plan, process, each, catalogue)))
    return tuple(process_costs)


def _films(plan: Plan, process: str, each: tuple[Decimal, ...], catalogue: Catalogue) -> tuple[FilmCost, ...]:
    """One film of each format that the plan or the owner uses; ``each`` are the costs of a roll."""
    planned = (film.format for want in plan.wants if want.process == process for film in want.films)
    used, to_start, total = each
    return tuple(
        FilmCost(name, used * (rolls := rolls_of(catalogue.films[name])), to_start * rolls, total * rolls)
        for name in dict.fromkeys((*planned, *catalogue.settings.formats))
        if name in catalogue.films
    )
