"""How long a pack of a chemical keeps: from when its time counts, its last good day, and what is left of its time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from reckoner.calc.film.days import Figure, days_of, limit_days
from reckoner.records.chemical import Chemical
from reckoner.records.shelf import ShelfPack
from reckoner.records.values import Range


@dataclass(frozen=True)
class PackTime:
    """From when a pack's time counts, and how long it is; no ``limit``: none is recorded."""

    state: Literal["bought", "opened"]
    since: date
    limit: Range | None


def time_of(chemical: Chemical, opened: bool) -> Range | None:
    """The recorded time of its packs, once opened or closed; what has none keeps."""
    keeping = chemical.keeping
    if keeping is None:
        return None
    return keeping.opened if opened else keeping.sealed


def pack_time(pack: ShelfPack, chemical: Chemical) -> PackTime:
    """An opened pack's time counts from the day it was opened, a closed one's from the day it was bought."""
    if pack.opened is not None:
        return PackTime("opened", pack.opened, time_of(chemical, opened=True))
    return PackTime("bought", pack.bought, time_of(chemical, opened=False))


@dataclass(frozen=True)
class Kept:
    """A pack's recorded keeping time: from when it counts, and the last good day."""

    state: Literal["bought", "opened"]
    since: date
    until: date


def keeps_until(pack: ShelfPack, chemical: Chemical) -> Kept | None:
    """From when a pack's time counts, and its last good day; None where no keeping time is recorded."""
    time = pack_time(pack, chemical)
    if time.limit is None:
        return None
    return Kept(time.state, time.since, time.since + timedelta(days=limit_days(time.limit)))


def past_keeping(pack: ShelfPack, chemical: Chemical, today: date) -> Kept | None:
    """The time of a pack that is past it, else None; what has no recorded keeping time keeps."""
    kept = keeps_until(pack, chemical)
    return kept if kept is not None and today > kept.until else None


def days_left(pack: ShelfPack, chemical: Chemical, today: date, figure: Figure) -> Decimal | None:
    """Days that a pack still keeps; None where it keeps, or the owner uses it whatever its age."""
    time = pack_time(pack, chemical)
    days = days_of(time.limit, figure)
    if days is None or pack.use_past_keeping:
        return None
    return max(Decimal(0), days - (today - time.since).days)


def opened_keeps(chemical: Chemical) -> int | None:
    """Whole days that a pack keeps from the day it is opened; None where it keeps."""
    limit = time_of(chemical, opened=True)
    return None if limit is None else limit_days(limit)
