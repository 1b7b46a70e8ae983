"""When baths are mixed while film goes through them: anew when they are spent or too old. No packs, no money.

Film comes evenly and is processed in sessions. A film is never divided: it goes into the oldest batch that still takes
it whole, and what no batch takes is the first of a new one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from itertools import cycle, islice

from reckoner.calc.film.days import MONTH
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import LAST_DIGIT, ROLL, ZERO, Piece
from reckoner.units import Rolls

#: Days, as a part of which a batch is not too old: the last digit of a division.
MOMENT = Decimal("1e-6")
#: No session is larger, whatever a bath does.
MOST_AT_ONCE = 1000


@dataclass
class BatchInUse:
    """A batch in use, or several that are mixed at one time.

    Attributes:
        rule: the bath whose film decides when it is spent: its own, or that of the bath that it is mixed with.
        until: day from which it is too old, or None.
        taken: rolls of what it does.
        through: films that went through it.
        worth: what its chemicals cost.
        replaced: poured away before it was spent, being too old.
        spent: no film went in any more.
        aged: it was too old for a film that it had room for.
        beside: batches of the baths that are mixed with this one, by bath.
    """

    bath: Bath
    rule: Bath
    count: int
    until: Decimal | None
    taken: Decimal = ZERO
    through: list[Piece] = field(default_factory=list)
    worth: Decimal = ZERO
    replaced: bool = False
    spent: bool = False
    aged: bool = False
    #: Films for which there is still room in a tank that is being filled, by format.
    room: dict[str, int] = field(default_factory=dict)
    beside: dict[str, BatchInUse] = field(default_factory=dict)

    @property
    def all(self) -> tuple[BatchInUse, ...]:
        """This one, and those mixed with it."""
        return self, *self.beside.values()

    @cached_property
    def does(self) -> Rolls:
        """What all its batches do."""
        assert self.rule.does is not None, "the bath that decides has a recorded capacity"
        return Rolls(self.rule.does * self.count)

    @cached_property
    def done(self) -> Fraction:
        """Part of what it does that film has used, by whole films; asked when the last film is through."""
        films = Counter(piece.format for piece in self.through)
        parts = (
            Fraction(films[piece.format], max(1, self.rule.tankful(piece).whole_films(self.does)))
            for piece in {piece.format: piece for piece in self.through}.values()
        )
        return Fraction(1) if self.spent else min(Fraction(1), sum(parts, Fraction(0)))

    @cached_property
    def unused(self) -> Decimal:
        """Worth of what it was not used for; asked when the last film is through."""
        left = 1 - self.done
        return self.worth * left.numerator / left.denominator

    def fits(self, piece: Piece) -> bool:
        """Whether one more film fits in whole."""
        if self.room.get(piece.format):
            return True
        needs = self.rule.tankful(piece)
        return self.taken + needs.rolls <= self.does + LAST_DIGIT and needs.batches <= self.count

    def take(self, piece: Piece) -> None:
        """Send one film through."""
        if not self.room.get(piece.format):
            needs = self.rule.tankful(piece)
            self.taken += needs.rolls
            self.room[piece.format] = needs.films
        self.room[piece.format] -= 1
        self.through.append(piece)

    def too_old(self, day: Decimal) -> bool:
        """Whether it is poured away by its age."""
        return self.until is not None and day > self.until


@dataclass(frozen=True)
class Stream:
    """Film that comes evenly, and the baths that it goes through.

    Attributes:
        rate: films a month.
        count: of films.
        gather: films that wait for one session; fewer where the film ends.
        first: film that is planned: a session ends with it, and the rest is gathered anew.
        films: in the order in which they come, over and over.
    """

    baths: tuple[Bath, ...]
    rate: Decimal
    count: int
    gather: int
    first: int
    films: tuple[Piece, ...] = (ROLL,)

    def day(self, film: int) -> Decimal:
        """The day on which a film comes, the first being 1."""
        return film * MONTH / self.rate

    def days(self) -> Iterator[tuple[int, int, tuple[Piece, ...]]]:
        """Sessions: first and last film, and the films."""
        coming = cycle(self.films)
        for start, end in ((1, min(self.first, self.count)), (self.first + 1, self.count)):
            for begin in range(start, end + 1, self.gather):
                last = min(begin + self.gather - 1, end)
                yield begin, last, tuple(islice(coming, last - begin + 1))


@dataclass(frozen=True)
class Session:
    """One day: the films from ``first`` to ``now``, and what is mixed for them."""

    first: int
    now: int
    mixes: tuple[BatchInUse, ...]

    @cached_property
    def takes(self) -> dict[str, Decimal]:
        """What the mixes take of each need."""
        amounts: dict[str, Decimal] = {}
        for batch in self.mixes:
            for pool, amount in batch.bath.takes:
                amounts[pool] = amounts.get(pool, ZERO) + amount * batch.count
        return amounts


def sessions_of(*streams: Stream) -> tuple[Session, ...]:
    """Every session of some film; streams share the baths that both go through."""
    room = _Darkroom(streams)
    days = [
        (stream.day(now), at, first, now, films)
        for at, stream in enumerate(streams)
        for first, now, films in stream.days()
    ]
    sessions = []
    for day, at, first, now, films in sorted(days, key=lambda entry: entry[:3]):
        sessions.append(Session(first, now, tuple(room.serve(at, films, day))))
    room.close(max(day for day, *_ in days))
    return tuple(sessions)


def films_at_once(bath: Bath, films: tuple[Piece, ...]) -> int:
    """Whole films that what is mixed at one time does, of films that come over and over."""
    batch = _new(bath, bath, films[0], ZERO)
    for fitting, piece in enumerate(islice(cycle(films), MOST_AT_ONCE)):
        if not batch.fits(piece):
            return fitting
        batch.take(piece)
    return MOST_AT_ONCE


def batches_for(bath: Bath, films: tuple[Piece, ...]) -> int:
    """Batches of one bath for all of some films on one day."""
    (session,) = sessions_of(Stream((bath,), Decimal(1), len(films), len(films), len(films), films))
    return sum(batch.count for batch in session.mixes)


def _new(bath: Bath, rule: Bath, piece: Piece, day: Decimal) -> BatchInUse:
    """What is mixed for a film: several batches where one does less, or does not fill the tank."""
    assert rule.does is not None
    needs = rule.tankful(piece)
    count = needs.at_once(rule.does) if bath.does is not None else needs.batches
    return BatchInUse(bath, rule, count, None if bath.days is None else day + bath.days + MOMENT)


class _Darkroom:
    """The baths in use."""

    def __init__(self, streams: tuple[Stream, ...]) -> None:
        self.streams = streams
        self.pieces = tuple(dict.fromkeys(piece for stream in streams for piece in stream.films))
        self.in_use: dict[str, list[BatchInUse]] = {}
        self.leaders = [
            min((b for b in stream.baths if b.does is not None), key=self._reach(stream)) for stream in streams
        ]

    def _reach(self, stream: Stream) -> Callable[[Bath], tuple[int, str]]:
        """Films that a batch serves before it is spent or dead."""

        def reach(bath: Bath) -> tuple[int, str]:
            serves, lives = films_at_once(bath, stream.films), 0
            if bath.days is None:
                return serves, bath.id
            while lives < serves and stream.day(lives) <= bath.days + MOMENT:
                lives += stream.gather
            return min(serves, lives), bath.id

        return reach

    def serve(self, at: int, films: tuple[Piece, ...], day: Decimal) -> Iterator[BatchInUse]:
        """Send the films of one day through every bath; what is mixed new for them."""
        for batches in self.in_use.values():
            for batch in batches:
                batch.room.clear()
        for piece in films:
            leader, new = self._batch(self.leaders[at], piece, day)
            for bath in self.streams[at].baths:
                if bath.does is not None and bath.id != leader.bath.id:
                    batch, mixed = self._batch(bath, piece, day)
                    batch.take(piece)
                    if mixed:
                        yield batch
                elif bath.id == leader.bath.id:
                    if new:
                        yield leader
                elif bath.id not in leader.beside:
                    leader.beside[bath.id] = _new(bath, leader.bath, piece, day)
                    yield leader.beside[bath.id]
            for batch in leader.all:
                batch.take(piece)

    def _spent(self, batch: BatchInUse) -> bool:
        return not any(batch.fits(piece) for piece in self.pieces)

    def _drop(self, batch: BatchInUse, piece: Piece) -> None:
        """A batch that takes no film any more is spent; one that is too old is poured away with what it has left."""
        self.in_use[batch.bath.id].remove(batch)
        spent = self._spent(batch)
        batch.aged = not spent and batch.fits(piece)
        for mixed in batch.all:
            mixed.replaced = True
            mixed.spent = spent

    def _batch(self, bath: Bath, piece: Piece, day: Decimal) -> tuple[BatchInUse, bool]:
        """The oldest batch that takes a film, and whether it is mixed for it."""
        in_use = self.in_use.setdefault(bath.id, [])
        fitting = None
        for batch in tuple(in_use):
            fits = batch.fits(piece)
            if batch.too_old(day) or (not fits and self._spent(batch)):
                self._drop(batch, piece)
            elif fits and fitting is None:
                fitting = batch
        if fitting is not None:
            return fitting, False
        in_use.append(_new(bath, bath, piece, day))
        return in_use[-1], True

    def close(self, day: Decimal) -> None:
        """At the end what is too old is poured away."""
        for batch in [batch for batches in self.in_use.values() for batch in batches]:
            if self._spent(batch):
                self._drop(batch, self.pieces[0])
            batch.replaced = batch.replaced or batch.too_old(day)
