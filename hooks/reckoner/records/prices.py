"""Suppliers, dated price lists and exchange rates."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.source import Source
from reckoner.records.values import AnyAmount, Count, Day, Flag, Id, Number, Percent, Price, Record, TaxRate, Text


class Supplier(Record):
    """A shop; its id is its folder under ``formulas/prices``.

    Attributes:
        currency: ISO 4217 code of its prices.
        vat_included: whether the listed prices hold the tax already.
        vat: rate added where it is not included.
        invented: true in the demo, and said on every page that shows a price.
    """

    name: Text
    country: Text
    currency: Annotated[Text, Field(pattern=r"^[A-Z]{3}$")]
    vat_included: Flag
    vat: TaxRate
    invented: Flag = False
    note: Text | None = None
    source: Source


class Offer(Record):
    """One pack of one form at one price; ``count`` units of ``pack`` are sold together."""

    chemical: Id
    form: Id
    pack: AnyAmount
    count: Count = 1
    price: Price
    assay: Percent | None = None
    in_stock: Flag = True
    note: Text | None = None


class PriceList(Record):
    """The offers of one supplier on one day.

    Attributes:
        complete: whether offers missing from this list are withdrawn.
        source: where this list is from, if otherwise than the supplier's record says.
    """

    date: Day
    complete: Flag = False
    offers: Annotated[tuple[Offer, ...], Field(min_length=1)]
    source: Source | None = None


class RateRow(Record):
    """1 ``base`` bought ``rate`` of ``quote`` on ``date``."""

    base: Annotated[Text, Field(pattern=r"^[A-Z]{3}$")]
    quote: Annotated[Text, Field(pattern=r"^[A-Z]{3}$")]
    rate: Number
    date: Day

    @model_validator(mode="after")
    def _two_currencies(self) -> RateRow:
        if self.base == self.quote:
            raise ValueFault(f"a rate from {self.base} to itself (write two currencies)", "quote")
        return self


class ExchangeRates(Record):
    """Dated exchange rates."""

    rates: tuple[RateRow, ...]
    source: Source
