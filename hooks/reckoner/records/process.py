"""Processes: baths and washes in order, each with temperature, time, agitation and light."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.practice import Remark, Variation
from reckoner.records.source import Certainty, Source
from reckoner.records.values import MOST_LINES, Clock, Flag, Id, Record, Temperature, Text

Light = Literal[
    "total darkness", "tank shut, room light", "room light", "red or amber safelight", "dim yellow or tungsten light"
]
Kind = Literal[
    "colour negative", "colour reversal", "black-and-white negative", "black-and-white reversal", "paper", "iron print"
]
#: Kinds whose material goes through a tank.
FILM_KINDS: frozenset[Kind] = frozenset(
    {"colour negative", "colour reversal", "black-and-white negative", "black-and-white reversal"}
)
Backing = Literal["rem-jet"]


class AcceptedBath(Record):
    """One bath that may be used at a step, with its own time and certainty."""

    formula: Id
    time: Clock | None = None
    temperature: Temperature | None = None
    note: Text | None = None
    certainty: Certainty


class Step(Record):
    """One line of the schedule.

    Attributes:
        baths: acceptable baths, the first being the usual one; empty for washes, re-exposure and drying.
        temperature: in the source's primary unit.
        tolerance: plus or minus, in the same unit; absent where the source gives a span or nothing.
        backing: the step is done only for film with this backing.
        only_for: another condition, as fibre-base paper.
        time_certainty, temperature_certainty, agitation_certainty: where a value is surer or less sure than the rest.
        citation: publication of what is published in this step, where it is not that of the process.
    """

    name: Text
    kind: Literal["bath", "wash", "rinse", "exposure", "handling", "drying"]
    baths: tuple[AcceptedBath, ...] = ()
    temperature: Temperature | None = None
    tolerance: Temperature | None = None
    time: Clock | None = None
    time_note: Text | None = None
    agitation: Text | None = None
    light: Light
    backing: Backing | None = None
    only_for: Text | None = None
    optional: Flag = False
    note: Text | None = None
    certainty: Certainty
    time_certainty: Certainty | None = None
    temperature_certainty: Certainty | None = None
    agitation_certainty: Certainty | None = None
    citation: Text | None = None

    @property
    def always(self) -> bool:
        """Whether it is done with every film: one that is optional or for some film only may be left out."""
        return not self.optional and self.only_for is None and self.backing is None

    @property
    def keeps_apart(self) -> bool:
        """A wash or rinse that is always done."""
        return self.kind in {"wash", "rinse"} and self.always

    @model_validator(mode="after")
    def _bath_named(self) -> Step:
        if self.kind == "bath" and not self.baths:
            raise ValueFault("a bath step names no bath (write baths: with at least one formula)")
        if self.kind != "bath" and self.baths:
            raise ValueFault(f"a {self.kind} step names baths (write kind: bath, or leave baths: out)")
        for value in ("time", "temperature", "agitation"):
            worded = value == "time" and self.time_note
            if getattr(self, f"{value}_certainty") and not (getattr(self, value) or worded):
                message = f"{value}_certainty without a {value} (add {value}:, or leave it out)"
                raise ValueFault(message, f"{value}_certainty")
        if self.tolerance and self.temperature and self.tolerance.unit != self.temperature.unit:
            raise ValueFault("temperature and tolerance have different units (write both in the source's unit)")
        return self


class Process(Record):
    """An ordered list of steps; ``private`` is left out of what others are given.

    Attributes:
        adapts: id of the published process that this one adapts for the home; both pages compare the two.
        backing_removal: how backing is taken off, beside the steps.
        variations: steps pushed, pulled or at another temperature.
    """

    id: Id
    formerly: tuple[Id, ...] = ()
    name: Text
    also_published_as: tuple[Text, ...] = ()
    aliases: tuple[Text, ...] = ()
    kind: Kind
    adapts: Id | None = None
    steps: Annotated[tuple[Step, ...], Field(min_length=1, max_length=MOST_LINES)]
    darkness: Text
    backing_removal: tuple[Remark, ...] = ()
    variations: tuple[Variation, ...] = ()
    faults: tuple[Remark, ...] = ()
    notes: tuple[Text, ...] = ()
    cautions: Annotated[tuple[Text, ...], Field(min_length=1)]
    private: Flag = False
    source: Source
