"""Rules about chemicals, hazards and tables beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from reckoner.calc.molar import molar_mass
from reckoner.problems import Problem, ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.spelling import chemical_hint


def chemical_formulas(catalogue: Catalogue) -> Iterator[Problem]:
    """Every chemical formula can be weighed; liquids that have one state strength and density."""
    for chemical in catalogue.chemicals.values():
        for index, form in enumerate(chemical.forms):
            path = ("forms", index)
            if form.formula is None:
                continue
            try:
                molar_mass(form.formula)
            except ValueFault as fault:
                yield Problem(catalogue.place("chemical", chemical.id, *path, "formula"), str(fault))
            if form.state == "liquid" and form.strength is None:
                what = f"{form.name} has no strength (add strength: as 60 % w/w)"
                yield Problem(catalogue.place("chemical", chemical.id, *path), what)
            elif form.state == "liquid" and form.density is None:
                what = f"{form.name} has no density (add density: as 1.33 g/mL)"
                yield Problem(catalogue.place("chemical", chemical.id, *path), what)


def hazard_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Hazard records speak of forms that the chemical has, and every statement has a text."""
    texts = {phrase.code for phrase in catalogue.phrases.phrases} if catalogue.phrases else None
    for chemical in catalogue.chemicals.values():
        forms = ", ".join(form.id for form in chemical.forms)
        for index, record in enumerate(chemical.hazards):
            for name in (*record.forms, *([record.basis] if record.basis else [])):
                if chemical.form(name) is None:
                    what = f"{chemical.name} has no form '{name}' (write one of: {forms})"
                    yield Problem(catalogue.place("chemical", chemical.id, "hazards", index), what)
            for code in (*(c.h for c in record.classes), *record.euh):
                if texts is not None and code not in texts:
                    what = f"no text for {code} (add it to hazard_phrases.yml)"
                    yield Problem(catalogue.place("chemical", chemical.id, "hazards", index), what)


def look_alikes(catalogue: Catalogue) -> Iterator[Problem]:
    """The table of look-alikes names known chemicals."""
    groups = catalogue.look_alikes.groups if catalogue.look_alikes else ()
    yield from _unknown_in_groups(catalogue, "look_alikes", [group.chemicals for group in groups])


def incompatible_chemicals(catalogue: Catalogue) -> Iterator[Problem]:
    """The groups of what must not meet name known chemicals."""
    groups = catalogue.incompatibilities.groups if catalogue.incompatibilities else ()
    yield from _unknown_in_groups(catalogue, "incompatibilities", [group.chemicals for group in groups])


def _unknown_in_groups(catalogue: Catalogue, kind: str, groups: Iterable[tuple[str, ...]]) -> Iterator[Problem]:
    for group_index, chemicals in enumerate(groups):
        for index, chemical in enumerate(chemicals):
            if ("chemical", chemical) not in catalogue.file_of:
                what = f"unknown chemical '{chemical}' ({chemical_hint(chemical, catalogue)})"
                yield Problem(catalogue.place(kind, "", "groups", group_index, "chemicals", index), what)
