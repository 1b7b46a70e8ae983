"""Acute toxicity, sensitisation, CMR, organ damage and aspiration: Annex I, 3.1 and 3.4 to 3.10."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Part
from reckoner.calc.hazards.finding import Finding, figure, has, limit_of
from reckoner.records.hazard import ClassCode, Classification, Route

#: Table 3.1.1: upper ends of categories 1 to 4, mg/kg (inhalation: mg/L of dust or mist).
BOUNDS: dict[Route, tuple[Decimal, ...]] = {
    "oral": tuple(Decimal(b) for b in ("5", "50", "300", "2000")),
    "dermal": tuple(Decimal(b) for b in ("50", "200", "1000", "2000")),
    "inhalation": tuple(Decimal(b) for b in ("0.05", "0.5", "1", "5")),
}
#: Table 3.1.2: the point estimate that stands for a category.
ESTIMATES: dict[Route, tuple[Decimal, ...]] = {
    "oral": tuple(Decimal(e) for e in ("0.5", "5", "100", "500")),
    "dermal": tuple(Decimal(e) for e in ("5", "50", "300", "1100")),
    "inhalation": tuple(Decimal(e) for e in ("0.005", "0.05", "0.5", "1.5")),
}
STATEMENTS: dict[Route, tuple[str, ...]] = {
    "oral": ("H300", "H300", "H301", "H302"),
    "dermal": ("H310", "H310", "H311", "H312"),
    "inhalation": ("H330", "H330", "H331", "H332"),
}
TENTH = Decimal("0.1")


def acute(composition: Composition) -> Iterator[Finding]:
    """3.1.3.6: 100 / ATEmix = sum of share / ATE, each route apart; unknowns above 10 % shorten the 100."""
    unknown = sum((p.percent for p in composition.unknown if p.percent >= 1), Decimal(0))
    whole = Decimal(100) - unknown if unknown > 10 else Decimal(100)
    for route in BOUNDS:
        shares = [(part, estimate) for part in composition.parts if (estimate := ate_of(part, route)) is not None]
        total = sum((part.percent / estimate for part, estimate in shares), Decimal(0))
        if total == 0:
            continue
        mix = whole / total
        category = next((i for i, bound in enumerate(BOUNDS[route]) if mix <= bound), None)
        if category is None:
            continue
        rule = "3.1.3.6.2.3, unknowns above 10 %" if unknown > 10 else "3.1.3.6.1"
        yield Finding(
            f"Acute Tox. {category + 1}",
            STATEMENTS[route][category],
            f"{rule}, {route}",
            f"ATE of the bath {figure(mix)}",
            f"{BOUNDS[route][category]} {'mg/L' if route == 'inhalation' else 'mg/kg'}",
            tuple(sorted(part.chemical for part, _ in shares)),
        )


def ate_of(part: Part, route: Route) -> Decimal | None:
    """An ingredient's estimate: harmonised, then LD50, then its category's; None where it has no class."""
    if part.hazards is None:
        return None
    found = [c for c in part.hazards.classes if c.h in STATEMENTS[route]]
    if not found:
        return None
    category = min(int(c.hazard[-1]) for c in found)
    # Relevance cut-off, table 1.1: 0.1 % for categories 1 to 3, 1 % for category 4.
    if part.percent < (TENTH if category <= 3 else Decimal(1)):
        return None
    values = {value.kind: value.mg_per_kg for value in part.hazards.acute if value.route == route}
    return values.get("harmonised ATE") or values.get("LD50") or ESTIMATES[route][category - 1]


#: (classes, statement, limit, elicitation for EUH208): tables 3.4.5 and 3.4.6.
SENSITISERS: tuple[tuple[tuple[ClassCode, ...], str, Decimal, Decimal], ...] = (
    (("Resp. Sens. 1",), "H334", Decimal(1), TENTH),
    (("Skin Sens. 1", "Skin Sens. 1B"), "H317", Decimal(1), TENTH),
    (("Skin Sens. 1A",), "H317", TENTH, Decimal("0.01")),
)


def sensitisation(composition: Composition) -> Iterator[Finding]:
    """3.4.3: not additive; below the limit but above elicitation it is named by EUH208."""
    found: list[Finding] = []
    named: list[Finding] = []
    for classes, h, generic, elicits in SENSITISERS:
        for part in composition.parts:
            if not has(part, *classes):
                continue
            special = limit_of(part, *classes)
            limit, low = special or generic, special / 10 if special else elicits
            share, parts = f"{figure(part.percent)} %", (part.chemical,)
            if part.percent >= limit:
                found.append(Finding(classes[0], h, "table 3.4.5, not additive", share, f"{figure(limit)} %", parts))
            elif part.percent >= low:
                rule = "Annex II 2.8 and table 3.4.6: contains a sensitiser"
                named.append(Finding("EUH208", "EUH208", rule, share, f"{figure(low)} %", parts))
    yield from found
    if not found:
        yield from named


#: (class, limit): tables 3.5.2, 3.6.2 and 3.7.2, not additive.
CMR: tuple[tuple[ClassCode, Decimal], ...] = (
    ("Muta. 1B", TENTH),
    ("Muta. 2", Decimal(1)),
    ("Carc. 1B", TENTH),
    ("Carc. 2", Decimal(1)),
    ("Repr. 1B", Decimal("0.3")),
    ("Repr. 2", Decimal(3)),
    ("Lact.", Decimal("0.3")),
)


def cmr(composition: Composition) -> Iterator[Finding]:
    """3.5 to 3.7, each substance by itself, but boron compounds summed (note 11 of Annex VI)."""
    for hazard, generic in CMR:
        for part in composition.parts:
            entry = _entry(part, hazard)
            if entry is None or (part.hazards and part.hazards.boron):
                continue
            limit = limit_of(part, hazard) or generic
            if part.percent >= limit:
                share = f"{figure(part.percent)} %"
                yield Finding(
                    hazard, entry.h, "3.5 to 3.7, not additive", share, f"{figure(limit)} %", (part.chemical,)
                )
    boron = [part for part in composition.parts if part.hazards and part.hazards.boron]
    total = sum((part.percent for part in boron), Decimal(0))
    if boron and total >= Decimal("0.3"):
        entry = _entry(boron[0], "Repr. 1B")
        names = tuple(part.chemical for part in boron)
        statement = entry.h if entry else "H360FD"
        yield Finding("Repr. 1B", statement, "boron compounds summed, note 11", f"{figure(total)} %", "0.3 %", names)


def aspiration(composition: Composition) -> Iterator[Finding]:
    """3.10.3.3: 10 % and thin enough, 20.5 mm2/s at 40 °C; a bath is taken to be as thin as water."""
    parts = [part for part in composition.parts if has(part, "Asp. Tox. 1") and part.percent >= 1]
    total = sum((part.percent for part in parts), Decimal(0))
    if total >= 10:
        names = tuple(sorted(part.chemical for part in parts))
        rule = "3.10.3.3, as thin as water: viscosity not measured"
        yield Finding("Asp. Tox. 1", "H304", rule, f"{figure(total)} %", "10 %", names)


def organs(composition: Composition) -> Iterator[Finding]:
    """Tables 3.8.3 and 3.9.4: 10 % for the same category, 1 to 10 % of category 1 for category 2; 20 % for SE 3."""
    for kind, statements in (("STOT SE", ("H370", "H371")), ("STOT RE", ("H372", "H373"))):
        for part in composition.parts:
            yield from _organ(part, kind, statements)
    for h in ("H335", "H336"):
        parts = [part for part in composition.parts if _statement(part, h) and part.percent >= 1]
        special = [part for part in parts if (limit := limit_of(part, "STOT SE 3")) and part.percent >= limit]
        total = sum((part.percent for part in parts), Decimal(0))
        if special or total >= 20:
            names = tuple(sorted(part.chemical for part in special or parts))
            yield Finding("STOT SE 3", h, "3.8.3.4.5, additive", f"{figure(total)} %", "20 %", names)


def _organ(part: Part, kind: str, statements: tuple[str, str]) -> Iterator[Finding]:
    first = part.hazards is not None and any(c.hazard == f"{kind} 1" for c in part.hazards.classes)
    second = part.hazards is not None and any(c.hazard == f"{kind} 2" for c in part.hazards.classes)
    share, parts = f"{figure(part.percent)} %", (part.chemical,)
    if first and part.percent >= 10:
        yield Finding(f"{kind} 1", statements[0], "tables 3.8.3 and 3.9.4", share, "10 %", parts)
    elif (first and part.percent >= 1) or (second and part.percent >= 10):
        limit = "1 %" if first else "10 %"
        yield Finding(f"{kind} 2", statements[1], "tables 3.8.3 and 3.9.4", share, limit, parts)


def _entry(part: Part, hazard: ClassCode) -> Classification | None:
    if part.hazards is None:
        return None
    return next((c for c in part.hazards.classes if c.hazard == hazard), None)


def _statement(part: Part, h: str) -> bool:
    if part.hazards is None:
        return False
    return any(c.h == h for c in part.hazards.classes) or any(limit.h == h for limit in part.hazards.limits)
