"""Money split by what it went for: frozen records of sums that are added and multiplied field by field."""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Self


@dataclass(frozen=True)
class Split:
    """A sum in parts, exact minor units; its fields are the parts."""

    def __add__(self, other: Self) -> Self:
        return type(self)(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(self)))

    def times(self, factor: Decimal) -> Self:
        """Every part multiplied."""
        return type(self)(*(getattr(self, f.name) * factor for f in fields(self)))

    @property
    def parts(self) -> tuple[Decimal, ...]:
        """The parts in the order of the fields."""
        return tuple(getattr(self, f.name) for f in fields(self))

    @property
    def total(self) -> Decimal:
        """All parts together."""
        return sum(self.parts, Decimal(0))
