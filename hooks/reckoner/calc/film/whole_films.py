"""How many whole films a batch takes, in the owner's tanks and by the rule of use: whatever counts films asks here.

A film is never divided. A bath that is used once is taken by the tankful, and as many films as the tank holds go in
together. A bath that is used again takes film after film until what it does is done, and must fill the tank.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.capacity import Doing, rolls_of
from reckoner.records.settings import FilmFormat, Tank
from reckoner.rounding import down, round_half_up, up
from reckoner.units import Litres, Rolls, RollsPerLitre

ZERO, ONE_ROLL = Decimal(0), Rolls(Decimal(1))
#: Quotients are exact to this: a bath for 1 roll each 300 mL does one in 300 mL, although 1 / 0.3 is cut short.
LAST_DIGIT = Decimal("1e-9")


@dataclass(frozen=True)
class Piece:
    """One film: its format, and how many of the trade's rolls it counts as."""

    format: str = ""
    rolls: Rolls = ONE_ROLL


#: What comes where nothing is said of formats.
ROLL = Piece()


def piece_of(film: FilmFormat) -> Piece:
    """One film of a format."""
    return Piece(film.id, rolls_of(film))


@dataclass(frozen=True)
class Tankful:
    """Films of one format as a bath takes them.

    Attributes:
        films: go through together, and use up their part of the bath together; 1 where the bath is used again.
        rolls: what they take of what the bath does, in the trade's rolls.
        batches: mixed at one time at least, that there is enough to fill the tank.
        tank: the owner's tank; None where none holds the format, so that only what the bath does counts.
        holds: films that this tank holds.
    """

    films: int = 1
    rolls: Rolls = ONE_ROLL
    batches: int = 1
    tank: Tank | None = None
    holds: int = 1

    def at_once(self, does: Rolls) -> int:
        """Batches mixed at one time, of a bath of which one batch does so many rolls."""
        return max(self.batches, whole_up(self.rolls / does))

    def whole_films(self, does: Rolls) -> int:
        """Whole films that a volume takes which does so many rolls.

        >>> Tankful(rolls=Decimal("2.355")).whole_films(Decimal(4))
        1
        """
        return self.films * whole_down(does / self.rolls)


def tankful(piece: Piece, does: RollsPerLitre, once: bool, litres: Litres, tanks: Iterable[Tank]) -> Tankful:
    """Films of a format in the tank that suits a batch best.

    Args:
        does: rolls that a litre does.
        once: the bath is poured away after one use.
        litres: of one batch.
        tanks: to choose from.
    """
    rolls = piece.rolls
    fitting = [(tank, held) for tank in tanks for held in (_held(tank, piece),) if held]
    if not fitting:
        return Tankful(rolls=rolls)
    if not once:
        tank, held = min(fitting, key=lambda pair: (pair[0].volume.base, pair[0].name))
        return Tankful(rolls=rolls, batches=_filled(tank, litres), tank=tank, holds=held)
    ways = [_poured(tank, held, rolls, does, litres) for tank, held in fitting]
    batch = Rolls(does * litres)
    return min(ways, key=lambda filling: (-filling.whole_films(batch), filling.rolls / filling.films, _name(filling)))


def _poured(tank: Tank, held: int, rolls: Rolls, does: RollsPerLitre, litres: Litres) -> Tankful:
    """One load of a bath that is poured away: the whole tank, or more than it where it does not do one film."""
    volume = tank.volume.litres
    films = min(held, whole_down(does * volume / rolls))
    if not films:
        return Tankful(rolls=rolls, batches=_filled(tank, litres), tank=tank, holds=held)
    return Tankful(films, Rolls(does * volume), _filled(tank, litres), tank, held)


def _held(tank: Tank, piece: Piece) -> int:
    return max((hold.count for hold in tank.holds if hold.format == piece.format), default=0)


def _filled(tank: Tank, litres: Litres) -> int:
    return whole_up(tank.volume.litres / litres)


def _name(filling: Tankful) -> str:
    return filling.tank.name if filling.tank else ""


def whole_down(value: Decimal) -> int:
    """Rounded down, less the last digit of a division."""
    return down(round_half_up(value, LAST_DIGIT))


def whole_up(value: Decimal) -> int:
    """Rounded up, less the last digit of a division."""
    return up(round_half_up(value, LAST_DIGIT))


@dataclass(frozen=True)
class WholeFilms:
    """Whole films of one format that a batch does.

    Attributes:
        cautious, generous: 0 where a batch is not enough for one film.
        litres: that the cautious figure is counted with: more than one batch where one film needs more.
        least: films that those litres do by the cautious figure, one at least.
    """

    film: FilmFormat
    cautious: int
    generous: int
    litres: Litres
    least: int


def films_of_batch(does: Doing, film: FilmFormat, litres: Litres, tanks: Iterable[Tank]) -> WholeFilms:
    """What a batch does of a format by both figures; what fills no tank of the owner's does none."""
    owned = tuple(tanks)
    few = tankful(piece_of(film), does.cautious, does.cautious_once, litres, owned)
    many = tankful(piece_of(film), does.generous, does.generous_once, litres, owned)
    cautious, generous = Rolls(does.cautious * litres), Rolls(does.generous * litres)
    at_once = few.at_once(cautious)
    return WholeFilms(
        film=film,
        cautious=few.whole_films(cautious) if few.batches == 1 else 0,
        generous=many.whole_films(generous) if many.batches == 1 else 0,
        litres=Litres(litres * at_once),
        least=few.whole_films(Rolls(cautious * at_once)),
    )


def loads_of(does: RollsPerLitre, once: bool, litres: Litres, tank: Tank, rolls: Rolls) -> int:
    """Loads of one tank that so many litres do.

    Args:
        does: rolls that a litre does.
        rolls: of one load.
    """
    volume = tank.volume.litres
    if once:
        return whole_down(litres / volume) if rolls <= does * volume + LAST_DIGIT else 0
    return whole_down(does * litres / rolls) if volume <= litres else 0


def spread(counts: Iterable[tuple[str, int]]) -> Iterator[str]:
    """Films of several formats in an order in which each comes evenly.

    >>> list(spread((("a", 3), ("b", 1))))
    ['a', 'a', 'b', 'a']
    """
    places = [
        ((2 * nth + 1) / Decimal(2 * count), place, name)
        for place, (name, count) in enumerate(counts)
        for nth in range(count)
    ]
    yield from (name for *_, name in sorted(places))
