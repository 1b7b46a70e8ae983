"""Changed prices in words: offers that moved, and why a cost is another."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from reckoner.calc.prices.offers import PricedOffer
from reckoner.calc.prices.price_changes import ListChange, Move, MoveKind
from reckoner.calc.prices.then_now import ChemicalChange, ThenNow
from reckoner.money import Money
from reckoner.pages.shared.display import NBSP, Display
from reckoner.pages.shared.parts import PageWriter
from reckoner.units import Proportion

#: The feed of what this page tells.
FEED = "data/price-changes.xml"
_AMOUNT = "another amount of it is needed"
COUNTED: Mapping[MoveKind, str] = {
    "dearer": "up",
    "cheaper": "down",
    "new": "new",
    "back": "back in stock",
    "out of stock": "out of stock",
    "gone": "gone",
}
#: What "used" is priced at, wherever a change of it is told.
RULE = (
    "Chemicals used are priced at the packs that start the first batch cheapest; where another pack has become that "
    "while the old one is still sold, its part of a change is told apart from what prices make."
)


def so_many(count: int, noun: str) -> str:
    """A count with its noun."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def counted(counts: Mapping[MoveKind, int]) -> str:
    """How many offers moved, as 12 offers up, 3 down, 1 gone.

    >>> counted({"dearer": 1, "cheaper": 0, "new": 2, "gone": 0})
    '1 offer up, 2 new'
    """
    moved = [(count, COUNTED[kind]) for kind, count in counts.items() if count]
    if not moved:
        return "no offer changed"
    first, *others = moved
    return ", ".join([f"{so_many(first[0], 'offer')} {first[1]}", *(f"{count} {word}" for count, word in others)])


def difference(money: Money, show: Display) -> str:
    """A difference in words: as much more, or less."""
    if not money.number:
        return "the same"
    return f"{show.money(Money(abs(money.number), money.currency))}{NBSP}{'more' if money.number > 0 else 'less'}"


def signed_percent(ratio: Proportion, show: Display) -> str:
    """A difference in per cent with its sign."""
    return f"{'+' if ratio > 0 else '−' if ratio < 0 else '±'}{show.percent(Proportion(abs(ratio)))}"


def beside_prices(change: ThenNow, writer: PageWriter) -> str:
    """What prices alone make of a difference, where another choice of packs makes a part of it; else nothing."""
    if change.by_price is None or not change.choice.number:
        return ""
    other = f"other packs {difference(change.choice, writer.show)}"
    if not change.by_price.number:
        return f"prices alone: the same; {other}, though the old ones are still sold"
    alone = difference(change.by_price, writer.show)
    if change.price_ratio is not None:
        alone += f" ({signed_percent(change.price_ratio, writer.show)})"
    return f"prices alone: {alone}; {other}, though the old ones are still sold"


def move_ends(move: Move, show: Display) -> tuple[str, str]:
    """An offer before and after a list: prices as listed, or what it was and is instead."""
    was = "new" if move.kind == "new" else "out of stock"
    before = was if move.before is None else show.money(move.before)
    if move.kind == "out of stock":
        return before, out_of_stock(move.day, move.offer.note, show)
    return before, "gone" if move.after is None else show.money(move.after)


def out_of_stock(since: date, note: str | None, show: Display) -> str:
    """Since when an offer cannot be bought, with what its list says."""
    return f"out of stock since {show.day(since)}" + (f": {note.rstrip('.')}" if note else "")


def reasons(change: ThenNow, writer: PageWriter, most: int) -> tuple[str, ...]:
    """The largest shares of a difference with their reasons; the rest as one, so that all add up to the difference."""
    if change.difference is None:
        return _missing(change, writer)
    named, rest = change.largest(most)
    largest = [f"{writer.short_name(p.chemical)} {difference(p.share, writer.show)} ({why(p, writer)})" for p in named]
    return (*largest, f"all others {difference(rest, writer.show)}") if rest.number else tuple(largest)


def _missing(change: ThenNow, writer: PageWriter) -> tuple[str, ...]:
    was = ", ".join(writer.short_name(chemical) for chemical in change.then_missing)
    still = ", ".join(writer.short_name(chemical) for chemical in change.now_missing)
    missing = [f"no price then for {was}"] if was else []
    return (*missing, f"no price now for {still}") if still else tuple(missing)


def why(part: ChemicalChange, writer: PageWriter) -> str:
    """The reason of one share."""
    old = part.then.offer if part.then else None
    new = part.now.offer if part.now else None
    if old is None or new is None:
        return _AMOUNT if part.why == ("amount",) else part.why[0]
    if part.why[0] == "gone":
        return f"{_gone(old, writer)}, now {_where(new, writer)}"
    if part.why[0] in {"new", "other"}:
        return _another_pack(part, old, new, writer)
    words = []
    if "price" in part.why:
        words.append(_moved(old, new, writer))
    if "rate" in part.why:
        words.append(_rate(old, new, writer))
    if "strength" in part.why:
        words.append("the jar's strength is another")
    if "amount" in part.why:
        words.append(_AMOUNT)
    return "; ".join(words)


def _gone(old: PricedOffer, writer: PageWriter) -> str:
    """That a pack is withdrawn; or out of stock, since when, with the note of its list."""
    row = writer.results.history.out_of_stock.get(old.key)
    if row is None:
        return f"{_where(old, writer)} is gone"
    return f"{_where(old, writer)} is {out_of_stock(row.day, row.offer.note, writer.show)}"


def _another_pack(part: ChemicalChange, old: PricedOffer, new: PricedOffer, writer: PageWriter) -> str:
    """Why another pack is taken though the old one is still sold: which prices moved, and what each cause makes."""
    pairs = ((old, part.old_now), (part.new_then, new))
    causes = [_moved(then, now, writer) for then, now in pairs if then and now and then.listed != now.listed]
    fresh = "" if part.new_then else "a new offer, "
    causes.append(f"{fresh}{_where(new, writer)} is the cheapest start now, instead of {_where(old, writer)}")
    by_price = part.by_price
    if by_price.number and part.choice.number:
        sums = [difference(sum_, writer.show) for sum_ in (by_price, part.choice)]
        causes.append(f"of it {sums[0]} by the price, {sums[1]} by the other pack")
    return "; ".join(causes)


def _moved(then: PricedOffer, now: PricedOffer, writer: PageWriter) -> str:
    return f"{_where(now, writer)}: {writer.show.money(then.listed)} → {writer.show.money(now.listed)}"


def _where(offer: PricedOffer, writer: PageWriter) -> str:
    return f"{writer.pack(offer)} from {writer.supplier(offer.supplier)}"


def _rate(old: PricedOffer, new: PricedOffer, writer: PageWriter) -> str:
    factors = [writer.show.exactish(offer.exchange.factor, offer.exchange.quote, 5) for offer in (old, new)]
    return f"1 {new.exchange.base} = {factors[0]} → {factors[1]}"


def list_anchor(change: ListChange) -> str:
    """Where a list stands on the page of price changes."""
    return f"{change.day.isoformat()}-{change.supplier}"
