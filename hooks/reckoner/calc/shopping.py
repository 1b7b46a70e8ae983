"""What an owner orders when something runs short: the cheapest basket of whole packs, as a plan buys it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal

from reckoner.calc.basket import WHOLE, Choice, Task, Terms, cheapest
from reckoner.calc.cupboard import Pack, Seller

#: Stands for the seller of what is fetched.
FETCHED = "/fetched"

Key = tuple[tuple[str, Decimal, Decimal | None], ...]


@dataclass(frozen=True)
class Shop:
    """All packs that may be bought, and who sends them.

    The same wants have the same basket; solving is what takes time, so answers are kept.
    """

    packs: Mapping[str, Pack]
    sellers: Mapping[str, Seller]
    _known: dict[Key, Mapping[str, int]] = field(default_factory=dict, init=False, repr=False, compare=False)

    def basket(self, short: Mapping[str, Decimal], most: Mapping[str, Decimal | None]) -> Mapping[str, int]:
        """The cheapest packs that fill every need, with delivery and minimum orders.

        Args:
            short: amount by need.
            most: by need, what of one opened unit can be used before it dies; None: all of it.

        Returns:
            packs by id.
        """
        key = tuple((pool, short[pool], most.get(pool)) for pool in sorted(short))
        if key not in self._known:
            self._known[key] = self._no_choice(short, most) or self._solved(short, most)
        return self._known[key]

    def charge(self, packs: Mapping[str, int]) -> Mapping[str, Decimal]:
        """Delivery of an order by seller."""
        goods: dict[str, Decimal] = {}
        for pack_id, count in packs.items():
            pack = self.packs[pack_id]
            if pack.seller is not None:
                goods[pack.seller] = goods.get(pack.seller, Decimal(0)) + pack.goods * count
        return {
            i: Decimal(0) if (free := self.sellers[i].free_from) is not None and listed >= free else seller.charge
            for i, listed in goods.items()
            if (seller := self.sellers[i])
        }

    def _no_choice(self, short: Mapping[str, Decimal], most: Mapping[str, Decimal | None]) -> dict[str, int] | None:
        """Where each need is filled by one pack only and no seller sets a limit, nothing is left to solve."""
        found = {}
        for pool, amount in short.items():
            packs = [pack for pack in self.packs.values() if pack.fills == pool]
            if len(packs) != 1 or self._limits(packs[0]):
                return None
            found[packs[0].id] = _up(amount / _usable(packs[0], most.get(pool)))
        return found

    def _limits(self, pack: Pack) -> bool:
        seller = self.sellers[pack.seller] if pack.seller is not None else None
        return seller is not None and not (seller.least is None and seller.free_from is None)

    def _solved(self, short: Mapping[str, Decimal], most: Mapping[str, Decimal | None]) -> Mapping[str, int]:
        choices = tuple(
            Choice(
                id=pack.id,
                seller=pack.seller or FETCHED,
                pool=pack.fills,
                gives=_up(_usable(pack, most.get(pack.fills)) / short[pack.fills] * WHOLE),
                price=int(pack.price),
                listed=int(pack.goods),
            )
            for pack in self.packs.values()
            if pack.fills in short
        )
        terms = {i: _terms(seller) for i, seller in self.sellers.items()}
        found = cheapest(Task(dict.fromkeys(short, WHOLE), choices, terms), fewest=False)
        assert found is not None, "every need has an offer, and enough packs meet any minimum order"
        return found.packs


def _usable(pack: Pack, most: Decimal | None) -> Decimal:
    """What a pack gives before its units, once opened, are dead."""
    return (pack.holds if most is None else min(pack.holds, most)) * pack.units


def _terms(seller: Seller) -> Terms:
    free = None if seller.free_from is None else int(seller.free_from)
    return Terms(int(seller.charge), free, int(seller.least or 0))


def _up(value: Decimal) -> int:
    return int(value.to_integral_value(rounding=ROUND_CEILING))
