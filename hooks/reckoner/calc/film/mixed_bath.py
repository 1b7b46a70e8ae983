"""A bath as it is mixed again and again: what one mix does, how long it keeps, what it takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from reckoner.calc.film.whole_films import Piece, Tankful
from reckoner.money import NO_MONEY, ExactMinor
from reckoner.units import Rolls


@dataclass(frozen=True)
class Bath:
    """What is mixed at one time.

    Attributes:
        does: rolls that one batch does; None: it is mixed new whenever the bath that gives out first is.
        days: that a mix keeps; None: it keeps.
        takes: need and amount for one mix; packs fill needs.
        metered: tap water of one mix.
        ready: ready-made chemistry.
        once: it is poured away after one use.
        tankfuls: by format; a format that is missing takes its rolls.
    """

    id: str
    does: Rolls | None
    days: Decimal | None = None
    takes: tuple[tuple[str, Decimal], ...] = ()
    metered: ExactMinor = NO_MONEY
    ready: bool = False
    once: bool = False
    tankfuls: Mapping[str, Tankful] = field(default_factory=dict)

    def tankful(self, piece: Piece) -> Tankful:
        """How this bath takes a film."""
        return self.tankfuls.get(piece.format) or Tankful(rolls=piece.rolls)
