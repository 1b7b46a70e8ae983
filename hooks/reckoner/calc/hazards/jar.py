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
    return label_of((*(f.h for f in found.findings), *_physical(record)), [f.hazard for f in found.findings])


def _physical(record: Hazards) -> tuple[str, ...]:
    """Physical statements are not computed: one without a limit of its own stays."""
    limited = {limit.h for limit in record.limits}
    return tuple(c.h for c in record.classes if c.h.startswith("H2") and c.h not in limited)
