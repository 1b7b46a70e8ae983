"""Packs bought, opened and drawn down: what is left of each, and what has died in it.

Time is counted in whole rolls of film, so that ages compare exactly whatever the rate.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from reckoner.calc.days import DAYS

ZERO = Decimal(0)


@dataclass(frozen=True)
class Seller:
    """Who sends packs.

    Attributes:
        charge: for each order, in the owner's currency with tax.
        free_from: goods of this sum, as listed, are sent free.
        least: goods of this sum, as listed, are the least it sends.
    """

    id: str
    charge: Decimal = ZERO
    free_from: Decimal | None = None
    least: Decimal | None = None


@dataclass(frozen=True)
class Pack:
    """What is bought at one price.

    Attributes:
        holds: content of one unit, in g, mL or L as the baths take it.
        units: sold together; each is opened by itself.
        price: of all units, in the owner's currency with tax.
        goods: the same as its seller lists it, to compare with the seller's sums.
        seller: id, or None where nothing is sent.
        opened: days that it keeps once opened; None: as long as it did closed.
        sealed: days that it keeps closed; None: it keeps.
        ready: ready-made chemistry, not a raw chemical.
    """

    id: str
    holds: Decimal
    price: Decimal
    units: int = 1
    goods: Decimal = ZERO
    seller: str | None = None
    opened: Decimal | None = None
    sealed: Decimal | None = None
    ready: bool = False

    @property
    def worth(self) -> Decimal:
        """Price of one g, mL or L."""
        return self.price / (self.holds * self.units)


def rolls_within(days: Decimal | None, rate: Decimal) -> int | None:
    """How many rolls later something is still good; None: always.

    Args:
        days: that it keeps.
        rate: rolls a month.

    >>> rolls_within(Decimal(14), Decimal(3))
    1
    """
    if days is None:
        return None
    return int((days * rate / DAYS["months"]).to_integral_value(rounding=ROUND_FLOOR))


@dataclass
class _Unit:
    """One bottle or bag on the shelf; ``bought`` and ``opened`` in rolls."""

    pack: Pack
    left: Decimal
    bought: int
    opened: int | None = None


class Cupboard:
    """The packs at one moment; changes as baths are mixed."""

    def __init__(self, packs: Mapping[str, Pack], rate: Decimal) -> None:
        self._packs = packs
        self._opened = {i: rolls_within(pack.opened, rate) for i, pack in packs.items()}
        self._sealed = {i: rolls_within(pack.sealed, rate) for i, pack in packs.items()}
        self._units: dict[str, list[_Unit]] = {i: [] for i in packs}
        self.expired: dict[bool, Decimal] = {False: ZERO, True: ZERO}

    def restock(self, pack_id: str, amount: Decimal, now: int) -> int:
        """Buy as many packs as an amount is short of; what has died counts for nothing.

        Returns:
            how many packs were bought.
        """
        pack = self._packs[pack_id]
        self._clear_out(pack_id, now)
        short = amount - sum((unit.left for unit in self._units[pack_id]), ZERO)
        if short <= 0:
            return 0
        packs = int((short / (pack.holds * pack.units)).to_integral_value(rounding=ROUND_CEILING))
        self._units[pack_id] += [_Unit(pack, pack.holds, now) for _ in range(packs * pack.units)]
        return packs

    def draw(self, pack_id: str, amount: Decimal, now: int) -> Decimal:
        """Take an amount, from opened units first; it has been restocked.

        Returns:
            what was paid for the amount.
        """
        open_first = sorted(self._units[pack_id], key=lambda unit: unit.opened is None)
        wanted = amount
        for unit in open_first:
            taken = min(unit.left, wanted)
            if taken > 0:
                unit.left -= taken
                unit.opened = now if unit.opened is None else unit.opened
                wanted -= taken
        self._units[pack_id] = [unit for unit in open_first if unit.left > 0]
        return (amount - wanted) * self._packs[pack_id].worth

    def left(self, now: int) -> dict[bool, Decimal]:
        """What the good rest of all packs was worth when bought; ready-made chemistry apart."""
        found = {False: ZERO, True: ZERO}
        for pack_id, pack in self._packs.items():
            self._clear_out(pack_id, now)
            found[pack.ready] += _worth(self._units[pack_id])
        return found

    def _clear_out(self, pack_id: str, now: int) -> None:
        dead = [unit for unit in self._units[pack_id] if self._is_dead(unit, now)]
        self.expired[self._packs[pack_id].ready] += _worth(dead)
        self._units[pack_id] = [unit for unit in self._units[pack_id] if not self._is_dead(unit, now)]

    def _is_dead(self, unit: _Unit, now: int) -> bool:
        opened, sealed = self._opened[unit.pack.id], self._sealed[unit.pack.id]
        if unit.opened is not None and opened is not None:
            return now - unit.opened > opened
        return sealed is not None and now - unit.bought > sealed


def _worth(units: Iterable[_Unit]) -> Decimal:
    return sum((unit.left * unit.pack.worth for unit in units), ZERO)
