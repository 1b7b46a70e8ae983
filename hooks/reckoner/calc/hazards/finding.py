"""One result of one rule, in figures: pages word them, the JSON gives them as they are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from reckoner.calc.hazards.composition import Substance
from reckoner.records.acute import DoseUnit, Route
from reckoner.records.hazard import ClassCode, SpecificLimit

#: Where a rule stands: Annex I of CLP unless it says otherwise, and which of its sums is meant.
Rule = Literal[
    "3.1.3.6.1",
    "3.1.3.6.2.3",
    "3.2.3.1.2",
    "3.2.3.1.2, pH not stated",
    "3.3.3.1.2",
    "3.3.3.1.2, pH not stated",
    "table 3.2.3",
    "table 3.2.3, tenfold",
    "table 3.2.4",
    "table 3.3.3",
    "table 3.3.3, tenfold",
    "table 3.3.4",
    "table 3.4.5",
    "table 3.4.6",
    "table 3.4.6, beside the class",
    "3.5 to 3.7",
    "Annex VI, note 11",
    "tables 3.8.3 and 3.9.4",
    "tables 3.8.3 and 3.9.4, own limit",
    "3.8.3.4.5",
    "3.10.3.3",
    "table 4.1.1",
    "table 4.1.2, Chronic 1",
    "table 4.1.2, Chronic 2",
    "table 4.1.2, Chronic 3",
    "table 4.1.2, Chronic 4",
    "Annex II, 1.2",
    "UN 3.1.3.6.1",
    "UN table 4.1.1, tenfold",
    "UN table 4.1.1, hundredfold",
]
#: What a bath's figure is in: % w/w of it, a sum of shares over their limits, its pH, or its acute toxicity.
Unit = Literal["% w/w", "share over limit", "pH"] | DoseUnit


@dataclass(frozen=True)
class HeldAgainst:
    """The bath's figure beside the limit of the rule, both in one unit.

    Attributes:
        value: None where nobody states it, as a pH.
        limit: None where the class holds because nobody states the value.
        up_to: the class holds up to the limit and not from it: acids by pH, acute toxicity.
    """

    value: Decimal | None
    limit: Decimal | None
    unit: Unit
    up_to: bool = False


@dataclass(frozen=True)
class Carrier:
    """An ingredient that carries a finding.

    Attributes:
        percent: % w/w of the bath; None of what may be taken instead of an ingredient.
        limit: % w/w that it is held against; None where only the whole has a limit.
        own: whether that limit is its own, not the general one.
        borrowed: whether it is its limit of skin corrosion, in place of one of eye damage.
        weight: how many times its share is counted: the factor M, and ten or a hundred for a graver category.
        ate: its acute toxicity estimate, in the unit of the comparison.
    """

    chemical: str
    percent: Decimal | None
    limit: Decimal | None = None
    own: bool = False
    borrowed: bool = False
    weight: Decimal = Decimal(1)
    ate: Decimal | None = None


@dataclass(frozen=True)
class Finding:
    """A class the bath reaches.

    Attributes:
        hazard: class and category, or an EUH code.
        h: statement code.
        route: into the body, of acute toxicity.
    """

    hazard: str
    h: str
    rule: Rule
    compared: HeldAgainst
    carriers: tuple[Carrier, ...]
    route: Route | None = None

    @property
    def chemicals(self) -> tuple[str, ...]:
        """Ids of what carries it, sorted, each once."""
        return tuple(sorted({carrier.chemical for carrier in self.carriers}))


@dataclass(frozen=True)
class Share:
    """What an ingredient counts in a rule, % w/w, and the limit that it is held against.

    Attributes:
        own: whether the limit is the ingredient's own, not the general one.
        borrowed: whether it is that of skin corrosion, because the record has none of eye damage.
    """

    substance: Substance
    percent: Decimal
    limit: Decimal
    own: bool
    borrowed: bool = False

    @property
    def ratio(self) -> Decimal:
        """Share over limit."""
        return self.percent / self.limit

    @property
    def reaches(self) -> bool:
        """Whether the ingredient reaches the limit by itself."""
        return self.percent >= self.limit


def has(substance: Substance, *classes: ClassCode) -> bool:
    """Whether an ingredient is recorded with one of some classes, be it by a specific limit alone."""
    if substance.hazards is None:
        return False
    return any(c.hazard in classes for c in substance.hazards.classes) or bool(specific(substance, *classes))


def limit_of(substance: Substance, *classes: ClassCode) -> Decimal | None:
    """The lowest specific limit of an ingredient for some classes, % w/w, or None."""
    starts = [limit.start.percent for limit in specific(substance, *classes)]
    return min(starts) if starts else None


def specific(substance: Substance, *classes: ClassCode) -> tuple[SpecificLimit, ...]:
    """An ingredient's specific limits for some classes."""
    if substance.hazards is None:
        return ()
    return tuple(limit for limit in substance.hazards.limits if limit.hazard in classes)


def share_of(substance: Substance, generic: Decimal, *classes: ClassCode) -> Share:
    """An ingredient against its own limit for some classes, else against the general one."""
    own = limit_of(substance, *classes)
    return (
        Share(substance, substance.percent, generic, False)
        if own is None
        else Share(substance, substance.limited, own, True)
    )


def ratio_sum(shares: Iterable[Share]) -> Decimal:
    """Sum of share over limit: 1 or more reaches the class (CLP guidance, specific limits in additive classes)."""
    return sum((share.ratio for share in shares), Decimal(0))


def carriers(shares: Iterable[Share]) -> tuple[Carrier, ...]:
    """The ingredients of some shares, each with its limit."""
    return tuple(Carrier(s.substance.chemical, s.percent, s.limit, s.own, s.borrowed) for s in shares)


def single(share: Share) -> HeldAgainst:
    """One share against its limit."""
    return HeldAgainst(share.percent, share.limit, "% w/w")


def ratio(shares: Iterable[Share]) -> HeldAgainst:
    """The sum of share over limit against 1."""
    return HeldAgainst(ratio_sum(shares), Decimal(1), "share over limit")


def summed(shares: Sequence[Share]) -> HeldAgainst:
    """Shares that are added up, and the limit they reach: in per cent where all have the same, else as ratios."""
    limits = {share.limit for share in shares}
    if len(limits) > 1:
        return ratio(shares)
    return HeldAgainst(sum((share.percent for share in shares), Decimal(0)), limits.pop(), "% w/w")
