"""Plans: what the owner means to mix or process over a period, and what it is compared with."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.values import MOST_LINES, Count, Duration, Flag, Id, Price, Record, Text, Volume


class PlannedFilm(Record):
    """So many films of one format."""

    format: Id
    count: Count


class Want(Record):
    """One line of a plan: litres of a formula, litres of each bath of a process, or film through a process."""

    formula: Id | None = None
    process: Id | None = None
    litres: Volume | None = None
    films: tuple[PlannedFilm, ...] = ()

    @model_validator(mode="after")
    def _one_kind(self) -> Want:
        if (self.formula is None) == (self.process is None):
            raise ValueFault("a line of a plan is for a formula or for a process (write formula: or process:)")
        if (self.litres is None) == (not self.films):
            raise ValueFault("a line of a plan says litres or films (write litres: 5 L, or films:)")
        if self.formula and self.films:
            raise ValueFault("films go through a process (write process:, or litres: of the formula)", "films")
        return self


class Gear(Record):
    """Something bought once: a thermometer, a balance."""

    name: Text
    price: Price


class Plan(Record):
    """What is wanted over a period.

    Attributes:
        over: how long the plan reaches; films are spread over it evenly.
        wait: how long exposed film may wait until a session is worth while; three months where it is not said.
        nothing_after: nothing is mixed when the plan is done, so that every left-over dies.
        use_shelf: whether packs on the shelf count before anything is bought.
        avoid: ids of suppliers that are left out.
        collect: whether offers that must be fetched from the shop count.
        budget: most that may be spent; a basket above it is no answer.
        gear: bought once, kept apart from every cost of chemistry.
        compare: ids of kits, concentrates and labs to set against mixing.
        private: left out of what others are given.
    """

    id: Id
    formerly: tuple[Id, ...] = ()
    name: Text
    over: Duration
    wants: Annotated[tuple[Want, ...], Field(min_length=1, max_length=MOST_LINES)]
    wait: Duration | None = None
    nothing_after: Flag = False
    use_shelf: Flag = True
    avoid: tuple[Id, ...] = ()
    collect: Flag = False
    budget: Price | None = None
    gear: tuple[Gear, ...] = ()
    compare: tuple[Id, ...] = ()
    private: Flag = False
    note: Text | None = None
