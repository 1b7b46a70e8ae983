"""What the owner already has."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from reckoner.problems import ValueFault
from reckoner.records.note import DatedNote
from reckoner.records.values import AnyAmount, Count, Day, Flag, Id, Length, Percent, Price, Record, Text, Volume


class ShelfPack(Record):
    """A pack that was bought: what is left of it counts before anything is bought.

    Attributes:
        pack: as it was sold; ``left`` is what is still in it.
        paid: what it cost, tax and delivery included as the owner likes; None where nobody remembers.
        opened: day on which the seal was broken; None while it is closed.
        use_past_keeping: the owner has looked at it and uses it although its keeping time is over.
    """

    chemical: Id
    form: Id
    pack: AnyAmount
    left: AnyAmount
    paid: Price | None = None
    bought: Day
    opened: Day | None = None
    assay: Percent | None = None
    use_past_keeping: Flag = False
    note: Text | None = None

    @model_validator(mode="after")
    def _fits(self) -> ShelfPack:
        if self.left.dimension != self.pack.dimension:
            raise ValueFault("pack and left are a mass and a volume (write both as one kind)", "left")
        if self.left.base > self.pack.base:
            raise ValueFault(f"more is left than the pack of {self.pack} held (check both amounts)", "left")
        if self.opened is not None and self.opened < self.bought:
            raise ValueFault("opened before it was bought (check both days)", "opened")
        return self


class Passed(Record):
    """Film that went through a bottle on a day: whole films, or a length of one."""

    day: Day
    format: Id
    count: Count = 1
    length: Length | None = None

    @model_validator(mode="after")
    def _some_film(self) -> Passed:
        if self.length is not None and self.count != 1:
            raise ValueFault("film is told by count or by length (leave one of them out)", "length")
        return self


class Bottle(Record):
    """A mixed batch in its bottle.

    Attributes:
        volume: as mixed.
        fill: a part-full bottle dies sooner; one that film has gone through counts as part full.
        discard: the owner's own date, which comes before any that is worked out.
        through: film by date and format.
        measured: pH and temperature as measured, in the owner's words.
    """

    id: Id
    formula: Id
    volume: Volume
    mixed: Day
    opened: Day | None = None
    fill: Literal["full", "part full"] = "full"
    batch: Text | None = None
    discard: Day | None = None
    through: tuple[Passed, ...] = ()
    measured: Text | None = None
    log: tuple[DatedNote, ...] = ()

    @model_validator(mode="after")
    def _in_order(self) -> Bottle:
        if self.opened is not None and self.opened < self.mixed:
            raise ValueFault("opened before it was mixed (check both days)", "opened")
        if self.discard is not None and self.discard < self.mixed:
            raise ValueFault("to be discarded before it was mixed (check both days)", "discard")
        if any(passed.day < self.mixed for passed in self.through):
            raise ValueFault(f"film went through before it was mixed on {self.mixed} (check the days)", "through")
        return self


class Shelf(Record):
    """Everything on the shelf."""

    packs: tuple[ShelfPack, ...] = ()
    bottles: tuple[Bottle, ...] = ()

    @property
    def owners_only(self) -> bool:
        """What somebody has at home is nobody else's business."""
        return True
