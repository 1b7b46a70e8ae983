"""Acute toxicity: Annex I, 3.1. Each way into the body by itself; gas, vapour, and dust or mist are three ways."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.finding import Carrier, Finding, HeldAgainst
from reckoner.records.acute import BOUNDS, ESTIMATES, STATEMENTS, UNIT, Route, category_of
from reckoner.records.hazard import Hazards

TENTH = Decimal("0.1")


def acute(composition: Composition) -> Iterator[Finding]:
    """3.1.3.6: 100 / ATEmix = sum of share / ATE, each way apart; unknowns above 10 % shorten the 100."""
    unknown = sum((p.percent for p in composition.unknown if p.percent >= 1), Decimal(0))
    whole = Decimal(100) - unknown if unknown > 10 else Decimal(100)
    for route in BOUNDS:
        shares = [
            (substance, estimate)
            for substance in composition.substances
            if (estimate := ate_of(substance, route)) is not None
        ]
        total = sum((substance.percent / estimate for substance, estimate in shares), Decimal(0))
        if total == 0:
            continue
        mix = whole / total
        category = category_of(route, mix)
        if category is None:
            continue
        yield Finding(
            f"Acute Tox. {category}",
            STATEMENTS[route][category - 1],
            "3.1.3.6.2.3" if unknown > 10 else "3.1.3.6.1",
            HeldAgainst(mix, BOUNDS[route][category - 1], UNIT[route], up_to=True),
            tuple(Carrier(substance.chemical, substance.percent, ate=estimate) for substance, estimate in shares),
            route,
        )


def ate_of(substance: Substance, route: Route) -> Decimal | None:
    """An ingredient's estimate: harmonised, then measured, then its category's; None where it has no class."""
    category = substance.hazards.category(route) if substance.hazards else None
    if substance.hazards is None or category is None:
        return None
    estimate = estimate_of(substance.hazards, route, category)
    # A minimum classification (asterisk of Annex VI) may have a figure of a graver category.
    grave = min(category, category_of(route, estimate) or category)
    # Relevance cut-off, table 1.1: 0.1 % for categories 1 to 3, 1 % for category 4.
    return estimate if substance.percent >= (TENTH if grave <= 3 else Decimal(1)) else None


def estimate_of(record: Hazards, route: Route, category: int) -> Decimal:
    """A record's estimate by one way: harmonised, then measured, then its category's."""
    values = {value.kind: value.value.number for value in record.acute if value.way == route}
    measured = values.get("LD50") or values.get("LC50")
    return values.get("harmonised ATE") or measured or ESTIMATES[route][category - 1]
