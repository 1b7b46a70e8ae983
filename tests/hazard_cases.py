"""Mixtures for hazard tests: shares and classes in, findings out."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from reckoner.calc.hazards.classify import BathHazards, classify
from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.records.chemical import Strong
from reckoner.records.hazard import Hazards
from reckoner.records.values import Range

SOURCE = {"certainty": "common practice", "checked": "2026-11-25"}


def hazards(*classes: str, **more: Any) -> Hazards:
    """A record from texts such as ``Skin Irrit. 2 H315``."""
    split = [text.rsplit(" ", 1) for text in classes]
    return Hazards.model_validate(
        {
            "forms": ["solid"],
            "classes": [{"hazard": hazard, "h": h} for hazard, h in split],
            "not_classified": "no" if classes or more.get("euh") else "yes",
            "jurisdiction": "European Union",
            "edition": "a test",
            "status": "harmonised",
            "source": SOURCE,
            **more,
        }
    )


def bath(
    *parts: tuple[str, Hazards | None], ph: str | None = None, strong: dict[str, Strong] | None = None
) -> BathHazards:
    """Classify shares in % w/w; names are p0, p1, … in the order given, some of them strong acids or alkalis."""
    made = tuple(
        Substance(f"p{index}", record, Decimal(share) * 10, Decimal(share), strong=(strong or {}).get(f"p{index}"))
        for index, (share, record) in enumerate(parts)
    )
    ends = [Decimal(end) for end in ph.split("-")] if ph else []
    value = Range(ends[0], ends[-1], "") if ends else None
    return classify(Composition(made, Decimal(1000), "a test"), value)


def classes(result: BathHazards) -> set[str]:
    """The classes found."""
    return {finding.hazard for finding in result.findings}
