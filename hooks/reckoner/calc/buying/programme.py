"""The cheapest basket as an integer programme, solved to proven optimum by HiGHS."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import highspy

from reckoner.calc.buying.basket_task import PACKS, WHOLE, PackOption, Task
from reckoner.calc.buying.solver import solver
from reckoner.calc.buying.terms import Terms

#: Coefficients go to the solver in millionths, far inside what its tolerances tell apart.
SCALE = WHOLE // 1_000_000


def most_packs(choice: PackOption, open_parts: int, terms: Terms) -> int:
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
    """The integer programme of one task.

    Args:
        most_sellers: how many sellers may be ordered from.
        all_used: every seller of an offer is ordered from, which makes it far easier.
    """

    def __init__(self, task: Task, most_sellers: int | None = None, all_used: bool = False) -> None:
        self.solver, self.all_used = solver(), all_used
        self.choices = task.offers
        self.terms = {c.seller: task.terms.get(c.seller, Terms()) for c in self.choices}
        self.bounds = [most_packs(c, task.pools[c.pool], self.terms[c.seller]) for c in self.choices]
        self.x = [self.solver.addIntegral(lb=0, ub=bound) for bound in self.bounds]
        self.used = {s: 1 if all_used else self.solver.addBinary() for s in sorted(self.terms)}
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
        if not self.all_used:
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

    def solve(self) -> bool:
        """Solve to proven optimum; False where no basket meets the conditions."""
        self.solver.minimize(PACKS * self.cost + _sum(self.x))
        status: bool = self.solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        return status

    def bought(self) -> dict[str, int]:
        """Whole packs of the last solution."""
        return {c.id: count for c, x in zip(self.choices, self.x, strict=True) if (count := round(self.solver.val(x)))}


def _sum(terms: Iterable[Any]) -> Any:
    return highspy.Highs.qsum(list(terms))
