"""One result of one rule, with everything a reader needs to follow it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.hazards.composition import Part
from reckoner.records.hazard import ClassCode, SpecificLimit
from reckoner.rounding import round_half_up, significant


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


@dataclass(frozen=True)
class Share:
    """What an ingredient counts in a rule, % w/w, and the limit that it is held against.

    Attributes:
        own: whether the limit is the ingredient's own, not the general one.
        ground: why this limit, where that is not plain.
    """

    part: Part
    percent: Decimal
    limit: Decimal
    own: bool
    ground: str = ""

    @property
    def ratio(self) -> Decimal:
        """Share over limit."""
        return self.percent / self.limit

    @property
    def reaches(self) -> bool:
        """Whether the ingredient reaches the limit by itself."""
        return self.percent >= self.limit


def has(part: Part, *classes: ClassCode) -> bool:
    """Whether an ingredient is recorded with one of some classes, be it by a specific limit alone."""
    if part.hazards is None:
        return False
    return any(c.hazard in classes for c in part.hazards.classes) or bool(specific(part, *classes))


def limit_of(part: Part, *classes: ClassCode) -> Decimal | None:
    """The lowest specific limit of an ingredient for some classes, % w/w, or None."""
    starts = [limit.start.percent for limit in specific(part, *classes)]
    return min(starts) if starts else None


def specific(part: Part, *classes: ClassCode) -> tuple[SpecificLimit, ...]:
    """An ingredient's specific limits for some classes."""
    if part.hazards is None:
        return ()
    return tuple(limit for limit in part.hazards.limits if limit.hazard in classes)


def share_of(part: Part, generic: Decimal, *classes: ClassCode) -> Share:
    """An ingredient against its own limit for some classes, else against the general one."""
    own = limit_of(part, *classes)
    return Share(part, part.percent, generic, False) if own is None else Share(part, part.limited, own, True)


def ratio_sum(shares: Iterable[Share]) -> Decimal:
    """Sum of share over limit: 1 or more reaches the class (CLP guidance, specific limits in additive classes)."""
    return sum((share.ratio for share in shares), Decimal(0))


def names(shares: Iterable[Share]) -> tuple[str, ...]:
    """The chemicals of some shares, sorted."""
    return tuple(sorted({share.part.chemical for share in shares}))


def summed(shares: Sequence[Share]) -> tuple[str, str]:
    """Shares that are added up, and the limit they reach: in per cent where all have the same, else as ratios."""
    limits = {share.limit for share in shares}
    if len(limits) == 1:
        total = sum((share.percent for share in shares), Decimal(0))
        return f"{figure(total)} %", f"{figure(limits.pop())} %"
    return f"sum of share over limit {figure(ratio_sum(shares))}: {listed(shares)}", "1"


def listed(shares: Iterable[Share]) -> str:
    """Each share with its limit: ``p 3 % against 5 %``."""
    return ", ".join(
        f"{share.part.chemical} {figure(share.percent)} % against {figure(share.limit)} %{share.ground}"
        for share in shares
    )


def figure(value: Decimal) -> str:
    """A share as text, rounded half up: two places, four below 1, and never "0" for what is not nothing."""
    rounded = round_half_up(value, Decimal("0.01") if value >= 1 else Decimal("0.0001"))
    if value != 0 and abs(value) < Decimal("0.001"):
        rounded = significant(value, 2)
    return format(rounded.normalize(), "f")
