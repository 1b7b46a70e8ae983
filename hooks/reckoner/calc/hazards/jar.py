"""What a jar's own label would say: its record, or for a solution the record's limits at the jar's strength."""

from __future__ import annotations

from decimal import Decimal

from reckoner.calc.hazards.classify import LabelElements, classify, label_of
from reckoner.calc.hazards.composition import Composition, Part
from reckoner.records.chemical import Chemical, Form
from reckoner.records.hazard import Hazards


def jar_label(chemical: Chemical, form: Form, record: Hazards) -> LabelElements:
    """Label elements of one form.

    A record with specific limits (note B of Annex VI: acids, ammonia, peroxide, formaldehyde) is for the substance, and
    a solution of it is classified by its strength; everything else carries the record's classes as they stand.
    """
    if form.strength is None or not record.limits:
        return label_of((*(c.h for c in record.classes), *record.euh), [c.hazard for c in record.classes])
    percent = form.strength.percent
    part = Part(chemical.id, record, percent * 10, percent, (form.id,))
    found = classify(Composition((part,), Decimal(1000), "a jar"), None)
    physical = _physical(record, percent)
    return label_of((*(f.h for f in found.findings), *physical), [f.hazard for f in found.findings])


#: Statements of flammable liquids: those that dilution takes away.
FLAMMABLE = {"H224", "H225", "H226"}


def _physical(record: Hazards, percent: Decimal) -> tuple[str, ...]:
    """Physical statements are not computed: one without a limit of its own stays."""
    limited = {limit.h for limit in record.limits}
    if record.flammable_from is not None and percent < record.flammable_from.percent:
        limited |= FLAMMABLE
    return tuple(c.h for c in record.classes if c.h.startswith("H2") and c.h not in limited)
