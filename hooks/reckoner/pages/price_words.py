"""Changed prices in words: offers that moved, and why a cost is another."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from reckoner.calc.offers import PricedOffer
from reckoner.calc.price_changes import MoveKind
from reckoner.calc.then_now import Part, ThenNow
from reckoner.money import Money
from reckoner.pages.display import NBSP, Display
from reckoner.pages.parts import Shower
from reckoner.records.prices import Offer

_AMOUNT = "another amount of it is needed"
COUNTED: Mapping[MoveKind, str] = {"dearer": "up", "cheaper": "down", "new": "new", "gone": "gone"}


def so_many(count: int, noun: str) -> str:
    """A count with its noun."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def counted(counts: Mapping[MoveKind, int]) -> str:
    """How many offers moved, as 12 offers up, 3 down, 1 gone.

    >>> counted({"dearer": 1, "cheaper": 0, "new": 2, "gone": 0})
    '1 offer up, 2 new'
    """
    found = [(count, COUNTED[kind]) for kind, count in counts.items() if count]
    if not found:
        return "no offer changed"
    first, *others = found
    return ", ".join([f"{so_many(first[0], 'offer')} {first[1]}", *(f"{count} {word}" for count, word in others)])


def difference(money: Money, show: Display) -> str:
    """A difference in words: as much more, or less."""
    if not money.number:
        return "the same"
    return f"{show.money(Money(abs(money.number), money.currency))}{NBSP}{'more' if money.number > 0 else 'less'}"


def signed_percent(ratio: Decimal, show: Display) -> str:
    """A difference in per cent with its sign."""
    return f"{'+' if ratio > 0 else '−' if ratio < 0 else '±'}{show.percent(abs(ratio))}"


def pack_text(offer: Offer, shower: Shower) -> str:
    """A pack with its form, as 2 × 500 g anhydrous."""
    count = f"{offer.count} × " if offer.count > 1 else ""
    return f"{count}{shower.show.amount(offer.pack)} {shower.form(offer.chemical, offer.form)}".rstrip()


def reasons(change: ThenNow, shower: Shower, most: int) -> tuple[str, ...]:
    """The largest shares of a difference with their reasons; the rest as one, so that all add up to the difference."""
    if change.difference is None:
        return _missing(change, shower)
    named, rest = change.largest(most)
    found = [f"{shower.short_name(p.chemical)} {difference(p.share, shower.show)} ({why(p, shower)})" for p in named]
    return (*found, f"all others {difference(rest, shower.show)}") if rest.number else tuple(found)


def _missing(change: ThenNow, shower: Shower) -> tuple[str, ...]:
    was = ", ".join(shower.short_name(chemical) for chemical in change.then_missing)
    still = ", ".join(shower.short_name(chemical) for chemical in change.now_missing)
    told = [f"no price then for {was}"] if was else []
    return (*told, f"no price now for {still}") if still else tuple(told)


def why(part: Part, shower: Shower) -> str:
    """The reason of one share."""
    old = part.then.offer if part.then else None
    new = part.now.offer if part.now else None
    if old is None or new is None:
        return _AMOUNT if part.why == ("amount",) else part.why[0]
    if part.why[0] in {"gone", "new", "other"}:
        opening = {
            "gone": f"{_where(old, shower)} is gone, now {_where(new, shower)}",
            "new": f"a new offer, {_where(new, shower)}, instead of {_where(old, shower)}",
            "other": f"now {_where(new, shower)} instead of {_where(old, shower)}, for a cheaper start",
        }
        return opening[part.why[0]]
    words = []
    if "price" in part.why:
        prices = f"{shower.show.money(old.listed)} → {shower.show.money(new.listed)}"
        words.append(f"{_where(new, shower)}: {prices}")
    if "rate" in part.why:
        words.append(_rate(old, new, shower))
    if "strength" in part.why:
        words.append("the jar's strength is another")
    if "amount" in part.why:
        words.append(_AMOUNT)
    return "; ".join(words)


def _where(offer: PricedOffer, shower: Shower) -> str:
    return f"{shower.pack(offer)} from {shower.supplier(offer.supplier)}"


def _rate(old: PricedOffer, new: PricedOffer, shower: Shower) -> str:
    factors = [shower.show.exactish(one.exchange.factor, one.exchange.quote, 5) for one in (old, new)]
    return f"1 {new.exchange.base} = {factors[0]} → {factors[1]}"
