"""Suppliers, dated price lists and exchange rates."""

from __future__ import annotations

from typing import Annotated, Literal

from babel import Locale, UnknownLocaleError
from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.restriction import Restriction
from reckoner.records.source import Source
from reckoner.records.values import (
    AnyAmount,
    Count,
    Day,
    Flag,
    Id,
    Number,
    Percent,
    Price,
    Record,
    TaxRate,
    Text,
    parse_flag,
    parse_id,
)


class Delivery(Record):
    """What sending an order costs; amounts as the supplier lists them, with or without tax like its prices.

    Attributes:
        charge: for each order.
        free_from: goods of this sum, as listed, are sent free.
    """

    charge: Price
    free_from: Price | None = None


class CsvColumn(Record):
    """A column of a supplier's own table: its heading there, and what it is here; ``ignore`` where nothing needs it."""

    theirs: Text
    ours: Literal["chemical", "form", "pack", "count", "price", "assay", "in_stock", "private", "note", "ignore"]


class CsvWord(Record):
    """What a cell of a supplier's own table says, and what that is here: an id, or yes or no for ``in_stock``."""

    column: Literal["chemical", "form", "in_stock"]
    theirs: Text
    ours: Text

    @model_validator(mode="after")
    def _means_something(self) -> CsvWord:
        try:
            (parse_flag if self.column == "in_stock" else parse_id)(self.ours)
        except ValueFault as fault:
            raise ValueFault(str(fault), "ours") from None
        return self


class Supplier(Record):
    """A shop; its id is its folder under ``formulas/prices``.

    Attributes:
        currency: ISO 4217 code of its prices, and of those in its tables that name none.
        vat_included: whether the listed prices hold the tax already.
        vat: rate added where it is not included.
        duty: import duty on the listed price, before tax.
        delivery: nothing recorded means that delivery is not counted, and the plan says so.
        minimum_order: goods of this sum, as listed, are the least it sends.
        csv_locale: how texts in its tables, CSV or workbook, write numbers; a CSV may then part cells by semicolons.
        csv_columns: the headings of its tables, in any capitals.
        csv_other_columns: ``ignore`` where no column but those of ``csv_columns`` is needed.
        csv_words: cells of its tables that have words of their own.
        invented: true in the demo, and said on every page that shows a price.
        private: left out, with every price of it, of what others are given.
    """

    name: Text
    country: Text
    currency: Annotated[Text, Field(pattern=r"^[A-Z]{3}$")]
    vat_included: Flag
    vat: TaxRate
    duty: TaxRate | None = None
    delivery: Delivery | None = None
    minimum_order: Price | None = None
    csv_locale: Annotated[Text, Field(pattern=r"^[a-z]{2}(_[A-Z]{2})?$")] | None = None
    csv_columns: tuple[CsvColumn, ...] = ()
    csv_other_columns: Literal["ignore"] | None = None
    csv_words: tuple[CsvWord, ...] = ()
    invented: Flag = False
    private: Flag = False
    note: Text | None = None
    source: Source

    @model_validator(mode="after")
    def _readable_tables(self) -> Supplier:
        try:
            Locale.parse(self.csv_locale or "en")
        except UnknownLocaleError:
            message = f"'{self.csv_locale}' is no locale that is known (write one as de_DE)"
            raise ValueFault(message, "csv_locale") from None
        for side in ("theirs", "ours"):
            names = [getattr(column, side) for column in self.csv_columns]
            twice = [name for name in names if names.count(name) > 1 and (side, name) != ("ours", "ignore")]
            if twice:
                raise ValueFault(f"'{twice[0]}' stands twice (keep one column for it)", "csv_columns")
        if self.csv_other_columns and not self.csv_columns:
            message = "every column is left out (write csv_columns for those that are needed)"
            raise ValueFault(message, "csv_other_columns")
        meanings = [(word.column, word.theirs.casefold()) for word in self.csv_words]
        for word, meant in zip(self.csv_words, meanings, strict=True):
            if meanings.count(meant) > 1:
                message = f"'{word.theirs}' stands twice for the column {word.column} (keep one meaning of it)"
                raise ValueFault(message, "csv_words")
        return self


class Offer(Record):
    """One pack of one form at one price; ``count`` units of ``pack`` are sold together.

    Attributes:
        handed_over: sent by post, fetched from the shop, or not sold to the owner at all.
        private: the price of an account, left out of what others are given.
    """

    chemical: Id
    form: Id
    pack: AnyAmount
    count: Count = 1
    price: Price
    assay: Percent | None = None
    in_stock: Flag = True
    handed_over: Literal["delivered", "collection only", "not deliverable"] = "delivered"
    restrictions: tuple[Restriction, ...] = ()
    private: Flag = False
    note: Text | None = None


class PriceList(Record):
    """The offers of one supplier on one day.

    Attributes:
        complete: whether offers missing from this list are withdrawn.
        private: left out of what others are given.
        source: where this list is from, if otherwise than the supplier's record says.
    """

    date: Day
    complete: Flag = False
    private: Flag = False
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
