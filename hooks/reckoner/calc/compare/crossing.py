"""Where one way becomes cheaper than another, and what the difference is made of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from decimal import Decimal

from reckoner.calc.compare.simulated_side import ZERO, Run, SpendingSplit
from reckoner.money import ExactMinor
from reckoner.rounding import whole


@dataclass(frozen=True)
class Crossing:
    """The roll (or batch) from which the other side is cheaper for a while."""

    at: int
    mixing: bool


@dataclass(frozen=True)
class Decisive:
    """The part of the money that makes the most of the difference.

    Attributes:
        part: name of one of the parts of spending.
        own, other: what mixing and the other way spend on it, minor units.
        bath: where batches are poured away, the bath that loses most, else empty.
    """

    part: str
    own: ExactMinor
    other: ExactMinor
    bath: str = ""


def crossings(own: Sequence[Decimal], other: Sequence[Decimal]) -> tuple[Crossing, ...]:
    """Every place where the cheaper side changes, the first count being 1; equal sums change nothing.

    Mixing at 10, 10, 10 against 6, 6, 12: the kit is cheaper at first, mixing from the third.

    >>> crossings([Decimal(10)] * 3, [Decimal(6), Decimal(6), Decimal(12)])
    (Crossing(at=1, mixing=False), Crossing(at=3, mixing=True))
    """
    changes: list[Crossing] = []
    for at, difference in enumerate(_differences(own, other), 1):
        mixing = difference < 0
        if difference != 0 and (not changes or changes[-1].mixing is not mixing):
            changes.append(Crossing(at, mixing))
    return tuple(changes)


def stays_cheaper(own: Sequence[Decimal], other: Sequence[Decimal]) -> int | None:
    """The first count from which mixing is cheaper to the end, or None.

    >>> stays_cheaper([Decimal(10)] * 4, [Decimal(6), Decimal(12), Decimal(10), Decimal(18)])
    4
    """
    first = None
    for at, difference in enumerate(_differences(own, other), 1):
        if difference >= 0:
            first = None
        elif first is None:
            first = at
    return first


def decisive(own: Run, other: Run, chemicals: Decimal = Decimal(1), ready: Decimal = Decimal(1)) -> Decisive:
    """What decides: of all parts, the one that differs most in favour of the side that is cheaper over the whole run.

    Args:
        chemicals, ready: factors on the prices of each.
    """
    mine, theirs = own.parts(chemicals, ready), other.parts(chemicals, ready)
    sign = 1 if mine.total >= theirs.total else -1
    names = [field.name for field in fields(SpendingSplit)]
    part = max(names, key=lambda name: sign * (getattr(mine, name) - getattr(theirs, name)))
    bath = ""
    if part == "poured":
        bath = worst(own.lost if sign > 0 else other.lost)
    return Decisive(part, getattr(mine, part), getattr(theirs, part), bath)


def worst(lost: Mapping[str, Decimal]) -> str:
    """The bath whose unfinished batches cost most, or nothing."""
    name = max(lost, key=lambda bath: (lost[bath], bath), default="")
    return name if name and lost[name] > ZERO else ""


def _differences(own: Sequence[Decimal], other: Sequence[Decimal]) -> list[Decimal]:
    """Sums are compared in whole minor units, as they are shown."""
    return [whole(a) - whole(b) for a, b in zip(own, other, strict=True)]
