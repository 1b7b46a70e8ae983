"""Packs owned, bought, opened and drawn down: what is left of each, and what has died in it.

Time is counted in whole films, the first being 1, so that ages compare exactly whatever the rate.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from reckoner.calc.film.days import MONTH
from reckoner.calc.film.whole_films import whole_down
from reckoner.money import NO_MONEY, ExactMinor

ZERO = Decimal(0)
#: What is missing of a mix below this part of it is the rounding of shares, and nobody weighs it.
TRIFLE = Decimal("1e-6")
#: The last roll that something serves which keeps.
EVERY_ROLL = sys.maxsize


@dataclass(frozen=True)
class Pack:
    """What is bought at one price.

    Attributes:
        holds: content of one unit, as the baths take it: in g, mL or L, or in parts of a need that several offers fill.
        units: sold together; each is opened by itself.
        price: of all units, in the owner's currency with tax.
        goods: the same as its seller lists it, to compare with the seller's sums.
        seller: id, or None where nothing is sent.
        opened: days that it keeps once opened; None: as long as it did closed.
        sealed: days that it keeps closed; None: it keeps.
        ready: ready-made chemistry, not a raw chemical.
        pool: the need that it fills; empty: its own, that nothing else fills.
    """

    id: str
    holds: Decimal
    price: ExactMinor
    units: int = 1
    goods: ExactMinor = NO_MONEY
    seller: str | None = None
    opened: Decimal | None = None
    sealed: Decimal | None = None
    ready: bool = False
    pool: str = ""

    @property
    def fills(self) -> str:
        """The need that it fills."""
        return self.pool or self.id

    @cached_property
    def worth(self) -> Decimal:
        """Price of one part of its content."""
        return self.price / (self.holds * self.units)


@dataclass(frozen=True)
class Owned:
    """A pack on the shelf on the first day.

    Attributes:
        pack: with the price paid; nothing where nobody remembers.
        left: of its content.
        keeps: days that it keeps from the first day as it is; None: it keeps.
        is_open: whether its seal is broken.
    """

    pack: Pack
    left: Decimal
    keeps: Decimal | None = None
    is_open: bool = False


def rolls_within(days: Decimal | None, rate: Decimal) -> int | None:
    """How many films later something is still good; None: always.

    Args:
        days: that it keeps.
        rate: films a month.

    >>> rolls_within(Decimal(14), Decimal(3))
    1
    """
    if days is None:
        return None
    return whole_down(days * rate / MONTH)


@dataclass(frozen=True)
class Withdrawal:
    """What a mix took: worth at the price paid, how much of that came from the shelf, and the amount not there."""

    worth: Decimal
    owned: Decimal
    short: Decimal


@dataclass(slots=True)
class _Unit:
    """One bottle or bag; ``good_until`` is the last roll it serves."""

    pack: Pack
    left: Decimal
    good_until: int
    is_open: bool = False
    owned: bool = False

    def copy(self) -> _Unit:
        return _Unit(self.pack, self.left, self.good_until, self.is_open, self.owned)


class Cupboard:
    """The packs at one moment; changes as baths are mixed. Of each need, opened units come first."""

    def __init__(self, packs: Mapping[str, Pack], rate: Decimal, shelf: Iterable[Owned] = ()) -> None:
        self._packs = packs
        self._rate = rate
        self._opened = {i: rolls_within(pack.opened, rate) for i, pack in packs.items()}
        self._sealed = {i: rolls_within(pack.sealed, rate) for i, pack in packs.items()}
        self._units: dict[str, list[_Unit]] = {}
        self.expired: dict[bool, Decimal] = {False: ZERO, True: ZERO}
        for owned in shelf:
            self._opened[owned.pack.id] = rolls_within(owned.pack.opened, rate)
            until = _last(1, rolls_within(owned.keeps, rate))
            unit = _Unit(owned.pack, owned.left, until, owned.is_open, owned=True)
            self._units.setdefault(owned.pack.fills, []).append(unit)
        for units in self._units.values():
            units.sort(key=lambda unit: not unit.is_open)

    def copy(self) -> Cupboard:
        """The same packs, to try something out."""
        other = copy(self)
        other.expired = dict(self.expired)
        other._units = {pool: [unit.copy() for unit in units] for pool, units in self._units.items()}
        return other

    def add(self, pack_id: str, packs: int, now: int) -> None:
        """Put packs in that were bought."""
        pack, until = self._packs[pack_id], _last(now, self._sealed[pack_id])
        units = self._units.setdefault(pack.fills, [])
        units += [_Unit(pack, pack.holds, until) for _ in range(packs * pack.units)]

    def short(self, pool: str, amount: Decimal, now: int) -> bool:
        """Whether less of an amount is there and good than a mix takes."""
        good = sum((unit.left for unit in self._units.get(pool, ()) if now <= unit.good_until), ZERO)
        return amount - good > amount * TRIFLE

    def draw(self, pool: str, amount: Decimal, now: int) -> Withdrawal:
        """Take as much of an amount as is there and good, from opened units first."""
        self._clear_out(pool, now)
        wanted, worth, owned = amount, ZERO, ZERO
        units = self._units[pool]
        while units and wanted > 0:
            unit = units[0]
            self._open(unit, now)
            part = min(unit.left, wanted)
            unit.left -= part
            wanted -= part
            worth += part * unit.pack.worth
            owned += part * unit.pack.worth if unit.owned else ZERO
            if not unit.left:
                units.pop(0)
        return Withdrawal(worth, owned, wanted if wanted > amount * TRIFLE else ZERO)

    def _open(self, unit: _Unit, now: int) -> None:
        opened = self._opened[unit.pack.id]
        if not unit.is_open and opened is not None:
            unit.good_until = now + opened
        unit.is_open = True

    def left(self, now: int) -> dict[bool, Decimal]:
        """What the good rest of all packs bought was worth when bought; ready-made chemistry apart."""
        rest = {False: ZERO, True: ZERO}
        for pool in self._units:
            self._clear_out(pool, now)
            for unit in self._units[pool]:
                rest[unit.pack.ready] += _paid(unit)
        return rest

    def _clear_out(self, pool: str, now: int) -> None:
        units = self._units.get(pool, [])
        for unit in units:
            if now > unit.good_until:
                self.expired[unit.pack.ready] += _paid(unit)
        self._units[pool] = [unit for unit in units if now <= unit.good_until]


def _last(now: int, keeps: int | None) -> int:
    return EVERY_ROLL if keeps is None else now + keeps


def _paid(unit: _Unit) -> Decimal:
    """What is left of a pack bought, at its price; the shelf was paid before."""
    return ZERO if unit.owned else unit.left * unit.pack.worth
