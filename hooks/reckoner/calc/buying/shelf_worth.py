"""What the packs on the shelf that a plan takes from had cost: how much of each is taken, and what that comes to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.plan_basket import PoolBought
from reckoner.calc.buying.pools import ShelfUse
from reckoner.calc.mixing.substitution import base_amount
from reckoner.money import Money, sum_money
from reckoner.records.catalogue import Catalogue
from reckoner.rounding import round_half_up
from reckoner.units import Proportion

#: Parts of a pack are told to this; below it is nothing.
TRACE = Decimal("1e-9")


@dataclass(frozen=True)
class PackWorth:
    """One pack that a plan takes from.

    Attributes:
        share: the part of the whole pack, as it was sold, that the plan takes, 0 to 1.
        stays: the part of the whole pack that is on the shelf after that.
        paid: what the taken part had cost, in whole minor units; None where nobody remembers.
        today: what it would cost at today's lowest price; None where nothing is for sale.
    """

    taken: ShelfUse
    share: Proportion
    stays: Proportion
    paid: Money | None
    today: Money | None


@dataclass(frozen=True)
class ShelfWorth:
    """What a plan takes from the shelf, pack by pack.

    Attributes:
        paid: the packs' ``paid`` added up, as each is shown; packs without a price are in no sum.
        today: the packs' ``today`` added up the same way.
    """

    packs: tuple[PackWorth, ...]
    paid: Money
    today: Money


def shelf_worth(pools: Iterable[PoolBought], catalogue: Catalogue) -> ShelfWorth:
    """Add up the worth of what is taken; each pack is rounded once, so that the sum is that of the figures shown."""
    packs = tuple(_pack(used, catalogue) for pool in pools for used in pool.shelf if used.amount)
    paid = (pack.paid for pack in packs if pack.paid)
    today = (pack.today for pack in packs if pack.today)
    currency = catalogue.settings.currency
    return ShelfWorth(packs, sum_money(paid, currency), sum_money(today, currency))


def _pack(used: ShelfUse, catalogue: Catalogue) -> PackWorth:
    form = catalogue.chemicals[used.pack.chemical].form(used.pack.form)
    assert form is not None, "checks refuse unknown forms"
    whole = base_amount(used.pack.pack, form)
    # What is taken went through a division by the pool's need: a trace of it would be told as a rest that stays.
    share = Proportion(round_half_up(used.amount / whole, TRACE))
    stays = Proportion(round_half_up(base_amount(used.pack.left, form) / whole - share, TRACE))
    return PackWorth(used, share, stays, _whole(used.paid), _whole(used.today))


def _whole(worth: Money | None) -> Money | None:
    return worth.whole if worth else None
