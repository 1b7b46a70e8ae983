"""A cost then and now, and how much of the difference each chemical makes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from reckoner.calc.prices.costing import Cost, CostRow, Market
from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import Money, money_shares, sum_money
from reckoner.units import Proportion

#: Why a chemical costs another sum. Of the same offer: its price, the exchange rate, its strength, or how much of it
#: is needed; else that another offer is taken, because the old one is gone, the new one has come, or without either;
#: else that the chemical came in for another or went out for it.
Why = Literal["price", "rate", "strength", "amount", "gone", "new", "other", "now bought", "no longer bought"]


@dataclass(frozen=True)
class ChemicalChange:
    """One chemical's share of a difference.

    Attributes:
        exact: what its part of a litre costs more now.
        share: the same in whole minor units; the shares add up to the difference as shown.
        choice: what of ``share`` comes of another pack being taken while the old one is still sold: no price moved.
        then, now: its row of the cost; None where it was or is not bought.
        old_now: the pack of then as it is sold now, and ``new_then`` the pack of now as it was sold then, where they
            are two packs; None where it is or was not for sale.
    """

    chemical: str
    exact: Money
    share: Money
    choice: Money
    why: tuple[Why, ...]
    then: CostRow | None
    now: CostRow | None
    old_now: PricedOffer | None = None
    new_then: PricedOffer | None = None

    @property
    def by_price(self) -> Money:
        """What of ``share`` prices, rates and packs no longer sold make."""
        return self.share - self.choice


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
        price_ratio: the same without what another choice of packs makes.
        parts: the largest share first; together the difference.
    """

    since: date
    day: date
    then: Money | None
    now: Money | None
    then_missing: tuple[str, ...]
    now_missing: tuple[str, ...]
    difference: Money | None
    ratio: Proportion | None
    price_ratio: Proportion | None
    parts: tuple[ChemicalChange, ...]

    @property
    def choice(self) -> Money:
        """What of the difference comes of other packs being taken, in whole minor units."""
        currency = self.difference.currency if self.difference else ""
        return sum_money((part.choice for part in self.parts), currency)

    @property
    def by_price(self) -> Money | None:
        """What prices, rates and packs no longer sold make of the difference."""
        return None if self.difference is None else self.difference - self.choice

    def largest(self, most: int) -> tuple[tuple[ChemicalChange, ...], Money]:
        """The largest shares, at most so many, and what all others make together."""
        named = tuple(part for part in self.parts if part.share.number)[:most]
        others = [part.share for part in self.parts[len(named) :]]
        currency = self.difference.currency if self.difference else ""
        return named, sum_money(others, currency)


def then_now(since: date, day: date, then: Cost, now: Cost, market_then: Market, market_now: Market) -> ThenNow:
    """Compare two costs of one thing."""
    cost_then, cost_now = then.used_per_litre, now.used_per_litre
    if cost_then is None or cost_now is None:
        return ThenNow(since, day, cost_then, cost_now, then.missing, now.missing, None, None, None, ())
    difference = cost_now.whole - cost_then.whole
    parts = _parts(difference, then, now, market_then, market_now)
    more = cost_now.number - cost_then.number
    return ThenNow(
        since,
        day,
        cost_then,
        cost_now,
        (),
        (),
        difference,
        _ratio(more, cost_then),
        _ratio(more - by_choice(then, now, market_now), cost_then),
        parts,
    )


def _ratio(more: Decimal, of: Money) -> Proportion | None:
    return Proportion(more / of.number) if of.number else None


def by_choice(then: Cost, now: Cost, market_now: Market) -> Decimal:
    """What of a difference comes of other packs being taken though the old ones are still sold, exact.

    A new pack that is cheaper to start with but dearer a gram makes a litre cost more while nobody pays more for
    anything: that is told apart from prices.
    """
    chemicals = dict.fromkeys(row.chemical for row in now.rows)
    return sum((_choice(then, now, chemical, market_now) for chemical in chemicals), Decimal(0))


def _choice(then: Cost, now: Cost, chemical: str, market_now: Market) -> Decimal:
    by_pack = Decimal(0)
    for old, new in _pairs(then.rows, now.rows, chemical):
        kept = _as_sold(market_now, old, new)
        if kept is not None and old.per_litre is not None and new.used is not None:
            by_pack += new.used.number - (kept.unit_price * old.per_litre).number
    return by_pack


