"""Acute toxicity: Annex I, 3.1. Each way into the body by itself; gas, vapour, and dust or mist are three ways."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Part
from reckoner.calc.hazards.finding import Carrier, Comparison, Finding
from reckoner.records.acute import BOUNDS, ESTIMATES, STATEMENTS, UNIT, Way, category_of

TENTH = Decimal("0.1")


def acute(composition: Composition) -> Iterator[Finding]:
    """3.1.3.6: 100 / ATEmix = sum of share / ATE, each way apart; unknowns above 10 % shorten the 100."""
    unknown = sum((p.percent for p in composition.unknown if p.percent >= 1), Decimal(0))
    whole = Decimal(100) - unknown if unknown > 10 else Decimal(100)
    for way in BOUNDS:
        shares = [(part, estimate) for part in composition.parts if (estimate := ate_of(part, way)) is not None]
        total = sum((part.percent / estimate for part, estimate in shares), Decimal(0))
        if total == 0:
            continue
        mix = whole / total
        category = category_of(way, mix)
        if category is None:
            continue
        yield Finding(
            f"Acute Tox. {category}",
            STATEMENTS[way][category - 1],
            "3.1.3.6.2.3" if unknown > 10 else "3.1.3.6.1",
            Comparison(mix, BOUNDS[way][category - 1], UNIT[way], up_to=True),
            tuple(Carrier(part.chemical, part.percent, ate=estimate) for part, estimate in shares),
            way,
        )


def ate_of(part: Part, way: Way) -> Decimal | None:
    """An ingredient's estimate: harmonised, then measured, then its category's; None where it has no class."""
    category = part.hazards.category(way) if part.hazards else None
    if part.hazards is None or category is None:
        return None
    values = {value.kind: value.value.number for value in part.hazards.acute if value.way == way}
    measured = values.get("LD50") or values.get("LC50")
    estimate = values.get("harmonised ATE") or measured or ESTIMATES[way][category - 1]
    # A minimum classification (asterisk of Annex VI) may have a figure of a graver category.
    grave = min(category, category_of(way, estimate) or category)
    # Relevance cut-off, table 1.1: 0.1 % for categories 1 to 3, 1 % for category 4.
    return estimate if part.percent >= (TENTH if grave <= 3 else Decimal(1)) else None
