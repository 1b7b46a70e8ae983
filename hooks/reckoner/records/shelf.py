"""What the owner already has."""

from __future__ import annotations

from pydantic import model_validator

from reckoner.problems import ValueFault
from reckoner.records.values import AnyAmount, Day, Flag, Id, Percent, Price, Record, Text


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


class Shelf(Record):
    """Everything on the shelf."""

    packs: tuple[ShelfPack, ...] = ()
