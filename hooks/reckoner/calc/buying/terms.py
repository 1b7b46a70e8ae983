"""What a seller asks for an order: its delivery, the sum from which goods are sent free, and the least it sends."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import Minor
from reckoner.records.catalogue import Catalogue

NO_CHARGE = Minor(0)


@dataclass(frozen=True)
class Terms:
    """A seller's terms; delivery in the owner's minor units, limits in the seller's own as listed.

    Attributes:
        delivery: of one order.
        free_from: goods of this sum are sent free; None: none are.
        minimum: goods of this sum are the least that is sent.
    """

    delivery: Minor = NO_CHARGE
    free_from: Minor | None = None
    minimum: Minor = NO_CHARGE

    def charge(self, listed: int) -> Minor:
        """Delivery of an order of so much."""
        return NO_CHARGE if self.free_from is not None and listed >= self.free_from else self.delivery

    def short_of_free(self, listed: int) -> Minor | None:
        """What an order of so much lacks to be sent free; None where that saves nothing, or cannot be."""
        return Minor(self.free_from - listed) if self.free_from is not None and self.charge(listed) else None

    def asked(self, free: bool) -> int:
        """The goods that an order must have, to be sent or to be sent free."""
        return max(self.minimum, self.free_from or 0) if free else self.minimum

    @property
    def limited(self) -> bool:
        """Whether it matters how much is ordered together."""
        return bool(self.minimum) or self.free_from is not None


def terms_of(offer: PricedOffer, catalogue: Catalogue) -> Terms:
    """The terms of an offer's supplier: the charge with the offer's own rate, duty and tax, limits as listed."""
    supplier = catalogue.suppliers[offer.supplier]
    delivery, least = supplier.delivery, supplier.minimum_order
    return Terms(
        delivery=offer.in_owners_money(delivery.charge).minor if delivery else NO_CHARGE,
        free_from=delivery.free_from.minor if delivery and delivery.free_from else None,
        minimum=least.minor if least else NO_CHARGE,
    )
