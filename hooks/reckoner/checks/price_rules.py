"""Rules about price lists, what suppliers ask for an order, exchange rates and metered water."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from reckoner.calc.mixing.substitution import base_amount
from reckoner.calc.prices.offers import OfferKey, offer_key
from reckoner.checks.formula_rules import form_fault
from reckoner.money import Money, rate_in_force
from reckoner.problems import Location, Problem, ValueFault
from reckoner.records.catalogue import Catalogue, Path, Places
from reckoner.records.prices import Offer
from reckoner.records.settings import NO_CURRENCY
from reckoner.records.shelf import ShelfPack


def prices(catalogue: Catalogue) -> Iterator[Problem]:
    """Offers name known chemicals and forms, a supplier's record stands beside its lists, currencies convert."""
    for listed in catalogue.price_lists:
        places = catalogue.places[listed.file]
        if ("supplier", listed.supplier) not in catalogue.file_of:
            yield Problem(places.at(), f"supplier '{listed.supplier}' has no supplier.yml (add it beside this list)")
        for index, offer in enumerate(listed.prices.offers):
            at = ("offers", index)
            yield from pack_faults(catalogue, offer, places, at)
            yield from no_rate(catalogue, offer.price.currency, places.at(*at, "price"))


def pack_faults(catalogue: Catalogue, pack: Offer | ShelfPack, places: Places, at: Path) -> Iterator[Problem]:
    """A pack for sale or on the shelf is of a known form, and measured as that form is."""
    fault = form_fault(catalogue, pack.chemical, pack.form, places.at(*at, "chemical"), places.at(*at, "form"))
    if fault:
        yield fault
    elif pack.chemical in catalogue.chemicals:
        form = catalogue.chemicals[pack.chemical].form(pack.form)
        assert form is not None
        try:
            base_amount(pack.pack, form)
        except ValueFault as reason:
            yield Problem(places.at(*at, "pack"), str(reason))


def no_rate(catalogue: Catalogue, currency: str, at: Location) -> Iterator[Problem]:
    """A currency without a rate; silent while the settings or the rates have faults of their own: those are told."""
    own = catalogue.settings.currency
    unread = catalogue.exchange_rates is None and ("exchange_rates", "") in catalogue.file_of
    if own == NO_CURRENCY or unread or rate_in_force(catalogue.rates, currency, own, catalogue.today):
        return
    message = f"no exchange rate from {currency} to {own} (add one of today or earlier to exchange_rates.yml)"
    yield Problem(at, message)


def order_money(catalogue: Catalogue) -> Iterator[Problem]:
    """What a supplier asks for an order is in its own currency, and so are its prices, as thresholds count them."""
    for supplier_id, supplier in catalogue.suppliers.items():
        delivery = supplier.delivery
        sums: Iterable[tuple[tuple[str, ...], Money | None]] = (
            (("delivery", "charge"), delivery.charge if delivery else None),
            (("delivery", "free_from"), delivery.free_from if delivery else None),
            (("minimum_order",), supplier.minimum_order),
        )
        for path, money in sums:
            if money is not None and money.currency != supplier.currency:
                message = f"this is in {money.currency} (write it in {supplier.currency}, the supplier's currency)"
                yield Problem(catalogue.place("supplier", supplier_id, *path), message)
    for listed in catalogue.price_lists:
        sender = catalogue.suppliers.get(listed.supplier)
        if sender is None or (sender.delivery is None and sender.minimum_order is None):
            continue
        for index, offer in enumerate(listed.prices.offers):
            if offer.price.currency != sender.currency:
                message = f"the price is in {offer.price.currency}, delivery and minimum order in {sender.currency}"
                at = catalogue.places[listed.file].at("offers", index, "price")
                yield Problem(at, f"{message} (write it in {sender.currency}, the supplier's currency)")


def water_price(catalogue: Catalogue) -> Iterator[Problem]:
    """Metered water is paid in the handbook's currency."""
    water, own = catalogue.settings.tap_water, catalogue.settings.currency
    if water and water.price.currency != own:
        message = f"the water's price is in {water.price.currency} (write it in {own}, the currency of these settings)"
        yield Problem(catalogue.place("settings", "", "tap_water", "price"), message)


def same_day(catalogue: Catalogue) -> Iterator[Problem]:
    """A supplier has one list of a day, as YAML or as a table."""
    seen: dict[tuple[str, date], str] = {}
    for listed in catalogue.price_lists:
        other = seen.setdefault((listed.supplier, listed.prices.date), listed.file)
        if other != listed.file:
            message = f"{other} is of the same supplier and day (join the two lists, or mend a date)"
            yield Problem(catalogue.places[listed.file].at("date"), message)


def repeated_rates(catalogue: Catalogue) -> Iterator[Problem]:
    """A rate has one value a day; the other way round it may be published beside it."""
    seen: set[tuple[str, str, date]] = set()
    for index, rate in enumerate(catalogue.rates):
        key = (rate.base, rate.quote, rate.day)
        if key in seen:
            message = f"{rate.base} to {rate.quote} on {rate.day} stands twice (keep one rate for each day)"
            yield Problem(catalogue.place("exchange_rates", "", "rates", index), message)
        seen.add(key)


def repeated_offers(catalogue: Catalogue) -> Iterator[Problem]:
    """A list has one price for each pack; 1 kg and 1000 g are the same pack."""
    for listed in catalogue.price_lists:
        seen: set[OfferKey] = set()
        for index, offer in enumerate(listed.prices.offers):
            key = offer_key(listed.supplier, offer)
            if key in seen:
                place = catalogue.places[listed.file].at("offers", index)
                message = f"{offer.chemical}, {offer.form}, {offer.pack} stands twice (keep one price for each pack)"
                yield Problem(place, message)
            seen.add(key)
