"""What a plan would have bought at the prices before the newest list, beside what it buys now."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from reckoner.calc.buying.plan_basket import Bought, PlanBought, buy
from reckoner.calc.prices.costing import Market
from reckoner.calc.prices.offers import OfferKey, priced_offers, sold
from reckoner.money import Money
from reckoner.records.catalogue import Catalogue


@dataclass(frozen=True)
class Moved:
    """One pool that is filled by other packs now."""

    chemical: str
    before: tuple[Bought, ...]
    now: tuple[Bought, ...]


@dataclass(frozen=True)
class BasketThen:
    """A plan's basket at earlier prices.

    Attributes:
        day: the list date whose prices count.
        total: None where it could not be bought then.
    """

    day: date
    total: Money | None
    moved: tuple[Moved, ...]


def before_newest_list(bought: PlanBought, catalogue: Catalogue, market: Market) -> BasketThen | None:
    """The plan at the prices of the list date before the newest; None where there is one date only."""
    days = sorted(
        {price_list.prices.date for price_list in catalogue.price_lists if price_list.prices.date <= catalogue.today}
    )
    if len(days) < 2:
        return None
    day = days[-2]
    earlier = sold(priced_offers(replace(catalogue, today=day)))
    then = buy(bought.plan, catalogue, replace(market, offers=earlier))
    before = {pool.pool.id: pool.bought for pool in then.pools}
    moved = tuple(
        Moved(pool.pool.chemical, before.get(pool.pool.id, ()), pool.bought)
        for pool in bought.pools
        if _packs(before.get(pool.pool.id, ())) != _packs(pool.bought)
    )
    return BasketThen(day, None if then.missing or then.impossible else then.total, moved)


def _packs(bought: tuple[Bought, ...]) -> set[tuple[OfferKey, int]]:
    return {(line.offer.key, line.packs) for line in bought}
