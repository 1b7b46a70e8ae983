"""What a dated price list changed among its supplier's own offers: dearer, cheaper, new and gone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from reckoner.calc.offers import Listed, offer_id, rows_in_force
from reckoner.money import Money
from reckoner.records.catalogue import Catalogue
from reckoner.records.prices import Offer

MoveKind = Literal["dearer", "cheaper", "new", "gone"]
MOVES: tuple[MoveKind, ...] = ("dearer", "cheaper", "new", "gone")
#: Supplier, chemical, form, pack in g or mL, units in a pack, currency: 1 kg and 1000 g are the same offer.
Key = tuple[str, str, str, Decimal, int, str]


@dataclass(frozen=True)
class Move:
    """One offer that is not what it was, at prices as its supplier lists them.

    Attributes:
        offer: as it is now; as it was where it is gone.
        before: None where the offer is new.
        after: None where it is gone: withdrawn, or out of stock.
    """

    kind: MoveKind
    supplier: str
    offer: Offer
    before: Money | None
    after: Money | None

    @property
    def id(self) -> str:
        """The offer's stable name: supplier/chemical/form/pack."""
        return offer_id(self.supplier, self.offer)


@dataclass(frozen=True)
class ListChange:
    """One price list and what it changed.

    Attributes:
        first: whether its supplier had no list before.
        offers: how many of its supplier's offers can be bought from that day on, those of older lists too.
    """

    supplier: str
    day: date
    first: bool
    offers: int
    moves: tuple[Move, ...]

    @property
    def counts(self) -> dict[MoveKind, int]:
        """How many offers moved each way."""
        return {kind: sum(move.kind == kind for move in self.moves) for kind in MOVES}


def list_changes(catalogue: Catalogue) -> tuple[ListChange, ...]:
    """Every list in force or past, the oldest first; of one day, by supplier."""
    found = []
    for listed in catalogue.price_lists:
        day = listed.prices.date
        own = [one for one in catalogue.price_lists if one.supplier == listed.supplier]
        if day <= catalogue.today:
            before = rows_in_force(own, day - timedelta(days=1))
            after = rows_in_force(own, day)
            first = all(one.prices.date >= day for one in own)
            offers = sum(row.offer.in_stock for row in after)
            found.append(ListChange(listed.supplier, day, first, offers, moves(before, after)))
    return tuple(sorted(found, key=lambda change: (change.day, change.supplier)))


def moves(before: Iterable[Listed], after: Iterable[Listed]) -> tuple[Move, ...]:
    """What changed between two states of prices in force: by kind, then by offer.

    An offer whose list went over to another currency is gone, and a new one has come.
    """
    old, new = _on_sale(before), _on_sale(after)
    found = []
    for key in old.keys() | new.keys():
        row = new.get(key) or old[key]
        then = old[key].offer.price if key in old else None
        now = new[key].offer.price if key in new else None
        kind = _kind(then, now)
        if kind is not None:
            found.append((MOVES.index(kind), key, Move(kind, row.supplier, row.offer, then, now)))
    return tuple(move for _, _, move in sorted(found, key=lambda one: one[:2]))


def _on_sale(rows: Iterable[Listed]) -> dict[Key, Listed]:
    return {
        (r.supplier, r.offer.chemical, r.offer.form, r.offer.pack.base, r.offer.count, r.offer.price.currency): r
        for r in rows
        if r.offer.in_stock
    }


def _kind(then: Money | None, now: Money | None) -> MoveKind | None:
    if then is None:
        return "new"
    if now is None:
        return "gone"
    if then.number == now.number:
        return None
    return "dearer" if now.number > then.number else "cheaper"
