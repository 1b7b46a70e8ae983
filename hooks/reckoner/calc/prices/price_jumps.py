"""Prices so far from the former list's that a decimal point has probably slipped."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from reckoner.calc.prices.offers import OfferKey, offer_key
from reckoner.money import Money
from reckoner.records.catalogue import Catalogue, ListedPrices
from reckoner.records.prices import Offer

#: A price that went up or down so many times is asked about; real prices seldom move that far between two lists.
TIMES = Decimal(5)


@dataclass(frozen=True)
class Jump:
    """One price that is many times the one before, or a small part of it.

    Attributes:
        file, index: the list that the price stands in, and which of its offers it is.
        times: how many times the lower price goes into the higher.
        before_day, before: the former list of the same supplier that names this pack, and its price.
    """

    supplier: str
    file: str
    index: int
    day: date
    offer: Offer
    before_day: date
    before: Money
    times: Decimal

    @property
    def up(self) -> bool:
        """Whether the price rose."""
        return self.offer.price.number > self.before.number


def price_jumps(catalogue: Catalogue) -> tuple[Jump, ...]:
    """Every such price that no later list has replaced, by list and place; lists of tomorrow are asked about too.

    A price that comes back to what it was before a jump is none: the jump was the slip.
    """
    jumps: dict[tuple[OfferKey, str], Jump] = {}
    newest: dict[tuple[OfferKey, str], tuple[date, Money]] = {}
    for listed in sorted(catalogue.price_lists, key=lambda price_list: (price_list.supplier, price_list.prices.date)):
        for index, offer in enumerate(listed.prices.offers):
            key = (offer_key(listed.supplier, offer), offer.price.currency)
            jump = _jump(listed, index, newest[key]) if key in newest else None
            former = jumps.pop(key, None)
            if jump and not (former and _times(offer.price, former.before) < TIMES):
                jumps[key] = jump
            newest[key] = (listed.prices.date, offer.price)
    return tuple(sorted(jumps.values(), key=lambda jump: (jump.file, jump.index)))


def _jump(listed: ListedPrices, index: int, former: tuple[date, Money]) -> Jump | None:
    offer = listed.prices.offers[index]
    times = _times(offer.price, former[1])
    if times < TIMES:
        return None
    return Jump(listed.supplier, listed.file, index, listed.prices.date, offer, *former, times)


def _times(price: Money, other: Money) -> Decimal:
    return max(price.number, other.number) / min(price.number, other.number)
