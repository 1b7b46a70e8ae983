"""Money split by what it went for: frozen records of sums that are added and multiplied field by field."""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal
from functools import reduce
from operator import add
from typing import Generic, Self, TypeVar

from reckoner.money import ExactMinor, Money

Sum = TypeVar("Sum", Money, ExactMinor)


@dataclass(frozen=True)
class Split(Generic[Sum]):
    """A sum in parts, exact; its fields are the parts."""

    def __add__(self, other: Self) -> Self:
        return type(self)(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(self)))

    def times(self, factor: Decimal) -> Self:
        """Every part multiplied."""
        return type(self)(*(getattr(self, f.name) * factor for f in fields(self)))

    @property
    def parts(self) -> tuple[Sum, ...]:
        """The parts in the order of the fields."""
        return tuple(getattr(self, f.name) for f in fields(self))

    @property
    def total(self) -> Sum:
        """All parts together."""
        return reduce(add, self.parts)
