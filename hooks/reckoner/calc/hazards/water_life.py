"""Hazards to water life (Annex I, 4.1.3) and gases set free by acid (Annex II, 1.2)."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Part
from reckoner.calc.hazards.finding import Finding, Share, figure, has, names, ratio_sum, summed
from reckoner.records.hazard import ClassCode

QUARTER = Decimal(25)
TENTH = Decimal("0.1")
#: The law gives no figure for "dangerous amounts" of gas; this trigger is this handbook's own and is said to be.
GAS_TRIGGER = Decimal(1)


def aquatic(composition: Composition) -> Iterator[Finding]:
    """Tables 4.1.1 and 4.1.2: sums weighted by M and by category, the first that reaches 25 %."""
    acute = acute_shares(composition)
    total = sum((share for _, share in acute), Decimal(0))
    if total >= QUARTER:
        names = tuple(sorted(part.chemical for part, _ in acute))
        yield Finding("Aquatic Acute 1", "H400", "table 4.1.1, with M", f"{figure(total)} %", "25 %", names)
    yield from _chronic(composition)


#: How table 4.1.2 of Annex I adds for each category: the sum is weighted, and so may pass 100 %.
WEIGHED = (
    "Chronic 1 with M",
    "ten times Chronic 1 with M, and Chronic 2",
    "a hundred times Chronic 1 with M, ten times Chronic 2, and Chronic 3",
    "Chronic 1 to 4 without weights",
)


def acute_shares(composition: Composition) -> tuple[tuple[Part, Decimal], ...]:
    """The ingredients of Aquatic Acute 1, each with its share times M."""
    return tuple((p, p.percent * _m(p, acute=True)) for p in _relevant(composition, "Aquatic Acute 1", True))


def _chronic(composition: Composition) -> Iterator[Finding]:
    one = _relevant(composition, "Aquatic Chronic 1", False)
    two = _relevant(composition, "Aquatic Chronic 2", False)
    three = _relevant(composition, "Aquatic Chronic 3", False)
    four = _relevant(composition, "Aquatic Chronic 4", False)
    first = sum((part.percent * _m(part, acute=False) for part in one), Decimal(0))
    second, third, plain, last = (sum((p.percent for p in parts), Decimal(0)) for parts in (two, three, one, four))
    steps = (
        ("H410", WEIGHED[0], first, one),
        ("H411", WEIGHED[1], 10 * first + second, (*one, *two)),
        ("H412", WEIGHED[2], 100 * first + 10 * second + third, (*one, *two, *three)),
        ("H413", WEIGHED[3], plain + second + third + last, (*one, *two, *three, *four)),
    )
    for category, (h, rule, total, parts) in enumerate(steps, 1):
        if total >= QUARTER:
            names = tuple(sorted({part.chemical for part in parts}))
            yield Finding(f"Aquatic Chronic {category}", h, f"table 4.1.2, {rule}", f"{figure(total)} %", "25 %", names)
            return


def _relevant(composition: Composition, hazard: ClassCode, acute: bool) -> tuple[Part, ...]:
    """Cut-offs of table 1.1: 0.1 % over M for category 1, else 1 %."""
    first = hazard in ("Aquatic Acute 1", "Aquatic Chronic 1")
    return tuple(
        part
        for part in composition.parts
        if has(part, hazard) and part.percent >= (TENTH / _m(part, acute) if first else Decimal(1))
    )


def _m(part: Part, acute: bool) -> Decimal:
    if part.hazards is None:
        return Decimal(1)
    return Decimal(part.hazards.m_acute if acute else part.hazards.m_chronic)


def gases(composition: Composition) -> Iterator[Finding]:
    """EUH031 and EUH032: gases with acid. Our own trigger, because the law names none; a record may have another."""
    for code in ("EUH031", "EUH032"):
        shares = [_gas(part) for part in composition.parts if part.hazards and code in part.hazards.euh]
        if shares and ratio_sum(shares) >= 1:
            share, limit = summed(shares)
            rule = f"Annex II 1.2; the trigger of {_triggers(shares)} is this handbook's own"
            yield Finding(code, code, rule, share, limit, names(shares))


def _gas(part: Part) -> Share:
    """A part against the share from which it is said to set gas free."""
    own = part.hazards.gas_from if part.hazards else None
    return Share(part, part.percent, own.percent if own else GAS_TRIGGER, own is not None)


def _triggers(shares: list[Share]) -> str:
    return " and ".join(f"{figure(limit)} %" for limit in sorted({share.limit for share in shares}))
