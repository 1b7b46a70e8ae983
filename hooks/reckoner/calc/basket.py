"""The cheapest basket of whole packs: an integer programme, solved to proven optimum by HiGHS.

All figures are whole numbers: money in minor units, demand as 1 000 000 000 parts of each pool. What comes back from
the solver is rounded to whole packs and every sum is worked out from them again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import highspy

from reckoner.calc.solver import solver

#: A pool's whole demand; a pack gives so many of these parts.
WHOLE = 1_000_000_000
#: Coefficients go to the solver in millionths, far inside what its tolerances tell apart.
SCALE = WHOLE // 1_000_000
#: More packs than any basket holds: a minor unit saved counts before them.
PACKS = 1000


@dataclass(frozen=True)
class Choice:
    """One offer as the solver sees it.

    Attributes:
        id: sorts ties.
        seller: who sends it; offers fetched from the shop have a seller of their own.
        pool: the demand it fills.
        gives: parts of the pool that one pack fills, rounded up: a third of a pool thrice is the whole of it.
        price: minor units of the owner's currency with tax and duty.
        listed: minor units as the supplier lists it: what thresholds and minimum orders count.
    """

    id: str
    seller: str
    pool: str
    gives: int
    price: int
    listed: int


@dataclass(frozen=True)
class Terms:
    """What a seller asks for an order: delivery in the owner's minor units, limits in the seller's own as listed."""

    delivery: int = 0
    free_from: int | None = None
    minimum: int = 0


@dataclass(frozen=True)
class Task:
    """Pools with their open demand in parts (WHOLE and less), offers, and each seller's terms."""

    pools: Mapping[str, int]
    choices: tuple[Choice, ...]
    terms: Mapping[str, Terms]


@dataclass(frozen=True)
class Basket:
    """What to buy.

    Attributes:
        packs: whole packs by offer, those bought only, sorted by id.
        goods: minor units by seller.
        delivery: minor units by seller, 0 where it is free.
    """

    packs: Mapping[str, int]
    goods: Mapping[str, int]
    delivery: Mapping[str, int]

    @property
    def total(self) -> int:
        """Goods and delivery, minor units."""
        return sum(self.goods.values()) + sum(self.delivery.values())


def cheapest(task: Task, most_sellers: int | None = None, fewest: bool = True) -> Basket | None:
    """The cheapest basket, of equal ones that with the fewest packs; None where there is none.

    One thread, one seed and offers sorted by id: the same task has the same answer every time.

    Args:
        most_sellers: how many sellers may be ordered from.
        fewest: whether packs count among equal ones; where only sums matter it is faster without.
    """
    if not any(task.pools.values()):
        return Basket({}, {}, {})
    if any(left and not any(c.pool == pool for c in task.choices) for pool, left in task.pools.items()):
        return None
    model = Model(task, most_sellers)
    return basket_of(model.bought(), task) if model.solve(fewest) else None


def basket_of(packs: Mapping[str, int], task: Task) -> Basket:
    """Sums of given packs, from the whole packs in minor units: no figure of the solver goes into them."""
    goods: dict[str, int] = {}
    listed: dict[str, int] = {}
    bought = [(choice, packs[choice.id]) for choice in task.choices if packs.get(choice.id)]
    for choice, count in bought:
        goods[choice.seller] = goods.get(choice.seller, 0) + count * choice.price
        listed[choice.seller] = listed.get(choice.seller, 0) + count * choice.listed
    delivery = {seller: _delivery(task.terms.get(seller, Terms()), sum_) for seller, sum_ in sorted(listed.items())}
    kept = {choice.id: count for choice, count in sorted(bought, key=lambda pair: pair[0].id)}
    return Basket(kept, dict(sorted(goods.items())), delivery)


def _delivery(terms: Terms, listed: int) -> int:
    free = terms.free_from is not None and listed >= terms.free_from
    return 0 if free else terms.delivery


def most_packs(choice: Choice, open_parts: int, terms: Terms) -> int:
    """The most packs of an offer that a cheapest basket can hold.

    Enough for the whole pool, and beyond that only to reach a minimum order, or free delivery for less than its
    charge.
    """
    needed = -(-open_parts // choice.gives)
    beyond = -(-terms.minimum // choice.listed)
    if terms.free_from is not None:
        beyond = max(beyond, -(-terms.delivery // choice.price))
    return needed + beyond


class Model:
    """The integer programme of one task."""

    def __init__(self, task: Task, most_sellers: int | None) -> None:
        self.solver = solver()
        self.choices = _distinct(choice for choice in task.choices if choice.gives > 0 and task.pools.get(choice.pool))
        self.terms = {c.seller: task.terms.get(c.seller, Terms()) for c in self.choices}
        self.bounds = [most_packs(c, task.pools[c.pool], self.terms[c.seller]) for c in self.choices]
        self.x = [self.solver.addIntegral(lb=0, ub=bound) for bound in self.bounds]
        self.used = {seller: self.solver.addBinary() for seller in sorted(self.terms)}
        self.free = {s: self.solver.addBinary() for s, t in sorted(self.terms.items()) if t.free_from is not None}
        self._fill(task)
        self._order()
        if most_sellers is not None:
            self.solver.addConstr(_sum(self.used.values()) <= most_sellers)
        self.cost = _sum(c.price * x for c, x in zip(self.choices, self.x, strict=True)) + self._deliveries()

    def _fill(self, task: Task) -> None:
        for pool, open_parts in sorted(task.pools.items()):
            if open_parts:
                pairs = zip(self.choices, self.x, strict=True)
                given = _sum(min(c.gives, open_parts) / SCALE * x for c, x in pairs if c.pool == pool)
                self.solver.addConstr(given >= open_parts / SCALE)

    def _order(self) -> None:
        for choice, x, bound in zip(self.choices, self.x, self.bounds, strict=True):
            self.solver.addConstr(x <= bound * self.used[choice.seller])
        for seller, terms in sorted(self.terms.items()):
            pairs = zip(self.choices, self.x, strict=True)
            listed = _sum(c.listed * x for c, x in pairs if c.seller == seller)
            if terms.minimum:
                self.solver.addConstr(listed >= terms.minimum * self.used[seller])
            if seller in self.free and terms.free_from is not None:
                self.solver.addConstr(listed >= terms.free_from * self.free[seller])
                self.solver.addConstr(self.free[seller] <= self.used[seller])

    def _deliveries(self) -> Any:
        paid = _sum(terms.delivery * self.used[seller] for seller, terms in sorted(self.terms.items()))
        return paid - _sum(self.terms[seller].delivery * free for seller, free in self.free.items())

    def solve(self, fewest: bool = True) -> bool:
        """Solve to proven optimum; False where no basket meets the conditions."""
        self.solver.minimize(PACKS * self.cost + _sum(self.x) if fewest else self.cost)
        status: bool = self.solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        return status

    def bought(self) -> dict[str, int]:
        """Whole packs of the last solution."""
        return {c.id: count for c, x in zip(self.choices, self.x, strict=True) if (count := round(self.solver.val(x)))}


def _distinct(choices: Iterable[Choice]) -> list[Choice]:
    """Sorted by id; of offers that are alike in all that counts the first."""
    found: dict[tuple[str, str, int, int, int], Choice] = {}
    for choice in sorted(choices, key=lambda one: one.id):
        found.setdefault((choice.seller, choice.pool, choice.gives, choice.price, choice.listed), choice)
    return list(found.values())


def _sum(terms: Iterable[Any]) -> Any:
    return highspy.Highs.qsum(list(terms))
