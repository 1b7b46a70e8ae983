"""One result of one rule, with everything a reader needs to follow it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.hazards.composition import Part
from reckoner.records.hazard import ClassCode, SpecificLimit


@dataclass(frozen=True)
class Finding:
    """A class the bath reaches.

    Attributes:
        hazard: class and category, or an EUH code.
        h: statement code.
        rule: section of the regulation and what it compares.
        share: what was found, in words with figures.
        limit: what it is compared with.
        parts: chemicals that carry it.
    """

    hazard: str
    h: str
    rule: str
    share: str
    limit: str
    parts: tuple[str, ...]


def has(part: Part, *classes: ClassCode) -> bool:
    """Whether an ingredient is recorded with one of some classes."""
    return part.hazards is not None and any(c.hazard in classes for c in part.hazards.classes)


def limit_of(part: Part, *classes: ClassCode) -> Decimal | None:
    """The lowest specific limit of an ingredient for some classes, % w/w, or None."""
    starts = [limit.start.percent for limit in specific(part, *classes)]
    return min(starts) if starts else None


def specific(part: Part, *classes: ClassCode) -> tuple[SpecificLimit, ...]:
    """An ingredient's specific limits for some classes."""
    if part.hazards is None:
        return ()
    return tuple(limit for limit in part.hazards.limits if limit.hazard in classes)


def ratio_sum(shares: Iterable[tuple[Part, Decimal]]) -> Decimal:
    """Sum of share over limit: 1 or more reaches the class (CLP guidance, specific limits in additive classes)."""
    return sum((part.percent / limit for part, limit in shares), Decimal(0))


def names(shares: Iterable[tuple[Part, Decimal]]) -> tuple[str, ...]:
    """The chemicals of some shares, sorted."""
    return tuple(sorted({part.chemical for part, _ in shares}))


def figure(value: Decimal) -> str:
    """A share as text: two places, more where it is small."""
    places = Decimal("0.01") if value >= 1 else Decimal("0.0001")
    return format(value.quantize(places).normalize(), "f")
