"""How much of each liquid has room in the vessel: a jar that would need more is too weak for the formula.

All volumes are mL for one litre of the bath. Solids displace some water too; that is nowhere recorded and not counted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.units import LITRE

#: Amounts are held to 1e-9 mL: a list that fills its vessel exactly is not overfull by the sum of such roundings.
LAST_DIGITS = Decimal("1e-6")


@dataclass
class Poured:
    """One line of a list.

    Attributes:
        written: mL as the formula writes it; 0 for a solid.
        jars: mL from each jar that may be at hand, 0 for a solid one.
        kept: mL of those that have room, whichever jars the other lines take.
    """

    written: Decimal
    jars: tuple[Decimal, ...]
    kept: list[Decimal]

    @property
    def leanest(self) -> Decimal:
        """mL from the strongest jar."""
        return self.kept[0]

    @property
    def most(self) -> Decimal:
        """mL from the weakest jar that has room."""
        return self.kept[-1]


def poured(written: Decimal, jars: Iterable[Decimal]) -> Poured:
    """A line with its jars; as written where there is none."""
    known = tuple(sorted(set(jars)))
    return Poured(written, known, list(known) or [written])


def rooms(lines: list[Poured]) -> tuple[Decimal, ...]:
    """The mL that each line may take of a litre, so that no choice of jars overfills the vessel.

    First the lines whose strongest jar finds no room are counted as written: nothing at hand fills them. Then the jars
    that bring most water beyond the strongest are left out, until the weakest of all lines fit together; what fits
    after that counts again.
    """
    while _over(line.leanest for line in lines):
        weak = max(lines, key=lambda line: line.leanest - line.written, default=None)
        if weak is None or weak.leanest <= weak.written:
            break
        weak.kept = [weak.written]
    while _over(line.most for line in lines):
        weak = max(lines, key=lambda line: line.most - line.leanest)
        if weak.most == weak.leanest:
            break
        weak.kept.pop()
    for line in lines:
        fits = [jar for jar in line.jars if jar <= _room(line, lines)]
        line.kept = sorted({*line.kept, *fits})
    as_written = _over(line.written for line in lines)
    return tuple(max(_room(line, lines), line.written if as_written else Decimal(0)) for line in lines)


def _over(volumes: Iterable[Decimal]) -> bool:
    return sum(volumes, Decimal(0)) > LITRE + LAST_DIGITS


def _room(line: Poured, lines: list[Poured]) -> Decimal:
    return LITRE + LAST_DIGITS - sum((other.most for other in lines if other is not line), Decimal(0))
