"""Rules about price lists."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.substitution import base_amount
from reckoner.checks.formula_rules import form_fault
from reckoner.money import rate_in_force
from reckoner.problems import Problem, ValueFault
from reckoner.records.catalogue import Catalogue


def prices(catalogue: Catalogue) -> Iterator[Problem]:
    """Offers name known chemicals and forms, a supplier's record stands beside its lists, currencies convert."""
    for listed in catalogue.price_lists:
        places = catalogue.places[listed.file]
        if ("supplier", listed.supplier) not in catalogue.file_of:
            yield Problem(places.at(), f"supplier '{listed.supplier}' has no supplier.yml (add it beside this list)")
        for index, offer in enumerate(listed.prices.offers):
            at = ("offers", index)
            fault = form_fault(
                catalogue, offer.chemical, offer.form, places.at(*at, "chemical"), places.at(*at, "form")
            )
            if fault:
                yield fault
            elif offer.chemical in catalogue.chemicals:
                form = catalogue.chemicals[offer.chemical].form(offer.form)
                assert form is not None
                try:
                    base_amount(offer.pack, form)
                except ValueFault as reason:
                    yield Problem(places.at(*at, "pack"), str(reason))
            own = catalogue.settings.currency
            if rate_in_force(catalogue.rates, offer.price.currency, own, catalogue.today) is None:
                what = f"no exchange rate from {offer.price.currency} to {own} (add one to exchange_rates.yml)"
                yield Problem(places.at(*at, "price"), what)


def repeated_offers(catalogue: Catalogue) -> Iterator[Problem]:
    """A list has one price for each pack; 1 kg and 1000 g are the same pack."""
    for listed in catalogue.price_lists:
        seen: set[tuple[str, str, Decimal, int]] = set()
        for index, offer in enumerate(listed.prices.offers):
            key = (offer.chemical, offer.form, offer.pack.base, offer.count)
            if key in seen:
                place = catalogue.places[listed.file].at("offers", index)
                what = f"{offer.chemical}, {offer.form}, {offer.pack} stands twice (keep one price for each pack)"
                yield Problem(place, what)
            seen.add(key)
