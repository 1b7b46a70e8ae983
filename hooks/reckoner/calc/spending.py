"""Money spent roll by roll: baths mixed from packs, mixed anew when they are spent or too old.

One simulation serves mixing and kits alike: a kit is a bath that takes its pack whole. Film comes evenly and is
processed in sessions; time is counted in rolls, so that "is it still good" compares whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import accumulate

from reckoner.calc.cupboard import Cupboard, Seller, rolls_within
from reckoner.calc.sides import ZERO, Bath, Parts, Run, Side, whole_rolls


def run(side: Side, rate: Decimal, rolls: int, gather: int = 1) -> Run:
    """Process so many rolls.

    Args:
        rate: rolls a month.
        gather: rolls that wait for one session; the last session may be smaller.
    """
    bench = _Bench(side, rate, gather)
    for first in range(1, rolls + 1, gather):
        bench.session(range(first, min(first + gather, rolls + 1)))
    return bench.result(rolls)


@dataclass
class _Batch:
    """A batch in use."""

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
        return self.worth * (self.does - self.served) / self.does


@dataclass
class _Bench:
    """The darkroom while film goes through it."""

    side: Side
    rate: Decimal
    gather: int
    batches: list[_Batch] = field(default_factory=list)
    paid: list[tuple[int, bool, Decimal]] = field(default_factory=list)
    delivery: dict[bool, Decimal] = field(default_factory=lambda: {False: ZERO, True: ZERO})
    orders: int = 0
    small_orders: int = 0

    def __post_init__(self) -> None:
        self.cupboard = Cupboard(self.side.packs, self.rate)
        self.keeps = {bath.id: rolls_within(bath.days, self.rate) for bath in self.side.baths}
        self.in_use: dict[str, _Batch] = {}
        self.leader = min((bath for bath in self.side.baths if bath.does is not None), key=self._reach)

    def _reach(self, bath: Bath) -> tuple[Decimal, str]:
        """Rolls that a batch serves before it is spent or dead."""
        assert bath.does is not None
        keeps, does = self.keeps[bath.id], Decimal(whole_rolls(bath.does)[0])
        lives = does if keeps is None else Decimal(self.gather * (keeps // self.gather + 1))
        return min(does, lives), bath.id

    def session(self, rolls: range) -> None:
        """Process the rolls of one day: first see what has to be mixed, buy for all of it, then mix."""
        now = rolls[-1]
        mixes = [batch for _ in rolls for batch in self._serve(now)]
        self._buy(mixes, rolls[0], now)
        for batch in mixes:
            batch.worth = batch.bath.metered * batch.count
            for pack, amount in batch.bath.takes:
                batch.worth += self.cupboard.draw(pack, amount * batch.count, now)

    def _serve(self, now: int) -> Iterator[_Batch]:
        """Send one roll through every bath; what is mixed new for it."""
        renewed = self._needs_new(self.leader, now)
        for bath in self.side.baths:
            new = renewed if bath.does is None or bath is self.leader else self._needs_new(bath, now)
            if new:
                yield self._mix(bath, now)
            self.in_use[bath.id].served += 1

    def _needs_new(self, bath: Bath, now: int) -> bool:
        batch, keeps = self.in_use.get(bath.id), self.keeps[bath.id]
        if batch is None or batch.served >= batch.does:
            return True
        return keeps is not None and now - batch.mixed_at > keeps

    def _mix(self, bath: Bath, now: int) -> _Batch:
        old = self.in_use.get(bath.id)
        if old is not None:
            old.replaced = True
        asked = bath.does if bath.does is not None else self.leader.does
        assert asked is not None
        does, count = whole_rolls(asked)
        batch = _Batch(bath, 1 if bath.does is None else count, does, now)
        self.in_use[bath.id] = batch
        self.batches.append(batch)
        return batch

    def _buy(self, mixes: list[_Batch], roll: int, now: int) -> None:
        """One order to each seller for everything that the day's mixes are short of."""
        wanted: dict[str, Decimal] = {}
        for batch in mixes:
            self.paid.append((roll, False, batch.bath.metered * batch.count))
            for pack_id, amount in batch.bath.takes:
                wanted[pack_id] = wanted.get(pack_id, ZERO) + amount * batch.count
        goods: dict[str, Decimal] = {}
        sent: dict[str, bool] = {}
        for pack_id in sorted(wanted):
            pack = self.side.packs[pack_id]
            packs = self.cupboard.restock(pack_id, wanted[pack_id], now)
            self.paid.append((roll, pack.ready, pack.price * packs))
            if packs and pack.seller is not None:
                goods[pack.seller] = goods.get(pack.seller, ZERO) + pack.goods * packs
                sent[pack.seller] = pack.ready
        for seller_id, listed in goods.items():
            self._send(self.side.sellers[seller_id], listed, sent[seller_id], roll)

    def _send(self, seller: Seller, goods: Decimal, ready: bool, roll: int) -> None:
        self.orders += 1
        if seller.least is not None and goods < seller.least:
            self.small_orders += 1
        if seller.free_from is None or goods < seller.free_from:
            self.paid.append((roll, ready, seller.charge))
            self.delivery[ready] += seller.charge

    def result(self, rolls: int) -> Run:
        """Freeze what happened."""
        for batch in self.in_use.values():
            keeps = self.keeps[batch.bath.id]
            batch.replaced = keeps is not None and rolls - batch.mixed_at > keeps
        thrown = [batch for batch in self.batches if batch.replaced and batch.served < batch.does]
        left = self.cupboard.left(rolls)
        chemicals, ready = (self._parts(kind, thrown, left[kind]) for kind in (False, True))
        ids = [bath.id for bath in self.side.baths]
        return Run(
            chemicals=self._running(False, rolls),
            ready=self._running(True, rolls),
            chemical_parts=chemicals,
            ready_parts=ready,
            mixed={i: sum(batch.count for batch in self.batches if batch.bath.id == i) for i in ids},
            thrown={i: sum(batch.count for batch in thrown if batch.bath.id == i) for i in ids},
            lost={i: sum((batch.unused for batch in thrown if batch.bath.id == i), ZERO) for i in ids},
            orders=self.orders,
            small_orders=self.small_orders,
        )

    def _parts(self, ready: bool, thrown: list[_Batch], left: Decimal) -> Parts:
        mine = [batch for batch in self.batches if batch.bath.ready is ready]
        standing = [batch for batch in mine if not batch.replaced]
        return Parts(
            used=sum((batch.worth - batch.unused for batch in mine), ZERO),
            poured=sum((batch.unused for batch in thrown if batch.bath.ready is ready), ZERO),
            standing=sum((batch.unused for batch in standing), ZERO),
            left=left,
            dead=self.cupboard.expired[ready],
            delivery=self.delivery[ready],
        )

    def _running(self, ready: bool, rolls: int) -> tuple[Decimal, ...]:
        each = [ZERO] * (rolls + 1)
        for roll, kind, sum_ in self.paid:
            if kind is ready:
                each[roll] += sum_
        return tuple(accumulate(each))[1:]
