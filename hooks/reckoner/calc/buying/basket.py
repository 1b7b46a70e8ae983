"""The cheapest basket of whole packs: every set of a few sellers tried, else an integer programme.

Whatever finds the packs, every sum is worked out from them again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from reckoner.calc.buying.basket_task import Task
from reckoner.calc.buying.few_sellers import TooMany, search
from reckoner.calc.buying.programme import Model
from reckoner.calc.buying.terms import Terms
from reckoner.money import Minor


@dataclass(frozen=True)
class Basket:
    """What to buy.

    Attributes:
        packs: whole packs by offer, those bought only, sorted by id.
        goods: by seller.
        delivery: by seller, 0 where it is free.
    """

    packs: Mapping[str, int]
    goods: Mapping[str, Minor]
    delivery: Mapping[str, Minor]

    @property
    def total(self) -> Minor:
        """Goods and delivery."""
        return Minor(sum(self.goods.values()) + sum(self.delivery.values()))


def cheapest(task: Task, most_sellers: int | None = None) -> Basket | None:
    """The cheapest basket, of equal ones that with the fewest packs; None where there is none.

    Offers are sorted by id; the solver has one thread and one seed: the same task has the same answer every time.

    Args:
        most_sellers: how many sellers may be ordered from.
    """
    if not any(task.pools.values()):
        return Basket({}, {}, {})
    if any(left and not any(c.pool == pool for c in task.choices) for pool, left in task.pools.items()):
        return None
    try:
        packs = search(task, most_sellers)
    except TooMany:
        model = Model(task, most_sellers)
        packs = model.bought() if model.solve() else None
    return None if packs is None else basket_of(packs, task)


def basket_of(packs: Mapping[str, int], task: Task) -> Basket:
    """Sums of given packs, from the whole packs in minor units: no figure of the solver goes into them."""
    goods: dict[str, Minor] = {}
    listed: dict[str, int] = {}
    bought = [(choice, packs[choice.id]) for choice in task.choices if packs.get(choice.id)]
    for choice, count in bought:
        goods[choice.seller] = Minor(goods.get(choice.seller, 0) + count * choice.price)
        listed[choice.seller] = listed.get(choice.seller, 0) + count * choice.listed
    delivery = {seller: task.terms.get(seller, Terms()).charge(sum_) for seller, sum_ in sorted(listed.items())}
    kept = {choice.id: count for choice, count in sorted(bought, key=lambda pair: pair[0].id)}
    return Basket(kept, dict(sorted(goods.items())), delivery)
