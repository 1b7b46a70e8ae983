"""Skin corrosion and irritation, serious eye damage and irritation: Annex I, 3.2.3 and 3.3.3."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.finding import (
    Finding,
    HeldAgainst,
    Share,
    carriers,
    has,
    limit_of,
    ratio,
    ratio_sum,
    share_of,
)
from reckoner.records.hazard import ClassCode

CORROSIVE: tuple[ClassCode, ...] = ("Skin Corr. 1", "Skin Corr. 1A", "Skin Corr. 1B", "Skin Corr. 1C")
DAMAGING: tuple[ClassCode, ...] = (*CORROSIVE, "Eye Dam. 1")
RELEVANT = Decimal(1)
#: General limits of tables 3.2.3 and 3.3.3, % w/w.
CORRODES, DAMAGES, IRRITATES = Decimal(5), Decimal(3), Decimal(10)
#: The sub-category: 1A alone, then 1A and 1B, then all three.
STEPS: tuple[tuple[ClassCode, tuple[ClassCode, ...]], ...] = (
    ("Skin Corr. 1A", ("Skin Corr. 1A",)),
    ("Skin Corr. 1B", ("Skin Corr. 1A", "Skin Corr. 1B")),
    ("Skin Corr. 1C", ("Skin Corr. 1A", "Skin Corr. 1B", "Skin Corr. 1C")),
)


def skin(composition: Composition) -> Iterator[Finding]:
    """Table 3.2.3 with specific limits as ratios, then table 3.2.4 for strong acids and alkalis."""
    corrosive = _corrosive(composition, CORROSIVE)
    if ratio_sum(corrosive) >= 1:
        sub = _sub_category(composition, corrosive)
        yield Finding(sub, "H314", "table 3.2.3", ratio(corrosive), carriers(corrosive))
        return
    strong = _strong(composition, CORROSIVE)
    if strong:
        yield Finding("Skin Corr. 1", "H314", "table 3.2.4", _largest(strong), carriers(strong))
        return
    irritant = _irritant(composition, "Skin Irrit. 2", CORROSIVE)
    if ratio_sum(irritant) >= 1:
        yield Finding("Skin Irrit. 2", "H315", "table 3.2.3, tenfold", ratio(irritant), carriers(irritant))


def eye(composition: Composition) -> Iterator[Finding]:
    """Table 3.3.3 with specific limits as ratios, then table 3.3.4 for strong acids and alkalis."""
    damaging = _relevant(_damage(substance) for substance in composition.substances if has(substance, *DAMAGING))
    if ratio_sum(damaging) >= 1:
        yield Finding("Eye Dam. 1", "H318", "table 3.3.3", ratio(damaging), carriers(damaging))
        return
    strong = _strong(composition, DAMAGING)
    if strong:
        yield Finding("Eye Dam. 1", "H318", "table 3.3.4", _largest(strong), carriers(strong))
        return
    irritant = _irritant(composition, "Eye Irrit. 2", DAMAGING)
    if ratio_sum(irritant) >= 1:
        yield Finding("Eye Irrit. 2", "H319", "table 3.3.3, tenfold", ratio(irritant), carriers(irritant))


def _relevant(shares: Iterable[Share]) -> list[Share]:
    """Those of 1 % and more, or of their limit where that is lower (Annex I, 1.1.2.2)."""
    return [share for share in shares if share.percent >= min(RELEVANT, share.limit)]


def _corrosive(composition: Composition, classes: tuple[ClassCode, ...]) -> list[Share]:
    return _relevant(
        share_of(substance, CORRODES, *classes) for substance in composition.substances if has(substance, *classes)
    )


def _damage(substance: Substance) -> Share:
    """The limit for eye damage: the record's own, else where its eye irritation ends, else the general one.

    Of 34 rows of Annex VI (ATP 23) with a figure for skin corrosion, 23 give a band of eye irritation that ends where
    skin corrosion begins, which leaves no room for the general 3 %; two say nothing of the eye (nitric acid,
    acrolein), and there the general limit stands, or that of skin corrosion where it is lower.
    """
    if limit_of(substance, "Eye Dam. 1") is not None:
        return share_of(substance, DAMAGES, "Eye Dam. 1")
    corrodes = limit_of(substance, *CORROSIVE)
    irritates = limit_of(substance, "Eye Irrit. 2")
    if corrodes is None or (irritates is None and corrodes >= DAMAGES):
        return share_of(substance, DAMAGES, "Eye Dam. 1")
    return replace(share_of(substance, DAMAGES, *CORROSIVE), borrowed=True)


def _irritant(composition: Composition, irritant: ClassCode, severe: tuple[ClassCode, ...]) -> list[Share]:
    """Severe ingredients count tenfold (limit 1 %), irritant ones once (10 %); specific limits before both."""
    return _relevant(
        share_of(substance, RELEVANT if has(substance, *severe) else IRRITATES, irritant)
        for substance in composition.substances
        if has(substance, irritant, *severe)
    )


def _strong(composition: Composition, severe: tuple[ClassCode, ...]) -> list[Share]:
    """Strong acids and alkalis of a severe class without a specific limit of their own, at 1 % and more."""
    return [
        Share(substance, substance.percent, RELEVANT, False)
        for substance in composition.substances
        if substance.strong
        and has(substance, *severe)
        and substance.percent >= RELEVANT
        and limit_of(substance, *severe) is None
    ]


def _sub_category(composition: Composition, shares: list[Share]) -> str:
    """The first step that reaches its limit; plain 1 where an ingredient has no sub-category."""
    if any(has(share.substance, "Skin Corr. 1") for share in shares):
        return "Skin Corr. 1"
    reached = (name for name, classes in STEPS if ratio_sum(_corrosive(composition, classes)) >= 1)
    return next(reached, "Skin Corr. 1")


def _largest(shares: Iterable[Share]) -> HeldAgainst:
    """Tables 3.2.4 and 3.3.4 add nothing up: the largest share stands for all."""
    return HeldAgainst(max(share.percent for share in shares), RELEVANT, "% w/w")
