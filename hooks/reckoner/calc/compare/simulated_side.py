"""One way to process film, as the simulation of spending takes it, and what came out of a simulation.

Sums are in minor units of the owner's currency (cents), exact until they are shown; amounts in g, mL or L.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property

from reckoner.calc.buying.terms import Terms
from reckoner.calc.compare.cupboard import Owned, Pack
from reckoner.calc.compare.reorder import Shop
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import ONE_ROLL, ROLL, Piece
from reckoner.calc.prices.money_split import Split
from reckoner.money import NO_MONEY, ExactMinor

ZERO, ONE = Decimal(0), Decimal(1)


@dataclass(frozen=True)
class Side:
    """One way to process film: its baths, the packs that may fill them, who sends those, and what is owned already.

    Attributes:
        films: in the order in which they come, over and over.
    """

    baths: tuple[Bath, ...]
    packs: Mapping[str, Pack]
    sellers: Mapping[str, Terms]
    shelf: tuple[Owned, ...] = ()
    films: tuple[Piece, ...] = (ROLL,)

    @cached_property
    def shop(self) -> Shop:
        """Where it is bought."""
        return Shop(self.packs, self.sellers)

    @property
    def lasting(self) -> Side:
        """The same where no pack dies."""
        return replace(
            self,
            packs={i: replace(pack, opened=None, sealed=None) for i, pack in self.packs.items()},
            shelf=tuple(replace(owned, pack=replace(owned.pack, opened=None), keeps=None) for owned in self.shelf),
        )


@dataclass(frozen=True)
class Ahead:
    """For how much film raw chemicals are ordered at a time, in films.

    Attributes:
        first: the first time; sessions end there too.
        later: from then on.
    """

    first: int
    later: int


@dataclass(frozen=True)
class SpendingSplit(Split[ExactMinor]):
    """What money went for.

    Attributes:
        used: chemicals in the part of the baths that film used up.
        poured: in batches poured away unfinished.
        standing: in batches that are still good at the end.
        left: in packs that are still good at the end.
        dead: in packs past their keeping time.
        delivery: of all orders.
    """

    used: ExactMinor = NO_MONEY
    poured: ExactMinor = NO_MONEY
    standing: ExactMinor = NO_MONEY
    left: ExactMinor = NO_MONEY
    dead: ExactMinor = NO_MONEY
    delivery: ExactMinor = NO_MONEY


@dataclass(frozen=True)
class Run:
    """What happened over so many films.

    Attributes:
        chemicals, ready: paid up to each film for raw chemicals and for ready-made chemistry, delivery included.
        chemical_parts, ready_parts: the same split by what it went for, over all films.
        mixed: batches of each bath.
        thrown: batches of each bath poured away unfinished.
        lost: what those had cost, by bath.
        orders: that were sent, one to each seller of a day.
        owned: what was taken from the shelf, as paid; it is in the sums.
        packs: ordered in all, by id.
    """

    chemicals: tuple[ExactMinor, ...]
    ready: tuple[ExactMinor, ...]
    chemical_parts: SpendingSplit
    ready_parts: SpendingSplit
    mixed: Mapping[str, int]
    thrown: Mapping[str, int]
    lost: Mapping[str, ExactMinor]
    orders: int = 0
    owned: ExactMinor = NO_MONEY
    packs: Mapping[str, int] = field(default_factory=dict)

    def spent(self, chemicals: Decimal = ONE, ready: Decimal = ONE) -> tuple[ExactMinor, ...]:
        """Paid up to each film, with prices multiplied by factors."""
        return tuple(ExactMinor(c * chemicals + r * ready) for c, r in zip(self.chemicals, self.ready, strict=True))

    def parts(self, chemicals: Decimal = ONE, ready: Decimal = ONE) -> SpendingSplit:
        """What it went for, with prices multiplied by factors."""
        return self.chemical_parts.times(chemicals) + self.ready_parts.times(ready)


def one_by_one(side: Side, batch_litres: Decimal) -> Side:
    """The same side where every film is one batch of each bath, and nothing grows old: money against litres."""

    def takes(bath: Bath) -> tuple[tuple[str, Decimal], ...]:
        return tuple((pack, batch_litres) for pack, _ in bath.takes) if bath.ready else bath.takes

    baths = (replace(bath, does=ONE_ROLL, days=None, takes=takes(bath), tankfuls={}) for bath in side.baths)
    return replace(side.lasting, baths=tuple(baths), films=(ROLL,))
