"""A cost then and now, and how much of the difference each chemical makes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from reckoner.calc.costing import Cost, CostRow, Market, sum_money
from reckoner.money import Money, shares

#: Why a chemical costs another sum. Of the same offer: its price, the exchange rate, its strength, or how much of it
#: is needed; else that another offer is taken, because the old one is gone, the new one has come, or without either;
#: else that the chemical came in for another or went out for it.
Why = Literal["price", "rate", "strength", "amount", "gone", "new", "other", "now bought", "no longer bought"]


@dataclass(frozen=True)
class Part:
    """One chemical's share of a difference.

    Attributes:
        exact: what its part of a litre costs more now.
        share: the same in whole minor units; the shares add up to the difference as shown.
        then, now: its row of the cost; None where it was or is not bought.
    """

    chemical: str
    exact: Money
    share: Money
    why: tuple[Why, ...]
    then: CostRow | None
    now: CostRow | None


@dataclass(frozen=True)
class ThenNow:
    """The cost before the last price list that changed anything, and now.

    Attributes:
        since: the date of that list.
        day: the date of ``then``: the list date before it.
        then, now: of a litre used.
        then_missing, now_missing: chemicals without a price.
        difference: of the two rounded sums; None where one of them is missing.
        ratio: the difference over the sum of then, exact.
        parts: the largest share first; together the difference.
    """

    since: date
    day: date
    then: Money | None
    now: Money | None
    then_missing: tuple[str, ...]
    now_missing: tuple[str, ...]
    difference: Money | None
    ratio: Decimal | None
    parts: tuple[Part, ...]

    def largest(self, most: int) -> tuple[tuple[Part, ...], Money]:
        """The largest shares, at most so many, and what all others make together."""
        named = tuple(part for part in self.parts if part.share.number)[:most]
        others = [part.share for part in self.parts[len(named) :]]
        currency = self.difference.currency if self.difference else ""
        return named, sum_money(others, Money(Decimal(0), currency))


def then_now(since: date, day: date, then: Cost, now: Cost, market_then: Market, market_now: Market) -> ThenNow:
    """Compare two costs of one thing."""
    one, two = then.used_per_litre, now.used_per_litre
    if one is None or two is None:
        return ThenNow(since, day, one, two, then.missing, now.missing, None, None, ())
    minor = two.minor - one.minor
    parts = _parts(minor, then, now, market_then, market_now)
    ratio = (two.number - one.number) / one.number if one.number else None
    return ThenNow(since, day, one, two, (), (), Money(minor * two.step, two.currency), ratio, parts)


def _parts(minor: int, then: Cost, now: Cost, market_then: Market, market_now: Market) -> tuple[Part, ...]:
    zero = Money(Decimal(0), market_now.currency)
    chemicals = list(dict.fromkeys(row.chemical for row in (*now.rows, *then.rows)))
    exact = [_used(now, c, zero).number - _used(then, c, zero).number for c in chemicals]
    whole = shares(minor, [number / zero.step for number in exact])
    found = []
    for chemical, number, share in zip(chemicals, exact, whole, strict=True):
        old, new = _changed_row(then.rows, now.rows, chemical)
        if number or share:
            why = _why(old, new, market_then, market_now)
            sums = (Money(number, zero.currency), Money(share * zero.step, zero.currency))
            found.append(Part(chemical, *sums, why, old, new))
    return tuple(sorted(found, key=lambda part: (-abs(part.share.number), -abs(part.exact.number), part.chemical)))


def _used(cost: Cost, chemical: str, zero: Money) -> Money:
    return sum_money((row.used for row in cost.rows if row.chemical == chemical), zero)


def _changed_row(
    then: Iterable[CostRow], now: Iterable[CostRow], chemical: str
) -> tuple[CostRow | None, CostRow | None]:
    """The rows of a chemical; of several (forms that do not convert), the first pair whose sums differ."""
    old = [row for row in then if row.chemical == chemical]
    new = [row for row in now if row.chemical == chemical]
    pairs = list(zip(old, new, strict=False)) if old and new else [(old[0] if old else None, new[0] if new else None)]
    return next((pair for pair in pairs if pair[0] and pair[1] and pair[0].used != pair[1].used), pairs[0])


def _why(old: CostRow | None, new: CostRow | None, market_then: Market, market_now: Market) -> tuple[Why, ...]:
    if old is None:
        return ("now bought",)
    if new is None:
        return ("no longer bought",)
    if old.offer is None or new.offer is None:
        return ("amount",)
    if old.offer.id != new.offer.id:
        if not _sold(market_now, old.chemical, old.offer.id):
            return ("gone",)
        return ("other",) if _sold(market_then, new.chemical, new.offer.id) else ("new",)
    found: list[Why] = []
    if old.offer.listed != new.offer.listed:
        found.append("price")
    if old.offer.exchange.factor != new.offer.exchange.factor:
        found.append("rate")
    if old.offer.jar.assay != new.offer.jar.assay:
        found.append("strength")
    elif old.per_litre != new.per_litre:
        found.append("amount")
    return tuple(found)


def _sold(market: Market, chemical: str, offer_id: str) -> bool:
    return any(offer.id == offer_id for offer in market.offers.get(chemical, ()))