def _pairs(then: Iterable[CostRow], now: Iterable[CostRow], chemical: str) -> list[tuple[CostRow, CostRow]]:
    """The rows of a chemical that is bought on both days; by form where its forms do not convert and stand apart."""
    old = [row for row in then if row.chemical == chemical]
    new = [row for row in now if row.chemical == chemical]
    if len(old) == len(new) == 1:
        return [(old[0], new[0])]
    by_form = {_first_asked(row): row for row in new}
    return [(row, by_form[_first_asked(row)]) for row in old if _first_asked(row) in by_form]


def _first_asked(row: CostRow) -> tuple[str, str]:
    return row.asked[0].chemical, row.asked[0].form


def _as_sold(market: Market, row: CostRow, other: CostRow) -> PricedOffer | None:
    """The pack of one row as a market sells it, where the other row has another pack."""
    if row.offer is None or other.offer is None or row.offer.key == other.offer.key:
        return None
    key = row.offer.key
    return next((offer for offer in market.offers.get(row.chemical, ()) if offer.key == key), None)


def _parts(
    difference: Money, then: Cost, now: Cost, market_then: Market, market_now: Market
) -> tuple[ChemicalChange, ...]:
    currency = market_now.currency
    chemicals = list(dict.fromkeys(row.chemical for row in (*now.rows, *then.rows)))
    exact = [_used(now, c, currency) - _used(then, c, currency) for c in chemicals]
    whole = money_shares(difference, exact)
    changes = []
    for chemical, more, share in zip(chemicals, exact, whole, strict=True):
        old, new = _changed_row(then.rows, now.rows, chemical)
        if more.number or share.number:
            chosen = Money(_choice(then, now, chemical, market_now), currency)
            choice = _whole_choice(share, more - chosen, chosen)
            both = (old, new) if old and new else None
            old_now = _as_sold(market_now, *both) if both else None
            new_then = _as_sold(market_then, *both[::-1]) if both else None
            why = _why(old, new, old_now, new_then)
            changes.append(ChemicalChange(chemical, more, share, choice, why, old, new, old_now, new_then))
    return tuple(sorted(changes, key=lambda part: (-abs(part.share.number), -abs(part.exact.number), part.chemical)))


def _whole_choice(share: Money, by_price: Money, chosen: Money) -> Money:
    """What of a chemical's share is choice: the smaller of the two is rounded, the larger is what remains.

    >>> str(_whole_choice(*(Money(Decimal(sum_), "EUR") for sum_ in ("0.30", "0", "0.296"))))
    '0.30 EUR'
    >>> str(_whole_choice(*(Money(Decimal(sum_), "EUR") for sum_ in ("0.31", "0.204", "0.105"))))
    '0.11 EUR'
    """
    return share - by_price.whole if abs(by_price.number) < abs(chosen.number) else chosen.whole


def _used(cost: Cost, chemical: str, currency: str) -> Money:
    return sum_money((row.used for row in cost.rows if row.chemical == chemical and row.used), currency)


def _changed_row(
    then: Iterable[CostRow], now: Iterable[CostRow], chemical: str
) -> tuple[CostRow | None, CostRow | None]:
    """The rows of a chemical; of several (forms that do not convert), the first pair whose sums differ."""
    pairs = _pairs(then, now, chemical)
    if not pairs:
        old, new = ([row for row in rows if row.chemical == chemical] for rows in (then, now))
        return (old[0] if old else None, new[0] if new else None)
    return next((pair for pair in pairs if pair[0].used != pair[1].used), pairs[0])


def _why(
    old: CostRow | None, new: CostRow | None, old_now: PricedOffer | None, new_then: PricedOffer | None
) -> tuple[Why, ...]:
    if old is None:
        return ("now bought",)
    if new is None:
        return ("no longer bought",)
    if old.offer is None or new.offer is None:
        return ("amount",)
    if old.offer.key != new.offer.key:
        if old_now is None:
            return ("gone",)
        return ("other",) if new_then else ("new",)
    reasons: list[Why] = []
    if old.offer.listed != new.offer.listed:
        reasons.append("price")
    if old.offer.exchange.factor != new.offer.exchange.factor:
        reasons.append("rate")
    if old.offer.jar.assay != new.offer.jar.assay:
        reasons.append("strength")
    elif old.per_litre != new.per_litre:
        reasons.append("amount")
    return tuple(reasons)
