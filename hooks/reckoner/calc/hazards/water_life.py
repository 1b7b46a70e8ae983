"""Hazards to water life (Annex I, 4.1.3) and gases set free by acid (Annex II, 1.2)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.finding import Carrier, Finding, HeldAgainst, Rule, Share, carriers, has, ratio_sum, summed
from reckoner.records.hazard import ClassCode

QUARTER = Decimal(25)
TENTH = Decimal("0.1")
#: The law gives no figure for "dangerous amounts" of gas; this trigger is this handbook's own and is said to be.
GAS_TRIGGER = Decimal(1)


def aquatic(composition: Composition) -> Iterator[Finding]:
    """Tables 4.1.1 and 4.1.2: sums weighted by M and by category, the first that reaches 25 %."""
    acute = acute_carriers(composition)
    total = weighed(acute)
    if total >= QUARTER:
        yield Finding("Aquatic Acute 1", "H400", "table 4.1.1", HeldAgainst(total, QUARTER, "% w/w"), acute)
    yield from _chronic(composition)


def acute_carriers(composition: Composition, factor: Decimal = Decimal(1)) -> tuple[Carrier, ...]:
    """The ingredients of Aquatic Acute 1, each weighted with M and a factor."""
    relevant = _relevant(composition, "Aquatic Acute 1", True)
    return tuple(Carrier(p.chemical, p.percent, weight=factor * _m(p, acute=True)) for p in relevant)


def weighed(counted: Iterable[Carrier]) -> Decimal:
    """The sum of shares times their weights, % w/w; it may pass 100."""
    return sum((c.percent * c.weight for c in counted if c.percent is not None), Decimal(0))


#: Table 4.1.2 of Annex I for each category: statement, rule, and the weights of Chronic 1 to 4; of 1 beside M, but that
#: the last sum leaves weights and M out.
CHRONIC: tuple[tuple[str, Rule, tuple[int, ...]], ...] = (
    ("H410", "table 4.1.2, Chronic 1", (1,)),
    ("H411", "table 4.1.2, Chronic 2", (10, 1)),
    ("H412", "table 4.1.2, Chronic 3", (100, 10, 1)),
    ("H413", "table 4.1.2, Chronic 4", (1, 1, 1, 1)),
)
CHRONIC_CLASSES: tuple[ClassCode, ...] = (
    "Aquatic Chronic 1",
    "Aquatic Chronic 2",
    "Aquatic Chronic 3",
    "Aquatic Chronic 4",
)


def _chronic(composition: Composition) -> Iterator[Finding]:
    for category, (h, rule, weights) in enumerate(CHRONIC, 1):
        counted = tuple(
            Carrier(substance.chemical, substance.percent, weight=weight * _chronic_m(substance, hazard, category))
            for hazard, weight in zip(CHRONIC_CLASSES, weights, strict=False)
            for substance in _relevant(composition, hazard, False)
        )
        total = weighed(counted)
        if total >= QUARTER:
            yield Finding(f"Aquatic Chronic {category}", h, rule, HeldAgainst(total, QUARTER, "% w/w"), counted)
            return


def _chronic_m(substance: Substance, hazard: ClassCode, category: int) -> Decimal:
    """M counts for Chronic 1, and in the sums of categories 1 to 3."""
    return _m(substance, acute=False) if hazard == "Aquatic Chronic 1" and category < 4 else Decimal(1)


def _relevant(composition: Composition, hazard: ClassCode, acute: bool) -> tuple[Substance, ...]:
    """Cut-offs of table 1.1: 0.1 % over M for category 1, else 1 %."""
    first = hazard in ("Aquatic Acute 1", "Aquatic Chronic 1")
    return tuple(
        substance
        for substance in composition.substances
        if has(substance, hazard) and substance.percent >= (TENTH / _m(substance, acute) if first else Decimal(1))
    )


def _m(substance: Substance, acute: bool) -> Decimal:
    if substance.hazards is None:
        return Decimal(1)
    return Decimal(substance.hazards.m_acute if acute else substance.hazards.m_chronic)


def gases(composition: Composition) -> Iterator[Finding]:
    """EUH031 and EUH032: gases with acid. Our own trigger, because the law names none; a record may have another."""
    for code in ("EUH031", "EUH032"):
        shares = [
            _gas(substance)
            for substance in composition.substances
            if substance.hazards and code in substance.hazards.euh
        ]
        if shares and ratio_sum(shares) >= 1:
            yield Finding(code, code, "Annex II, 1.2", summed(shares), carriers(shares))


def _gas(substance: Substance) -> Share:
    """A part against the share from which it is said to set gas free."""
    own = substance.hazards.gas_from if substance.hazards else None
    return Share(substance, substance.percent, own.percent if own else GAS_TRIGGER, own is not None)
