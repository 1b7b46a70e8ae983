"""Skin corrosion and irritation, serious eye damage and irritation: Annex I, 3.2.3 and 3.3.3."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Part
from reckoner.calc.hazards.finding import Finding, figure, has, limit_of, names, ratio_sum
from reckoner.records.hazard import ClassCode
from reckoner.records.values import Range

CORROSIVE: tuple[ClassCode, ...] = ("Skin Corr. 1", "Skin Corr. 1A", "Skin Corr. 1B", "Skin Corr. 1C")
RELEVANT = Decimal(1)
ACID_PH, BASE_PH = Decimal(2), Decimal("11.5")
Shares = list[tuple[Part, Decimal]]


def extreme_ph(ph: Range | None) -> Iterator[Finding]:
    """3.2.3.1.2 and 3.3.3.1.2: pH 2 or less, 11.5 or more, unless buffer capacity is known to be low."""
    if ph is None or (ph.low > ACID_PH and ph.high < BASE_PH):
        return
    end = ph.low if ph.low <= ACID_PH else ph.high
    limit = "pH 2 or less" if ph.low <= ACID_PH else "pH 11.5 or more"
    yield Finding("Skin Corr. 1", "H314", "3.2.3.1.2, extreme pH", f"pH {figure(end)}", limit, ())
    yield Finding("Eye Dam. 1", "H318", "3.3.3.1.2, extreme pH", f"pH {figure(end)}", limit, ())


def skin(composition: Composition) -> Iterator[Finding]:
    """Table 3.2.3 with specific limits as ratios, then table 3.2.4 for strong acids and bases."""
    corrosive = _shares(composition, CORROSIVE, CORROSIVE, Decimal(5))
    if ratio_sum(corrosive) >= 1:
        yield _corrosive(composition, corrosive)
        return
    strong = _strong(composition)
    if strong:
        yield Finding(
            "Skin Corr. 1",
            "H314",
            "table 3.2.4, acid or base of extreme pH, not additive",
            _list(strong),
            "1 %",
            names(strong),
        )
        return
    irritant = _irritant(composition, "Skin Irrit. 2", CORROSIVE)
    if ratio_sum(irritant) >= 1:
        share = f"sum of share over limit {figure(ratio_sum(irritant))}: {_list(irritant)}"
        rule = "table 3.2.3, additive: corrosive counted tenfold"
        yield Finding("Skin Irrit. 2", "H315", rule, share, "1 (10 % of irritants)", names(irritant))


def eye(composition: Composition) -> Iterator[Finding]:
    """Table 3.3.3 with specific limits as ratios, then table 3.3.4 for strong acids and bases."""
    damaging = _shares(composition, (*CORROSIVE, "Eye Dam. 1"), (*CORROSIVE, "Eye Dam. 1"), Decimal(3))
    strong = _strong(composition)
    if ratio_sum(damaging) >= 1 or strong:
        found = damaging if ratio_sum(damaging) >= 1 else strong
        share = f"sum of share over limit {figure(ratio_sum(found))}: {_list(found)}"
        yield Finding("Eye Dam. 1", "H318", "table 3.3.3, additive", share, "1 (3 %)", names(found))
        return
    irritant = _irritant(composition, "Eye Irrit. 2", (*CORROSIVE, "Eye Dam. 1"))
    if ratio_sum(irritant) >= 1:
        share = f"sum of share over limit {figure(ratio_sum(irritant))}: {_list(irritant)}"
        rule = "table 3.3.3, additive: damaging counted tenfold"
        yield Finding("Eye Irrit. 2", "H319", rule, share, "1 (10 % of irritants)", names(irritant))


def _shares(
    composition: Composition, classes: tuple[ClassCode, ...], limits: tuple[ClassCode, ...], generic: Decimal
) -> Shares:
    """Ingredients of some classes with the limit each is held against, those below relevance left out."""
    found: Shares = []
    for part in composition.parts:
        if has(part, *classes):
            limit = limit_of(part, *limits) or generic
            if part.percent >= min(RELEVANT, limit):
                found.append((part, limit))
    return found


def _irritant(composition: Composition, irritant: ClassCode, severe: tuple[ClassCode, ...]) -> Shares:
    """Severe ingredients count tenfold (limit 1 %), irritant ones once (10 %); specific limits before both."""
    found: Shares = []
    for part in composition.parts:
        generic = Decimal(1) if has(part, *severe) else Decimal(10) if has(part, irritant) else None
        limit = limit_of(part, irritant) or generic
        if limit is not None and part.percent >= min(RELEVANT, limit):
            found.append((part, limit))
    return found


def _strong(composition: Composition) -> Shares:
    """Acids and bases of extreme pH without a specific limit of their own, at 1 % and more."""
    return [
        (part, RELEVANT)
        for part in composition.parts
        if part.hazards and part.hazards.extreme_ph and part.percent >= RELEVANT and not limit_of(part, *CORROSIVE)
    ]


def _corrosive(composition: Composition, shares: Shares) -> Finding:
    """The sub-category: 1A, then 1A and 1B, then all three; plain 1 where an ingredient has no sub-category."""
    steps: tuple[tuple[ClassCode, tuple[ClassCode, ...]], ...] = (
        ("Skin Corr. 1A", ("Skin Corr. 1A",)),
        ("Skin Corr. 1B", ("Skin Corr. 1A", "Skin Corr. 1B")),
        ("Skin Corr. 1C", ("Skin Corr. 1A", "Skin Corr. 1B", "Skin Corr. 1C")),
    )
    hazard: str = "Skin Corr. 1"
    if not any(has(part, "Skin Corr. 1") for part, _ in shares):
        for name, classes in steps:
            if ratio_sum(_shares(composition, classes, classes, Decimal(5))) >= 1:
                hazard = name
                break
    share = f"sum of share over limit {figure(ratio_sum(shares))}: {_list(shares)}"
    return Finding(hazard, "H314", "table 3.2.3, additive", share, "1 (5 %)", names(shares))


def _list(shares: Shares) -> str:
    return ", ".join(f"{part.chemical} {figure(part.percent)} % against {figure(limit)} %" for part, limit in shares)
