"""The owner's settings and the table of film formats."""

from __future__ import annotations

from typing import Annotated, Literal

from babel import Locale, UnknownLocaleError
from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.formula import Disposal, Purpose
from reckoner.records.record import each_once
from reckoner.records.source import Source
from reckoner.records.values import (
    Count,
    Day,
    Duration,
    Flag,
    Id,
    Length,
    Mass,
    Number,
    Price,
    Record,
    Text,
    Volume,
)
from reckoner.units import Amount

#: The version of the data files that this engine reads.
FORMAT = 1
#: ISO 4217 for "no currency": stands in where the settings cannot be read, and nothing is converted to it.
NO_CURRENCY = "XXX"


class Balance(Record):
    """A balance: step of its display, most it holds, accuracy where the maker states one, and the cup weighed into."""

    name: Text
    step: Mass
    capacity: Mass
    accuracy: Mass | None = None
    vessel: Mass | None = None

    @model_validator(mode="after")
    def _holds_something(self) -> Balance:
        _check_step(self)
        if self.vessel is not None and self.vessel.base >= self.capacity.base:
            raise ValueFault(f"the cup of {self.vessel} leaves nothing of {self.capacity} (write its mass)", "vessel")
        return self


class Cylinder(Record):
    """A measuring cylinder or syringe."""

    name: Text
    step: Volume
    capacity: Volume

    @model_validator(mode="after")
    def _has_a_step(self) -> Cylinder:
        _check_step(self)
        return self


def _check_step(tool: Balance | Cylinder) -> None:
    if tool.step.base > tool.capacity.base:
        message = f"a step of {tool.step} is more than the capacity of {tool.capacity} (check which is which)"
        raise ValueFault(message, "step")


class AgeLimits(Record):
    """How old a record may grow before pages and log warn."""

    prices: Duration
    exchange_rates: Duration
    formulas: Duration
    chemicals: Duration
    processes: Duration
    hazards: Duration
    disposal: Duration


#: Everything with an age that may be told to wait; an expired bottle may not.
OldKind = Literal[
    "price list",
    "kit price",
    "exchange rate",
    "formula",
    "chemical",
    "process",
    "hazard record",
    "hazard phrases",
    "restriction",
    "disposal rules",
]


class AcceptedOld(Record):
    """A kind of things out of date that the owner lets stand for a while; the pages go on calling them old.

    Attributes:
        kind: as the list "Out of date" names it.
        reason: why; every reader of that list is told.
        until: last day on which it is no warning.
    """

    kind: OldKind
    reason: Text
    until: Day


class Metered(Record):
    """Tap water by the meter: paid for what is drawn, not by the pack."""

    price: Price
    per: Volume
    source: Source


class DisposalRule(Record):
    """One class of waste and what the authority says."""

    kind: Disposal
    text: Text


class LocalDisposal(Record):
    """What the owner's own authority says about waste, read on a day.

    Attributes:
        rules: its words by disposal class; a class without one reads "ask".
    """

    authority: Text
    link: Annotated[Text, Field(pattern=r"^https?://[A-Za-z0-9./_~%-]+$")]
    rules: tuple[DisposalRule, ...] = ()
    checked: Day


class PoisonCentre(Record):
    """Whom the owner calls after an accident, and the day on which the number was looked up."""

    name: Text
    number: Annotated[Text, Field(pattern=r"^\+?[0-9][0-9 ()-]{1,24}$")]
    checked: Day


class TankLoad(Record):
    """Films of one format that a tank holds at once."""

    format: Id
    count: Count


class Tank(Record):
    """One of the owner's tanks: the most it is filled with, and what it holds."""

    name: Text
    volume: Volume
    holds: Annotated[tuple[TankLoad, ...], Field(min_length=1)]


class Chosen(Record):
    """What of the library appears in the handbook, with everything that it needs.

    Attributes:
        everything: all formulas and processes of the library.
        processes: ids of processes, each with its baths and their stock solutions.
        formulas: ids of formulas.
        purposes: all formulas of these purposes.
    """

    everything: Flag = False
    processes: tuple[Id, ...] = ()
    formulas: tuple[Id, ...] = ()
    purposes: tuple[Purpose, ...] = ()

    @model_validator(mode="after")
    def _some(self) -> Chosen:
        named = bool(self.processes or self.formulas or self.purposes)
        if self.everything == named:
            ask = "write everything: yes, or name processes:, formulas: or purposes:"
            raise ValueFault(f"{'everything and a choice' if named else 'nothing is chosen'} ({ask})")
        return self


class Settings(Record):
    """The owner's choices.

    Attributes:
        format: version of the data files.
        library: what of the library that comes with the engine stands in the handbook; without it the handbook stands
            on its own files alone.
        accept_old: what may be out of date for a while without failing a strict build.
        formats: ids of the film formats the owner uses: capacities and costs are told in them.
        demo_day: for a demonstration only: the day it is built and read as of, whatever the calendar says. A handbook
            that is worked with does not state it, as nothing in it would ever grow old.
        law: countries and unions whose law holds for the owner; their restrictions and limits stand first.
    """

    format: Count
    title: Text
    currency: Annotated[Text, Field(pattern=r"^[A-Z]{3}$")]
    locale: Annotated[Text, Field(pattern=r"^[a-z]{2}(_[A-Z]{2})?$")]
    batch_sizes: Annotated[tuple[Volume, ...], Field(min_length=1)]
    first_batch: Volume
    rolls_a_month: Number
    demo_day: Day | None = None
    library: Chosen | None = None
    formats: tuple[Id, ...] = ()
    law: tuple[Text, ...] = ()
    balances: Annotated[tuple[Balance, ...], Field(min_length=1)]
    cylinders: Annotated[tuple[Cylinder, ...], Field(min_length=1)]
    tanks: tuple[Tank, ...] = ()
    age_limits: AgeLimits
    accept_old: tuple[AcceptedOld, ...] = ()
    tap_water: Metered | None = None
    disposal: LocalDisposal | None = None
    poison_centre: PoisonCentre | None = None
    notice: Text | None = None

    @property
    def sizes(self) -> tuple[Amount, ...]:
        """The batch sizes that tables are made for: the first batch is one of them, listed or not."""
        listed = any(size.base == self.first_batch.base for size in self.batch_sizes)
        return self.batch_sizes if listed else (*self.batch_sizes, self.first_batch)

    @model_validator(mode="after")
    def _locale_known(self) -> Settings:
        try:
            Locale.parse(self.locale)
        except UnknownLocaleError:
            raise ValueFault(f"'{self.locale}' is no locale that is known (write one as en_GB)", "locale") from None
        return self


class FilmFormat(Record):
    """A film or sheet format; real area is length times width.

    Attributes:
        counts_as: rolls of 80 square inches that the trade counts it as, where it does; else its area decides.
    """

    id: Id
    name: Text
    length: Length
    width: Length
    counts_as: Number | None = None
    note: Text | None = None
    source: Source


class FilmFormats(Record):
    """All film and sheet formats the handbook knows."""

    formats: Annotated[tuple[FilmFormat, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _each_once(self) -> FilmFormats:
        each_once("film format", (film.id for film in self.formats), "formats")
        return self
