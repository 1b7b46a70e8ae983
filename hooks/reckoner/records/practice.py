"""Single remarks and rules of the trade, each saying how sure it is."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.formula import Purpose
from reckoner.records.record import each_once
from reckoner.records.source import Certainty, Source
from reckoner.records.values import Clock, Id, Record, Temperature, Text


class Remark(Record):
    """One thing that is said about a process."""

    text: Text
    certainty: Certainty
    citation: Text | None = None


class Variation(Record):
    """One step done otherwise: pushed, pulled, colder.

    Attributes:
        name: what it is for, as "push one stop".
        step: the name of the step that changes.
        time: the whole new time; or
        longer, shorter: by how much the step's own time changes.
        temperature: where that changes too.
    """

    name: Text
    step: Text
    time: Clock | None = None
    longer: Clock | None = None
    shorter: Clock | None = None
    temperature: Temperature | None = None
    certainty: Certainty
    citation: Text | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _one_change(self) -> Variation:
        if [self.time, self.longer, self.shorter].count(None) != 2:
            raise ValueFault("a variation has one time (write time:, or longer: or shorter: with the difference)")
        return self


class ControlTest(Record):
    """A test of a bath or of the film.

    Attributes:
        purposes: kinds of bath that it is for.
        how: what to do.
        spent: what shows that the bath has had its day, or that the film needs more.
    """

    id: Id
    name: Text
    purposes: Annotated[tuple[Purpose, ...], Field(min_length=1)]
    how: Text
    spent: Text
    certainty: Certainty
    citation: Text | None = None


class ControlTests(Record):
    """All tests of the trade, in the order in which they are shown."""

    tests: Annotated[tuple[ControlTest, ...], Field(min_length=1)]
    source: Source

    @model_validator(mode="after")
    def _each_once(self) -> ControlTests:
        each_once("test", (test.id for test in self.tests), "tests")
        return self
