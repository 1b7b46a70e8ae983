"""Money spent roll by roll: baths mixed from packs, mixed anew when they are spent or too old.

One simulation serves mixing and kits alike: a kit is a bath that takes its pack whole. Film comes evenly and is
processed in sessions; time is counted in rolls, so that "is it still good" compares whole numbers. Sums are in minor
units of the owner's currency (cents), exact until they are shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from itertools import accumulate

from reckoner.calc.cupboard import Cupboard, Pack, Seller, rolls_within

ZERO, ONE = Decimal(0), Decimal(1)


@dataclass(frozen=True)
class Bath:
    """What is mixed at one time.

    Attributes:
        does: rolls that one mix does; None: it is mixed new whenever the bath that gives out first is.
        days: that a mix keeps; None: it keeps.
        takes: pack and amount for one mix.
        metered: tap water of one mix, minor units.
        ready: ready-made chemistry.
    """

    id: str
    does: Decimal | None
    days: Decimal | None = None
    takes: tuple[tuple[str, Decimal], ...] = ()
    metered: Decimal = ZERO
    ready: bool = False


@dataclass(frozen=True)
class Side:
    """One way to process film: its baths, the packs they take and who sends those."""

    baths: tuple[Bath, ...]
    packs: Mapping[str, Pack]
    sellers: Mapping[str, Seller]


@dataclass(frozen=True)
class Parts:
    """What money went for.

    Attributes:
        used: chemicals in the part of the baths that film used up.
        poured: in batches poured away unfinished.
        standing: in batches that are still good at the end.
        left: in packs that are still good at the end.
        dead: in packs past their keeping time.
        delivery: of all orders.
    """

    used: Decimal = ZERO
    poured: Decimal = ZERO
    standing: Decimal = ZERO
    left: Decimal = ZERO
    dead: Decimal = ZERO
    delivery: Decimal = ZERO

    def __add__(self, other: Parts) -> Parts:
        return Parts(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(self)))

    def times(self, factor: Decimal) -> Parts:
        """Every part multiplied."""
        return Parts(*(getattr(self, f.name) * factor for f in fields(self)))

    @property
    def total(self) -> Decimal:
        """Everything that was paid."""
        return sum((getattr(self, f.name) for f in fields(self)), ZERO)


@dataclass(frozen=True)
class Run:
    """What happened over so many rolls.

    Attributes:
        chemicals, ready: paid up to each roll for raw chemicals and for ready-made chemistry, delivery included.
        chemical_parts, ready_parts: the same split by what it went for, over all rolls.
        mixed: batches of each bath.
        thrown: batches of each bath poured away unfinished.
        lost: what those had cost, by bath.
        small_orders: orders below what the seller sends at all.
    """

    chemicals: tuple[Decimal, ...]
    ready: tuple[Decimal, ...]
    chemical_parts: Parts
    ready_parts: Parts
    mixed: Mapping[str, int]
    thrown: Mapping[str, int]
    lost: Mapping[str, Decimal]
    orders: int = 0
    small_orders: int = 0

    def spent(self, chemicals: Decimal = ONE, ready: Decimal = ONE) -> tuple[Decimal, ...]:
        """Paid up to each roll, with prices multiplied by factors."""
        return tuple(c * chemicals + r * ready for c, r in zip(self.chemicals, self.ready, strict=True))

    def parts(self, chemicals: Decimal = ONE, ready: Decimal = ONE) -> Parts:
        """What it went for, with prices multiplied by factors."""
        return self.chemical_parts.times(chemicals) + self.ready_parts.times(ready)


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


def one_by_one(side: Side, batch_litres: Decimal) -> Side:
    """The same side where every "roll" is one batch of each bath, and nothing grows old: money against litres."""

    def takes(bath: Bath) -> tuple[tuple[str, Decimal], ...]:
        return tuple((pack, batch_litres) for pack, _ in bath.takes) if bath.ready else bath.takes

    return Side(
        tuple(replace(bath, does=ONE, days=None, takes=takes(bath)) for bath in side.baths),
        {i: replace(pack, opened=None, sealed=None) for i, pack in side.packs.items()},
        side.sellers,
    )


def whole_rolls(does: Decimal) -> tuple[int, int]:
    """Rolls that a batch does, and batches that are mixed at one time for it: several where one does less than a roll.

    >>> whole_rolls(Decimal("3.3")), whole_rolls(Decimal("0.4"))
    ((3, 1), (1, 3))
    """
    if does >= 1:
        return int(does.to_integral_value(rounding=ROUND_FLOOR)), 1
    return 1, int((1 / does).to_integral_value(rounding=ROUND_CEILING))


@dataclass
class _Batch:
    """A batch in use."""

    bath: Bath
    count: int
    does: int
    mixed_at: int
    served: int = 0
    worth: Decimal = ZERO
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
            if bath.does is None or bath is self.leader:
                new = renewed
            else:
                new = self._needs_new(bath, now)
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
