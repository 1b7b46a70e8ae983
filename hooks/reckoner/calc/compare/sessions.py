"""Film gathered into sessions, so that no developer is poured away unused: how many, how large, how long it waits."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import cycle, islice

from reckoner.calc.film.bath_life import batches_for, films_at_once
from reckoner.calc.film.film_baths import film_bath
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import ROLL, Piece
from reckoner.records.formula import DEVELOPERS, Formula
from reckoner.records.settings import Settings
from reckoner.rounding import down
from reckoner.units import Amount, Litres

#: Exposed film should not wait longer than this many months; common practice.
LONGEST_WAIT = Decimal(12)


@dataclass(frozen=True)
class Sessions:
    """How to gather film.

    Attributes:
        bath: the developer that gives out first, by its cautious capacity; where there is none, the bath that does.
        rolls: films that one batch of it does, and so that one session takes.
        waiting: films to be processed in all.
        full: sessions of that size.
        rest: films of the last, smaller session; 0 where none is left.
        rest_batch: the smallest of the owner's batch sizes that does the rest, or None where there is none.
        wait: months until a session's film has gathered, the first of it waiting longest.
        in_time: films that gather within the longest wait, where a whole session takes longer; else None.
        in_time_batch: the smallest batch size that does those.
        several: other baths that one batch is not enough of in a session, with the batches they need.
    """

    bath: str
    rolls: int
    waiting: int
    full: int
    rest: int
    rest_batch: Amount | None
    wait: Decimal
    in_time: int | None
    in_time_batch: Amount | None
    several: tuple[tuple[str, int], ...]


def sessions(
    baths: tuple[Formula, ...],
    waiting: int,
    rate: Decimal,
    litres: Litres,
    settings: Settings,
    films: tuple[Piece, ...] = (ROLL,),
) -> Sessions | None:
    """Plan sessions for so many films that come at a rate a month; None where no bath has a recorded capacity."""

    def used(formula: Formula, size: Litres) -> Bath:
        return film_bath(formula, films, size, settings.tanks)

    each = {formula.id: bath for formula in baths if (bath := used(formula, litres)).does is not None}
    if not each:
        return None
    does = {i: films_at_once(bath, films) for i, bath in each.items()}
    developers = [bath.id for bath in baths if bath.purpose in DEVELOPERS and bath.id in each]
    first = min(developers or each, key=lambda i: (does[i], each[i].does, i))
    formula = next(bath for bath in baths if bath.id == first)

    def batch_for(count: int) -> Amount | None:
        """The smallest of the owner's batch sizes that does the last films."""
        last = tuple(islice(cycle(reversed(films)), count))
        fitting = [size for size in settings.batch_sizes if batches_for(used(formula, size.litres), last) == 1]
        return min(fitting, key=lambda size: size.base, default=None)

    session = min(does[first], waiting)
    gathers = down(rate * LONGEST_WAIT)
    in_time = max(1, gathers) if gathers < session else None
    full, rest = divmod(waiting, does[first])
    together = tuple(islice(cycle(films), session))
    needed = {i: batches_for(bath, together) for i, bath in each.items() if i != first}
    return Sessions(
        bath=first,
        rolls=does[first],
        waiting=waiting,
        full=full,
        rest=rest,
        rest_batch=batch_for(rest) if rest else None,
        wait=session / rate,
        in_time=in_time,
        in_time_batch=batch_for(in_time) if in_time else None,
        several=tuple((i, count) for i, count in needed.items() if count > 1),
    )
