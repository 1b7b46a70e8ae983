"""What a basket is asked for: pools to fill, offers that fill them, and each seller's terms.

All figures are whole numbers: money in minor units, demand as 1 000 000 000 parts of each pool.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from reckoner.calc.buying.terms import Terms
from reckoner.money import Minor

#: A pool's whole demand; a pack gives so many of these parts.
WHOLE = 1_000_000_000
#: Stands for the seller of what is fetched: it makes an order of its own, without delivery.
FETCHED = "/fetched"
#: More packs than any basket holds: a minor unit saved counts before them.
PACKS = 1000


@dataclass(frozen=True)
class PackOption:
    """One offer as the solver sees it.

    Attributes:
        id: sorts ties.
        seller: who sends it; offers fetched from the shop have a seller of their own.
        pool: the demand it fills.
        gives: parts of the pool that one pack fills, rounded up: a third of a pool thrice is the whole of it.
        price: in the owner's currency with tax and duty.
        listed: as the supplier lists it, in its currency: what thresholds and minimum orders count.
    """

    id: str
    seller: str
    pool: str
    gives: int
    price: Minor
    listed: Minor


@dataclass(frozen=True)
class Task:
    """Pools with their open demand in parts (WHOLE and less), offers, and each seller's terms."""

    pools: Mapping[str, int]
    choices: tuple[PackOption, ...]
    terms: Mapping[str, Terms]

    @property
    def offers(self) -> tuple[PackOption, ...]:
        """What fills an open pool, sorted by id; of offers that are alike in all that counts the first."""
        distinct: dict[tuple[str, str, int, int, int], PackOption] = {}
        for option in sorted(self.choices, key=lambda choice: choice.id):
            if option.gives > 0 and self.pools.get(option.pool):
                distinct.setdefault((option.seller, option.pool, option.gives, option.price, option.listed), option)
        return tuple(distinct.values())
