"""What a jar's own label would say: its record, or for a solution the record's limits at the jar's strength."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.classify import LabelElements, classify, label_of
from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.records.chemical import Chemical, Form
from reckoner.records.hazard import ClassCode, Hazards


def jar_label(chemical: Chemical, form: Form, record: Hazards) -> LabelElements:
    """Label elements of one form.

    A record with specific limits (note B of Annex VI: acids, ammonia, peroxide, formaldehyde) is for the substance, and
    a solution of it is classified by its strength; everything else carries the record's classes as they stand.
    """
    if form.strength is None or not record.limits:
        return label_of((*(c.h for c in record.classes), *record.euh), [c.hazard for c in record.classes])
    percent = form.strength.percent
    # Not as strong: a jar is labelled by the limits of its entry, and what its pH asks is said beside them.
    substance = Substance(chemical.id, record, percent * 10, percent, (form.id,))
    classified = classify(Composition((substance,), Decimal(1000), "strength"), None)
    physical = tuple(_physical(record, percent))
    statements = (*(f.h for f in classified.findings), *(h for _, h in physical))
    return label_of(statements, [*(f.hazard for f in classified.findings), *(hazard for hazard, _ in physical)])


#: Statements of flammable liquids: those that dilution takes away.
FLAMMABLE = {"H224", "H225", "H226"}


def _physical(record: Hazards, percent: Decimal) -> Iterator[tuple[ClassCode, str]]:
    """Physical classes and statements: one without a limit of its own stays, of bands the one that holds is said."""
    bands = [limit for limit in record.limits if limit.h.startswith("H2") and limit.start.percent <= percent]
    if bands:
        gravest = max(bands, key=lambda limit: limit.start.percent)
        yield gravest.hazard, gravest.h
    limited = {limit.h for limit in record.limits}
    if record.flammable_from is not None and percent < record.flammable_from.percent:
        limited |= FLAMMABLE
    kinds = {limit.hazard.rpartition(" ")[0] for limit in record.limits}
    for entry in record.classes:
        apart = entry.hazard.rpartition(" ")[0] not in kinds
        if entry.h.startswith("H2") and entry.h not in limited and apart:
            yield entry.hazard, entry.h
