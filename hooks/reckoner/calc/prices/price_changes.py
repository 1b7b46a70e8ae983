"""What a dated price list changed among its supplier's own offers: dearer, cheaper, new, out of stock and gone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from reckoner.calc.prices.offers import Listed, OfferKey, offer_id, offer_key, rows_in_force
from reckoner.money import Money
from reckoner.records.catalogue import Catalogue
from reckoner.records.prices import Offer

MoveKind = Literal["dearer", "cheaper", "new", "back", "out of stock", "gone"]
MOVES: tuple[MoveKind, ...] = ("dearer", "cheaper", "new", "back", "out of stock", "gone")
#: An offer in a currency: one whose list went over to another currency is another.
Key = tuple[OfferKey, str]


@dataclass(frozen=True)
class Move:
    """One offer that is not what it was, at prices as its supplier lists them.

    Attributes:
        offer: as it is now, with its note; as it was where it is gone.
        day: date of the list that ``offer`` stands in.
        before: None where the offer is new, or was out of stock.
        after: None where it is withdrawn or out of stock.
    """

    kind: MoveKind
    supplier: str
    day: date
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
    changes = []
    for listed in catalogue.price_lists:
        day = listed.prices.date
        own = [price_list for price_list in catalogue.price_lists if price_list.supplier == listed.supplier]
        if day <= catalogue.today:
            before = rows_in_force(own, day - timedelta(days=1))
            after = rows_in_force(own, day)
            first = all(earlier.prices.date >= day for earlier in own)
            offers = sum(row.offer.in_stock for row in after)
            changes.append(ListChange(listed.supplier, day, first, offers, moves(before, after)))
    return tuple(sorted(changes, key=lambda change: (change.day, change.supplier)))


def moves(before: Iterable[Listed], after: Iterable[Listed]) -> tuple[Move, ...]:
    """What changed between two states of prices in force: by kind, then by offer.

    An offer whose list went over to another currency is gone, and a new one has come.
    """
    old, new = _by_key(before), _by_key(after)
    moved = []
    for key in old.keys() | new.keys():
        then, now = old.get(key), new.get(key)
        row = now or old[key]
        kind = _kind(then, now)
        if kind is not None:
            move = Move(kind, row.supplier, row.day, row.offer, _asked(then), _asked(now))
            moved.append((MOVES.index(kind), key, move))
    return tuple(move for _, _, move in sorted(moved, key=lambda place: place[:2]))


def _by_key(rows: Iterable[Listed]) -> dict[Key, Listed]:
    return {(offer_key(row.supplier, row.offer), row.offer.price.currency): row for row in rows}


def _asked(row: Listed | None) -> Money | None:
    """The price of an offer that can be bought."""
    return row.offer.price if row is not None and row.offer.in_stock else None


def _kind(then: Listed | None, now: Listed | None) -> MoveKind | None:
    before, after = _asked(then), _asked(now)
    if after is None:
        gone: MoveKind = "gone" if now is None else "out of stock"
        return gone if before is not None else None
    if before is None:
        return "new" if then is None else "back"
    if before.number == after.number:
        return None
    return "dearer" if after.number > before.number else "cheaper"


def out_of_stock(catalogue: Catalogue) -> Mapping[OfferKey, Listed]:
    """Offers in force that are out of stock, with the day of the first list since when they are, and the newest row."""
    missing: dict[OfferKey, Listed] = {}
    for listed in sorted(catalogue.price_lists, key=lambda price_list: price_list.prices.date):
        if listed.prices.date > catalogue.today:
            break
        rows = {offer_key(listed.supplier, offer): offer for offer in listed.prices.offers}
        if listed.prices.complete:
            missing = {key: row for key, row in missing.items() if row.supplier != listed.supplier or key in rows}
        for key, offer in rows.items():
            known = missing.pop(key, None)
            if not offer.in_stock:
                missing[key] = Listed(listed.supplier, known.day if known else listed.prices.date, offer)
    return missing
