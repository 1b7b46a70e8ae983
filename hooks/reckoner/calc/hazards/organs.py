"""Damage to organs: Annex I, 3.8 (once) and 3.9 (repeated). Specific limits come as bands, before the general ones."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.finding import Finding, Rule, Share, carriers, has, ratio_sum, share_of, single, summed
from reckoner.records.hazard import ClassCode

TEN, ONE, TWENTY = Decimal(10), Decimal(1), Decimal(20)
#: (category 1, category 2, their statements).
KINDS: tuple[tuple[ClassCode, ClassCode, tuple[str, str]], ...] = (
    ("STOT SE 1", "STOT SE 2", ("H370", "H371")),
    ("STOT RE 1", "STOT RE 2", ("H372", "H373")),
)
NARCOTIC_OR_IRRITANT: ClassCode = "STOT SE 3"


def organs(composition: Composition) -> Iterator[Finding]:
    """Tables 3.8.3 and 3.9.4: 10 % for the same category, 1 to 10 % of category 1 for category 2."""
    for first, second, statements in KINDS:
        for substance in composition.substances:
            yield from _organ(substance, first, second, statements)
    yield from _once(composition)


def _organ(substance: Substance, first: ClassCode, second: ClassCode, statements: tuple[str, str]) -> Iterator[Finding]:
    """Each ingredient by itself: the graver category whose limit it reaches."""
    grave = share_of(substance, TEN, first)
    # Without a limit of its own for category 2, an ingredient of category 1 reaches it from 1 %.
    mild = share_of(substance, ONE if has(substance, first) else TEN, second)
    for hazard, h, share, counts in (
        (first, statements[0], grave, has(substance, first)),
        (second, statements[1], mild, has(substance, first, second)),
    ):
        if counts and share.reaches:
            rule: Rule = "tables 3.8.3 and 3.9.4, own limit" if share.own else "tables 3.8.3 and 3.9.4"
            yield Finding(hazard, h, rule, single(share), carriers([share]))
            return


def _once(composition: Composition) -> Iterator[Finding]:
    """3.8.3.4.5: category 3 adds up within each effect, 20 % or the ingredients' own limits."""
    for h in ("H335", "H336"):
        shares = [share for substance in composition.substances if (share := _effect(substance, h)) is not None]
        if shares and ratio_sum(shares) >= 1:
            yield Finding(NARCOTIC_OR_IRRITANT, h, "3.8.3.4.5", summed(shares), carriers(shares))


def _effect(substance: Substance, h: str) -> Share | None:
    """An ingredient with an effect, against its own limit for that effect; None below relevance."""
    if substance.hazards is None:
        return None
    own = [limit.start.percent for limit in substance.hazards.limits if limit.h == h]
    if not own and all(entry.h != h for entry in substance.hazards.classes):
        return None
    share = (
        Share(substance, substance.limited, min(own), True)
        if own
        else Share(substance, substance.percent, TWENTY, False)
    )
    return share if share.percent >= min(ONE, share.limit) else None
