"""Film gathered into sessions, so that no developer is poured away unused: how many, how large, how long it waits."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.capacity import doing
from reckoner.calc.scaling import LITRE
from reckoner.calc.sides import whole_rolls
from reckoner.records.formula import DEVELOPERS, Formula
from reckoner.records.settings import Settings
from reckoner.rounding import down, up
from reckoner.units import Amount

#: Exposed film should not wait longer than this many months; common practice.
LONGEST_WAIT = Decimal(12)


@dataclass(frozen=True)
class Sessions:
    """How to gather film.

    Attributes:
        bath: the developer that gives out first, by its cautious capacity; where there is none, the bath that does.
        rolls: that one batch of it does, and so that one session takes.
        waiting: rolls to be processed in all.
        full: sessions of that size.
        rest: rolls of the last, smaller session; 0 where none is left.
        rest_batch: the smallest of the owner's batch sizes that does the rest, or None where there is none.
        wait: months until a session's film has gathered, the first roll of it waiting longest.
        in_time: rolls that gather within the longest wait, where a whole session takes longer; else None.
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
    baths: tuple[Formula, ...], waiting: int, rate: Decimal, litres: Decimal, settings: Settings
) -> Sessions | None:
    """Plan sessions for so many rolls that come at a rate a month; None where no bath has a recorded capacity."""
    each = {bath.id: known.cautious for bath in baths if (known := doing(bath)) and known.cautious > 0}
    if not each:
        return None
    developers = [bath.id for bath in baths if bath.purpose in DEVELOPERS and bath.id in each]
    first = min(developers or each, key=lambda bath: (each[bath], bath))
    rolls, _ = whole_rolls(each[first] * litres)
    session = min(rolls, waiting)
    gathers = down(rate * LONGEST_WAIT)
    in_time = max(1, gathers) if gathers < session else None
    full, rest = divmod(waiting, rolls)
    return Sessions(
        bath=first,
        rolls=rolls,
        waiting=waiting,
        full=full,
        rest=rest,
        rest_batch=_batch_for(rest, each[first], settings) if rest else None,
        wait=session / rate,
        in_time=in_time,
        in_time_batch=_batch_for(in_time, each[first], settings) if in_time else None,
        several=tuple(
            (bath, up(session / (does * litres)))
            for bath, does in each.items()
            if does * litres < session and bath != first
        ),
    )


def _batch_for(rolls: int, per_litre: Decimal, settings: Settings) -> Amount | None:
    fitting = [size for size in settings.batch_sizes if size.base / LITRE * per_litre >= rolls]
    return min(fitting, key=lambda size: size.base, default=None)
