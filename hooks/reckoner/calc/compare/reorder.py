"""What an owner orders when something runs short: the cheapest basket of whole packs, as a plan buys it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache

from reckoner.calc.buying.basket import cheapest
from reckoner.calc.buying.basket_task import FETCHED, WHOLE, PackOption, Task
from reckoner.calc.buying.terms import Terms
from reckoner.calc.compare.cupboard import Pack
from reckoner.money import Minor
from reckoner.rounding import up

#: So many baskets are remembered: a site that is built again while its author writes asks for the same ones.
REMEMBERED = 4096


@dataclass(frozen=True)
class Shop:
    """All packs that may be bought, and who sends them."""

    packs: Mapping[str, Pack]
    sellers: Mapping[str, Terms]

    @cached_property
    def by_need(self) -> Mapping[str, tuple[Pack, ...]]:
        """The packs that fill each need."""
        packs: dict[str, tuple[Pack, ...]] = {}
        for pack in self.packs.values():
            packs[pack.fills] = (*packs.get(pack.fills, ()), pack)
        return packs

    def basket(self, short: Mapping[str, Decimal], usable: Mapping[str, Decimal]) -> Mapping[str, int]:
        """The cheapest packs that fill every need, with delivery and minimum orders.

        Args:
            short: amount by need.
            usable: by pack, what of one unit can be used before it dies, once opened.

        Returns:
            packs by id.
        """
        return self._no_choice(short, usable) or self._solved(short, usable)

    def charge(self, packs: Mapping[str, int]) -> Mapping[str, Decimal]:
        """Delivery of an order by seller."""
        goods: dict[str, Decimal] = {}
        for pack_id, count in packs.items():
            pack = self.packs[pack_id]
            if pack.seller is not None:
                goods[pack.seller] = goods.get(pack.seller, Decimal(0)) + pack.goods * count
        return {seller: Decimal(self.sellers[seller].charge(int(listed))) for seller, listed in goods.items()}

    def _no_choice(self, short: Mapping[str, Decimal], usable: Mapping[str, Decimal]) -> dict[str, int] | None:
        """Where each need is filled by one pack only and no seller sets a limit, nothing is left to solve."""
        packs_needed = {}
        for pool, amount in short.items():
            packs = self.by_need.get(pool, ())
            if len(packs) != 1 or self._limits(packs[0]):
                return None
            packs_needed[packs[0].id] = up(amount / (usable[packs[0].id] * packs[0].units))
        return packs_needed

    def _limits(self, pack: Pack) -> bool:
        return pack.seller is not None and self.sellers[pack.seller].limited

    def _solved(self, short: Mapping[str, Decimal], usable: Mapping[str, Decimal]) -> Mapping[str, int]:
        choices = tuple(
            PackOption(
                id=pack.id,
                seller=pack.seller or FETCHED,
                pool=pack.fills,
                gives=up(usable[pack.id] * pack.units / short[pack.fills] * WHOLE),
                price=Minor(int(pack.price)),
                listed=Minor(int(pack.goods)),
            )
            for pack in self.packs.values()
            if pack.fills in short
        )
        return dict(_cheapest(tuple(sorted(short)), choices, tuple(sorted(self.sellers.items()))))


@lru_cache(maxsize=REMEMBERED)
def _cheapest(
    pools: tuple[str, ...], choices: tuple[PackOption, ...], terms: tuple[tuple[str, Terms], ...]
) -> tuple[tuple[str, int], ...]:
    """Packs that fill all of some pools; solving is what takes time."""
    basket = cheapest(Task(dict.fromkeys(pools, WHOLE), choices, dict(terms)))
    assert basket is not None, "every need has an offer, and enough packs meet any minimum order"
    return tuple(basket.packs.items())
