"""Money spent film by film: baths mixed from packs that are owned or ordered, an order being the cheapest basket.

One simulation serves mixing and kits alike: a kit is a bath that takes its pack whole. When something runs short, one
order is made for all raw chemicals that will run short before the next order is due.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from itertools import accumulate

from reckoner.calc.compare.cupboard import Cupboard, Pack, rolls_within
from reckoner.calc.compare.simulated_side import ZERO, Ahead, Run, Side, SpendingSplit
from reckoner.calc.film.bath_life import BatchInUse, Session, Stream, sessions_of
from reckoner.money import ExactMinor

#: When so much of a need is used: the film, and the amount.
Uses = list[tuple[int, Decimal]]
#: A basket is mended so often where packs, once opened, die before all is used.
TRIES = 2


def run(side: Side, rate: Decimal, rolls: int, gather: int = 1, ahead: Ahead | None = None) -> Run:
    """Process so many films.

    Args:
        rate: films a month.
        rolls: how many films; what each counts as, the side knows.
        gather: films that wait for one session; the last session may be smaller.
        ahead: how far ahead is ordered; None: only what is short on the day.
    """
    sessions = sessions_of(Stream(side.baths, rate, rolls, gather, ahead.first if ahead else rolls, side.films))
    ledger = _Ledger(side, rate, ahead)
    for at, session in enumerate(sessions):
        ledger.session(session, sessions[at:])
    return ledger.result(rolls, [batch for session in sessions for batch in session.mixes])


class _Ledger:
    """What is paid while packs are bought and drawn down."""

    def __init__(self, side: Side, rate: Decimal, ahead: Ahead | None) -> None:
        self.side, self.rate, self.ahead = side, rate, ahead
        self.ready = {pack.fills for pack in side.packs.values() if pack.ready}
        self.cupboard = Cupboard(side.packs, rate, side.shelf)
        self.paid: list[tuple[int, bool, Decimal]] = []
        self.delivery = {False: ZERO, True: ZERO}
        self.owned = ZERO
        self.orders = 0
        self.packs: dict[str, int] = {}

    def session(self, session: Session, coming: tuple[Session, ...]) -> None:
        """Order what is short, then mix."""
        short = {pool for pool, amount in session.takes.items() if self.cupboard.short(pool, amount, session.now)}
        if short:
            self._order(session, self._wanted(coming, short))
        for batch in session.mixes:
            batch.worth = batch.bath.metered * batch.count
            for pool, amount in batch.bath.takes:
                taken = self.cupboard.draw(pool, amount * batch.count, session.now)
                batch.worth += taken.worth
                self.owned += taken.owned
                self.paid.append((session.first, False, taken.owned))
            self.paid.append((session.first, False, batch.bath.metered * batch.count))

    def _wanted(self, coming: tuple[Session, ...], short: set[str]) -> dict[str, int]:
        """What is ordered today: ready-made chemistry for the day, raw chemicals for as long as is ordered ahead."""
        near = coming[:1]
        if self.ahead is not None:
            today = coming[0].first
            until = self.ahead.first if today <= self.ahead.first else today + self.ahead.later - 1
            far = tuple(session for session in coming if session.now <= until) or near
        else:
            far = near
        raw, ready = short - self.ready, short & self.ready
        order: dict[str, int] = {}
        if raw:
            order |= self._basket(far, {pool for session in far for pool in session.takes} - self.ready)
        if ready:
            order |= self._basket(near, ready)
        return order

    def _basket(self, sessions: tuple[Session, ...], pools: set[str]) -> dict[str, int]:
        """The cheapest packs for some sessions.

        Packs that would die once opened are counted for what can be used of them; what is short all the same is asked
        for again.
        """
        asked = {pool: uses for pool, uses in _short(self.cupboard.copy(), sessions).items() if pool in pools}
        wanted = {pool: _sum(uses) for pool, uses in asked.items()}
        usable = {
            pack.id: _usable(pack, rolls_within(pack.opened, self.rate), asked[pack.fills])
            for pack in self.side.packs.values()
            if pack.fills in asked
        }
        packs = self.side.shop.basket(wanted, usable)
        for _ in range(TRIES):
            trial = self.cupboard.copy()
            for pack_id, count in packs.items():
                trial.add(pack_id, count, sessions[0].now)
            short = {pool: uses for pool, uses in _short(trial, sessions).items() if pool in asked}
            if not short:
                break
            wanted |= {pool: wanted[pool] + _sum(uses) for pool, uses in short.items()}
            packs = self.side.shop.basket(wanted, usable)
        return dict(packs)

    def _order(self, session: Session, packs: Mapping[str, int]) -> None:
        """One order to each seller."""
        sent: dict[str, bool] = {}
        for pack_id, count in sorted(packs.items()):
            pack = self.side.packs[pack_id]
            self.cupboard.add(pack_id, count, session.now)
            self.packs[pack_id] = self.packs.get(pack_id, 0) + count
            self.paid.append((session.first, pack.ready, pack.price * count))
            if pack.seller is not None:
                sent[pack.seller] = pack.ready
        for seller, charge in self.side.shop.charge(packs).items():
            self.orders += 1
            self.paid.append((session.first, sent[seller], charge))
            self.delivery[sent[seller]] += charge

    def result(self, rolls: int, batches: list[BatchInUse]) -> Run:
        """Freeze what happened."""
        thrown = [batch for batch in batches if batch.replaced and batch.done < 1]
        left = self.cupboard.left(rolls)
        ids = [bath.id for bath in self.side.baths]
        return Run(
            chemicals=self._running(False, rolls),
            ready=self._running(True, rolls),
            chemical_parts=self._parts(False, batches, left[False]),
            ready_parts=self._parts(True, batches, left[True]),
            mixed={i: sum(batch.count for batch in batches if batch.bath.id == i) for i in ids},
            thrown={i: sum(batch.count for batch in thrown if batch.bath.id == i) for i in ids},
            lost={i: _unused(batch for batch in thrown if batch.bath.id == i) for i in ids},
            orders=self.orders,
            owned=ExactMinor(self.owned),
            packs=self.packs,
        )

    def _parts(self, ready: bool, batches: list[BatchInUse], left: Decimal) -> SpendingSplit:
        mine = [batch for batch in batches if batch.bath.ready is ready]
        return SpendingSplit(
            used=ExactMinor(sum((batch.worth - batch.unused for batch in mine), ZERO)),
            poured=_unused(batch for batch in mine if batch.replaced),
            standing=_unused(batch for batch in mine if not batch.replaced),
            left=ExactMinor(left),
            dead=ExactMinor(self.cupboard.expired[ready]),
            delivery=ExactMinor(self.delivery[ready]),
        )

    def _running(self, ready: bool, rolls: int) -> tuple[ExactMinor, ...]:
        each = [ZERO] * (rolls + 1)
        for roll, kind, sum_ in self.paid:
            if kind is ready:
                each[roll] += sum_
        return tuple(map(ExactMinor, accumulate(each)))[1:]


def _unused(batches: Iterable[BatchInUse]) -> ExactMinor:
    return ExactMinor(sum((batch.unused for batch in batches), ZERO))


def _sum(uses: Uses) -> Decimal:
    return sum((amount for _, amount in uses), ZERO)


def _short(cupboard: Cupboard, sessions: Iterable[Session]) -> dict[str, Uses]:
    """What is not there, or dead by then, when some sessions are mixed from a cupboard, which is drawn down by it."""
    lacking = dict[str, Uses]()
    for session in sessions:
        for pool, amount in session.takes.items():
            missing = cupboard.draw(pool, amount, session.now).short
            if missing > 0:
                lacking.setdefault(pool, []).append((session.now, missing))
    return lacking


def _usable(pack: Pack, keeps: int | None, uses: Uses) -> Decimal:
    """What one unit of a pack gives to some uses: less than it holds where it dies, once opened, before it is empty.

    Twice 2 L of 5 L bottles that die in between: two bottles, that give 2 L each.

    >>> _usable(Pack("water", Decimal(5), Decimal(400)), 3, [(1, Decimal(2)), (6, Decimal(2))])
    Decimal('2')
    """
    units, left, opened, lost = 0, ZERO, 0, False
    for now, amount in uses:
        if left and keeps is not None and now > opened + keeps:
            left, lost = ZERO, True
        while amount > left:
            amount -= left
            units, left, opened = units + 1, pack.holds, now
        left -= amount
    return min(pack.holds, _sum(uses) / units) if lost else pack.holds
