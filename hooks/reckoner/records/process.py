"""Processes: baths and washes in order, each with temperature, time, agitation and light."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.source import Certainty, Source
from reckoner.records.values import MOST_LINES, Clock, Flag, Id, Record, Temperature, Text

Light = Literal[
    "total darkness", "tank shut, room light", "room light", "red or amber safelight", "dim yellow or tungsten light"
]
Kind = Literal[
    "colour negative", "colour reversal", "black-and-white negative", "black-and-white reversal", "paper", "iron print"
]


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
        only_for: condition such as rem-jet film.
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
    only_for: Text | None = None
    optional: Flag = False
    note: Text | None = None
    certainty: Certainty

    @property
    def keeps_apart(self) -> bool:
        """A wash or rinse that is always done: one that is optional or for some film only may be left out."""
        return self.kind in {"wash", "rinse"} and not self.optional and self.only_for is None

    @model_validator(mode="after")
    def _bath_named(self) -> Step:
        if self.kind == "bath" and not self.baths:
            raise ValueFault("a bath step names no bath (write baths: with at least one formula)")
        if self.kind != "bath" and self.baths:
            raise ValueFault(f"a {self.kind} step names baths (write kind: bath, or leave baths: out)")
        if self.tolerance and self.temperature and self.tolerance.unit != self.temperature.unit:
            raise ValueFault("temperature and tolerance have different units (write both in the source's unit)")
        return self


class Process(Record):
    """An ordered list of steps; ``private`` is left out of what others are given."""

    id: Id
    formerly: tuple[Id, ...] = ()
    name: Text
    also_published_as: tuple[Text, ...] = ()
    aliases: tuple[Text, ...] = ()
    kind: Kind
    steps: Annotated[tuple[Step, ...], Field(min_length=1, max_length=MOST_LINES)]
    darkness: Text
    faults: tuple[Text, ...] = ()
    notes: tuple[Text, ...] = ()
    cautions: Annotated[tuple[Text, ...], Field(min_length=1)]
    private: Flag = False
    source: Source
