"""When baths are mixed while film goes through them: anew when they are spent or too old. No packs, no money.

Film comes evenly and is processed in sessions; time is counted in rolls, so that "is it still good" compares whole
numbers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from reckoner.calc.cupboard import rolls_within
from reckoner.calc.sides import ZERO, Bath, whole_rolls


@dataclass
class Batch:
    """A batch in use; ``worth`` is what its chemicals cost."""

    bath: Bath
    count: int
    does: int
    mixed_at: int
    served: int = 0
    worth: Decimal = ZERO
    #: Poured away: something newer took its place, or it was too old at the end.
    replaced: bool = False

    @property
    def unused(self) -> Decimal:
        """Worth of what it was not used for."""
        return self.worth * (self.does - self.served) / self.does


@dataclass(frozen=True)
class Session:
    """One day: the rolls from ``first`` to ``now``, and what is mixed for them."""

    first: int
    now: int
    mixes: tuple[Batch, ...]

    @cached_property
    def takes(self) -> dict[str, Decimal]:
        """What the mixes take of each need."""
        found: dict[str, Decimal] = {}
        for batch in self.mixes:
            for pool, amount in batch.bath.takes:
                found[pool] = found.get(pool, ZERO) + amount * batch.count
        return found


def sessions_of(baths: tuple[Bath, ...], rate: Decimal, rolls: int, gather: int, first: int) -> tuple[Session, ...]:
    """Every session of so many rolls.

    Args:
        gather: rolls that wait for one session; fewer where the film ends.
        first: film that is planned: a session ends with it, and the rest is gathered anew.
    """
    room = _Darkroom(baths, rate, gather)
    found = []
    for start, end in ((1, min(first, rolls)), (first + 1, rolls)):
        for begin in range(start, end + 1, gather):
            now = min(begin + gather - 1, end)
            found.append(Session(begin, now, tuple(room.serve(now - begin + 1, now))))
    room.close(rolls)
    return tuple(found)


class _Darkroom:
    """The baths in use."""

    def __init__(self, baths: tuple[Bath, ...], rate: Decimal, gather: int) -> None:
        self.baths, self.gather = baths, gather
        self.keeps = {bath.id: rolls_within(bath.days, rate) for bath in baths}
        self.in_use: dict[str, Batch] = {}
        self.leader = min((bath for bath in baths if bath.does is not None), key=self._reach)

    def _reach(self, bath: Bath) -> tuple[Decimal, str]:
        """Rolls that a batch serves before it is spent or dead."""
        assert bath.does is not None
        keeps, does = self.keeps[bath.id], Decimal(whole_rolls(bath.does)[0])
        lives = does if keeps is None else Decimal(self.gather * (keeps // self.gather + 1))
        return min(does, lives), bath.id

    def serve(self, rolls: int, now: int) -> Iterator[Batch]:
        """Send the rolls of one day through every bath; what is mixed new for them."""
        for _ in range(rolls):
            renewed = self._needs_new(self.leader, now)
            for bath in self.baths:
                new = renewed if bath.does is None or bath is self.leader else self._needs_new(bath, now)
                if new:
                    yield self._mix(bath, now)
                self.in_use[bath.id].served += 1

    def _needs_new(self, bath: Bath, now: int) -> bool:
        batch, keeps = self.in_use.get(bath.id), self.keeps[bath.id]
        if batch is None or batch.served >= batch.does:
            return True
        return keeps is not None and now - batch.mixed_at > keeps

    def _mix(self, bath: Bath, now: int) -> Batch:
        old = self.in_use.get(bath.id)
        if old is not None:
            old.replaced = True
        asked = bath.does if bath.does is not None else self.leader.does
        assert asked is not None
        does, count = whole_rolls(asked)
        batch = Batch(bath, 1 if bath.does is None else count, does, now)
        self.in_use[bath.id] = batch
        return batch

    def close(self, now: int) -> None:
        """At the end what is too old is poured away."""
        for batch in self.in_use.values():
            keeps = self.keeps[batch.bath.id]
            batch.replaced = keeps is not None and now - batch.mixed_at > keeps
