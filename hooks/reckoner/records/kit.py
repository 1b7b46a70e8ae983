"""What can be bought instead of mixing: kits, ready-made concentrates, a lab."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from reckoner.problems import ValueFault
from reckoner.records.source import Source
from reckoner.records.values import Capacity, Day, Duration, Flag, Id, Price, Record, Text, Volume


class Kit(Record):
    """Ready-made chemistry, or a lab's service, with what it replaces.

    Attributes:
        kind: a kit replaces every bath of a process, a concentrate the baths that it names, a lab everything.
        process: the process that it is for.
        replaces: ids of the formulas that need not be mixed; empty for a kit or lab: all of the process.
        price: of one pack with tax, or of one roll at a lab.
        delivery: paid with every order.
        makes: volume of each working bath from one pack.
        does: rolls that one pack does, cautious to generous.
        mixes_in_parts: a concentrate may be mixed a part at a time; a kit is mixed whole.
        sealed: how long the closed pack keeps.
        mixed: how long the mixed baths keep.
        day: date of the price.
        private: left out of what others are given.
    """

    id: Id
    name: Text
    kind: Literal["kit", "concentrate", "lab"]
    process: Id
    replaces: tuple[Id, ...] = ()
    price: Price
    delivery: Price | None = None
    makes: Volume | None = None
    does: Capacity | None = None
    mixes_in_parts: Flag = False
    sealed: Duration | None = None
    mixed: Duration | None = None
    day: Day
    invented: Flag = False
    private: Flag = False
    note: Text | None = None
    source: Source

    @model_validator(mode="after")
    def _whole(self) -> Kit:
        if self.kind != "lab":
            for key, value in (("makes", self.makes), ("does", self.does), ("mixed", self.mixed)):
                if value is None:
                    raise ValueFault(f"a {self.kind} needs {key} (write what one pack makes, does, and how it keeps)")
        if self.does is not None and self.does.unit != "rolls":
            raise ValueFault("a kit's capacity is told in rolls (write does: 8-12 rolls)", "does")
        if self.kind == "concentrate" and not self.replaces:
            raise ValueFault("a concentrate names the formulas that it replaces (write replaces: [fixer-rapid])")
        return self
