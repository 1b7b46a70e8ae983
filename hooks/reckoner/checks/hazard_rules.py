"""Rules about hazard records: figures of acute toxicity against their class, and what specific limits count."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.calc.mixing.molar import molar_mass
from reckoner.problems import Location, Problem, ValueFault
from reckoner.records.acute import BOUNDS, ESTIMATES, UNIT, AcuteValue, category_of
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Chemical
from reckoner.records.hazard import Hazards


def acute_values(catalogue: Catalogue) -> Iterator[Problem]:
    """A figure lies in the category that is recorded (table 3.1.1), or in a graver one of a minimum classification."""
    for chemical, index, record in _records(catalogue):
        for number, value in enumerate(record.acute):
            fault = _contradiction(value, record)
            if fault:
                yield Problem(catalogue.place("chemical", chemical.id, "hazards", index, "acute", number), fault)


def _contradiction(value: AcuteValue, record: Hazards) -> str | None:
    category, recorded = category_of(value.way, value.value.number), record.category(value.way)
    figure = f"{value.value.number} {value.value.unit} ({value.way})"
    if recorded is None:
        if category is None:
            return None
        return f"{figure} is Acute Tox. {category}, and no class says so (add the class, or mend the figure)"
    if value.kind == "harmonised ATE" and value.value.number == ESTIMATES[value.way][recorded - 1]:
        # Annex VI gives the converted estimate of table 3.1.2 where no better figure is agreed; for category 2 of gases
        # and others it is the bound of category 1.
        return None
    entry = f"Acute Tox. {recorded}"
    if category == recorded or (category is not None and category < recorded and record.minimum(value.way)):
        return None
    bounds = ("0", *(str(bound) for bound in BOUNDS[value.way]))
    span = f"{bounds[recorded - 1]} to {bounds[recorded]} {UNIT[value.way]}"
    return f"{figure} contradicts {entry}, which is {span} (mend the figure, its unit or the class)"


def limit_ions(catalogue: Catalogue) -> Iterator[Problem]:
    """An ion that limits count has a formula, and so has the form that it is part of."""
    for chemical, index, record in _records(catalogue):
        if record.limits_count is None:
            continue
        at = catalogue.place("chemical", chemical.id, "hazards", index, "limits_count")
        form = chemical.form(record.basis or record.forms[0])
        if form is not None and form.formula is None:
            yield Problem(at, f"{form.name} has no formula to count an ion of (add formula:, or leave this out)")
        yield from _formula(record.limits_count.formula, at)


def _formula(text: str, at: Location) -> Iterator[Problem]:
    try:
        molar_mass(text)
    except ValueFault as fault:
        yield Problem(at, str(fault))


def _records(catalogue: Catalogue) -> Iterator[tuple[Chemical, int, Hazards]]:
    for chemical in catalogue.chemicals.values():
        for index, record in enumerate(chemical.hazards):
            yield chemical, index, record
