"""Which prices are in force today, in the owner's currency with tax."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from reckoner.calc.mixing.substitution import Jar, base_amount
from reckoner.money import Exchange, ExchangeRate, Money, rate_in_force
from reckoner.records.catalogue import Catalogue, ListedPrices
from reckoner.records.chemical import Chemical
from reckoner.records.prices import Offer, Supplier

#: Supplier, chemical, form, mass or volume, pack in g or mL, units in a pack.
OfferKey = tuple[str, str, str, str, Decimal, int]


def offer_key(supplier: str, offer: Offer) -> OfferKey:
    """What makes two rows the same offer: the quantity and not its spelling, so that 0.5 kg is 500 g."""
    return (supplier, offer.chemical, offer.form, offer.pack.dimension, offer.pack.base, offer.count)


def offer_id(supplier: str, offer: Offer) -> str:
    """A stable name: supplier/chemical/form/pack."""
    count = f"{offer.count}x" if offer.count > 1 else ""
    pack = f"{count}{offer.pack}".replace(" ", "-")
    return f"{supplier}/{offer.chemical}/{offer.form}/{pack}"


@dataclass(frozen=True)
class PricedOffer:
    """An offer in force.

    Attributes:
        supplier: id.
        day: date of the list the price stands in.
        jar: what is in the pack, with its assay.
        amount: content in the jar's unit, g or mL, all units of the offer together.
        listed: as the supplier prints it.
        price: of the pack in the owner's currency, tax included, in whole minor units as it is paid: rounded here,
            once, so that every page, plan and figure a litre starts from the same sum.
        exchange: the rate used.
        duty: per cent added before tax.
        tax: per cent added, zero where the list includes it.
    """

    supplier: str
    day: date
    offer: Offer
    jar: Jar
    amount: Decimal
    listed: Money
    price: Money
    exchange: Exchange
    tax: Decimal
    duty: Decimal = Decimal(0)

    @cached_property
    def id(self) -> str:
        """A stable name: supplier/chemical/form/pack."""
        return offer_id(self.supplier, self.offer)

    @cached_property
    def key(self) -> OfferKey:
        """The same for the same pack, however a list spells it."""
        return offer_key(self.supplier, self.offer)

    def in_owners_money(self, listed: Money) -> Money:
        """A sum that the supplier lists, in the owner's currency with the same tax and duty as its prices, exact."""
        return self.exchange.convert(listed * ((1 + self.duty / 100) * (1 + self.tax / 100)))

    @cached_property
    def unit_price(self) -> Money:
        """Price of 1 g or 1 mL."""
        return self.price * (1 / self.amount)


@dataclass(frozen=True)
class Listed:
    """One row of a list that is in force."""

    supplier: str
    day: date
    offer: Offer


def rows_in_force(lists: Iterable[ListedPrices], today: date) -> tuple[Listed, ...]:
    """The newest row of each supplier, form and pack from lists not after today.

    A list marked complete withdraws what it does not name.
    """
    newest: dict[str, dict[OfferKey, Listed]] = {}
    for listed in sorted(lists, key=lambda price_list: (price_list.supplier, price_list.prices.date)):
        if listed.prices.date > today:
            continue
        rows = newest.setdefault(listed.supplier, {})
        if listed.prices.complete:
            rows.clear()
        for offer in listed.prices.offers:
            rows[offer_key(listed.supplier, offer)] = Listed(listed.supplier, listed.prices.date, offer)
    return tuple(row for supplier in sorted(newest) for row in newest[supplier].values())


def priced_offers(catalogue: Catalogue) -> Mapping[str, tuple[PricedOffer, ...]]:
    """Offers in force and in stock by chemical, cheapest unit price first."""
    by_chemical: dict[str, list[PricedOffer]] = {}
    for row in rows_in_force(catalogue.price_lists, catalogue.today):
        offer = _priced(row, catalogue)
        if offer and row.offer.in_stock:
            by_chemical.setdefault(row.offer.chemical, []).append(offer)
    return {
        chemical: tuple(sorted(offers, key=lambda o: (o.unit_price.number, o.id)))
        for chemical, offers in sorted(by_chemical.items())
    }


def sold(offers: Mapping[str, tuple[PricedOffer, ...]]) -> Mapping[str, tuple[PricedOffer, ...]]:
    """The offers that the owner can buy: what is not delivered to private persons is shown, and never reckoned with."""
    return {
        chemical: tuple(offer for offer in all_offers if offer.offer.handed_over != "not deliverable")
        for chemical, all_offers in offers.items()
    }


def _priced(row: Listed, catalogue: Catalogue) -> PricedOffer | None:
    chemical = catalogue.chemicals.get(row.offer.chemical)
    supplier = catalogue.suppliers.get(row.supplier)
    if chemical is None or supplier is None:
        return None
    return price_row(row, chemical, supplier, catalogue.settings.currency, catalogue.rates, catalogue.today)


def price_row(
    row: Listed, chemical: Chemical, supplier: Supplier, currency: str, rates: tuple[ExchangeRate, ...], today: date
) -> PricedOffer | None:
    """One row priced in ``currency`` with tax; None where the form or a rate is missing (checks report that)."""
    form = chemical.form(row.offer.form)
    exchange = rate_in_force(rates, row.offer.price.currency, currency, today)
    if form is None or exchange is None:
        return None
    jar = Jar(chemical, form, row.offer.assay)
    tax = Decimal(0) if supplier.vat_included else supplier.vat
    duty = supplier.duty or Decimal(0)
    gross = exchange.convert(row.offer.price * ((1 + duty / 100) * (1 + tax / 100)))
    amount = base_amount(row.offer.pack, form) * row.offer.count
    return PricedOffer(row.supplier, row.day, row.offer, jar, amount, row.offer.price, gross.paid, exchange, tax, duty)
