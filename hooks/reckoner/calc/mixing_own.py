"""The own side of "kit or own": the baths of a process, mixed by the owner from raw chemicals out of packs.

The pack bought is the one that the cost table of the same baths names: of all offers that convert, the cheapest to
start the first batch.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from reckoner.calc.capacity import doing, life
from reckoner.calc.costing import Cost, CostRow, Market, cost_of
from reckoner.calc.cupboard import Pack, Seller
from reckoner.calc.days import DAYS
from reckoner.calc.offers import PricedOffer
from reckoner.calc.rollup import Need, Rollup
from reckoner.calc.scaling import LITRE
from reckoner.calc.sides import ZERO, Bath, Side
from reckoner.money import Money
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.values import Range

#: Which end of the recorded capacities and keeping times counts.
Figure = Literal["cautious", "generous"]
HOURS, MINUTES = Decimal(24), Decimal(1440)


@dataclass(frozen=True)
class OwnBaths:
    """The baths of one process with what they are mixed from.

    Attributes:
        needs: of a litre, bath by bath.
        cost: of a litre of all of them, with the pack chosen for each chemical.
        litres: of one batch.
    """

    baths: tuple[Formula, ...]
    needs: tuple[tuple[Need, ...], ...]
    cost: Cost
    litres: Decimal

    def side(self, catalogue: Catalogue, figure: Figure, beside_kit: bool = False) -> Side | None:
        """These baths for the simulation; None where none has a recorded capacity, or a price is missing.

        Args:
            beside_kit: ready-made baths stand beside these, so that one of them gives out first in any case.
        """
        if self.cost.missing:
            return None
        rows = [row for row in self.cost.rows if row.offer is not None]
        offers = [row.offer for row in rows if row.offer is not None]
        pairs = zip(self.baths, self.needs, strict=True)
        baths = _led(tuple(self._bath(formula, needs, figure) for formula, needs in pairs), beside_kit)
        if baths is None:
            return None
        return Side(
            baths=baths,
            packs={offer.id: pack_of(offer, catalogue, figure) for offer in offers},
            sellers={offer.supplier: seller_of(offer, catalogue) for offer in offers},
        )

    def _bath(self, formula: Formula, needs: Iterable[Need], figure: Figure) -> Bath:
        takes: dict[str, Decimal] = {}
        metered = ZERO
        for need in needs:
            row = next(row for row in self.cost.rows if need in row.asked)
            if row.offer is not None:
                amount = need.per_litre * _factor(row, need) * self.litres
                takes[row.offer.id] = takes.get(row.offer.id, ZERO) + amount
            elif row.used is not None and row.per_litre:
                share = need.per_litre / row.per_litre
                metered += row.used.number / row.used.step * share * self.litres
        does, keeps = doing(formula), life(formula)
        rolls = None if does is None else getattr(does, figure) * self.litres
        days = None if keeps is None else getattr(keeps, figure)
        return Bath(formula.id, rolls or None, days, tuple(sorted(takes.items())), metered)


def own_baths(baths: Iterable[Formula], rollup: Rollup, market: Market, litres: Decimal) -> OwnBaths:
    """What some baths are mixed from, and at which prices."""
    used = tuple(baths)
    needs = tuple(rollup.needs(formula) for formula in used)
    cost = cost_of([need for of_bath in needs for need in of_bath], market, litres)
    return OwnBaths(used, needs, cost, litres)


def _factor(row: CostRow, need: Need) -> Decimal:
    """Amount from the jar for one g or mL asked; equal needs convert equally."""
    return row.conversions[row.asked.index(need)].factor


def _led(baths: tuple[Bath, ...], beside_kit: bool) -> tuple[Bath, ...] | None:
    """Baths without a recorded capacity or life follow the bath that gives out first.

    Where no bath has both, capacity alone decides, and nothing grows old; None where no bath has a capacity.
    """
    whole = {bath.id for bath in baths if bath.does is not None and bath.days is not None}
    if not whole and not beside_kit:
        return baths if any(bath.does is not None for bath in baths) else None
    return tuple(bath if bath.id in whole else Bath(bath.id, None, None, bath.takes, bath.metered) for bath in baths)


def pack_of(offer: PricedOffer, catalogue: Catalogue, figure: Figure) -> Pack:
    """An offer as a pack: its price in whole cents, as it is paid; each of several bottles keeps by itself."""
    keeping = catalogue.chemicals[offer.offer.chemical].keeping
    return Pack(
        id=offer.id,
        holds=offer.amount / offer.offer.count,
        price=Decimal(offer.price.minor),
        units=offer.offer.count,
        goods=Decimal(offer.listed.minor),
        seller=None if offer.offer.handed_over == "collection only" else offer.supplier,
        opened=days_of(keeping.opened if keeping else None, figure),
        sealed=days_of(keeping.sealed if keeping else None, figure),
    )


def seller_of(offer: PricedOffer, catalogue: Catalogue) -> Seller:
    """Who sends an offer: the charge with the offer's own rate, duty and tax; limits as the supplier lists them."""
    supplier = catalogue.suppliers[offer.supplier]
    delivery, least = supplier.delivery, supplier.minimum_order
    return Seller(
        id=offer.supplier,
        charge=Decimal(offer.in_owners_money(delivery.charge).minor) if delivery else ZERO,
        free_from=_minor(delivery.free_from if delivery else None),
        least=_minor(least),
    )


def _minor(money: Money | None) -> Decimal | None:
    return None if money is None else Decimal(money.minor)


def days_of(span: Range | None, figure: Figure) -> Decimal | None:
    """A keeping time in days, its shorter or longer end; None where nothing is recorded.

    >>> days_of(Range(Decimal(2), Decimal(4), "weeks"), "cautious")
    Decimal('14')
    """
    if span is None:
        return None
    value = span.low if figure == "cautious" else span.high
    if span.unit == "hours":
        return value / HOURS
    return value / MINUTES if span.unit == "minutes" else value * DAYS[span.unit]


def litres_of(catalogue: Catalogue) -> Decimal:
    """Litres of the owner's first batch."""
    return catalogue.settings.first_batch.base / LITRE
