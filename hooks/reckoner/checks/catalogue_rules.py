"""Rules about chemicals, hazards and tables beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from reckoner.calc.mixing.molar import molar_mass
from reckoner.problems import Problem, ValueFault, closest
from reckoner.records.catalogue import Catalogue
from reckoner.spelling import unknown_chemical


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
                message = f"{form.name} has no strength (add strength: as 60 % w/w)"
                yield Problem(catalogue.place("chemical", chemical.id, *path), message)
            elif form.state == "liquid" and form.density is None:
                message = f"{form.name} has no density (add density: as 1.33 g/mL)"
                yield Problem(catalogue.place("chemical", chemical.id, *path), message)


def hazard_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Hazard records speak of forms that the chemical has, and every statement has a text."""
    texts = {phrase.code for phrase in catalogue.phrases.phrases} if catalogue.phrases else None
    for chemical in catalogue.chemicals.values():
        forms = ", ".join(form.id for form in chemical.forms)
        for index, record in enumerate(chemical.hazards):
            for name in (*record.forms, *([record.basis] if record.basis else [])):
                if chemical.form(name) is None:
                    message = f"{chemical.name} has no form '{name}' (write one of: {forms})"
                    yield Problem(catalogue.place("chemical", chemical.id, "hazards", index), message)
            stated = (*(c.h for c in record.classes), *(limit.h for limit in record.limits), *record.euh)
            for code in dict.fromkeys(stated):
                if texts is not None and code not in texts:
                    message = f"no text for {code} (add it to hazard_phrases.yml)"
                    yield Problem(catalogue.place("chemical", chemical.id, "hazards", index), message)


def look_alikes(catalogue: Catalogue) -> Iterator[Problem]:
    """The table of look-alikes names known chemicals."""
    groups = catalogue.look_alikes.groups if catalogue.look_alikes else ()
    yield from _unknown(catalogue, "look_alikes", "groups", [group.chemicals for group in groups])


def incompatible_chemicals(catalogue: Catalogue) -> Iterator[Problem]:
    """The groups of what must not meet name known chemicals."""
    groups = catalogue.incompatibilities.groups if catalogue.incompatibilities else ()
    yield from _unknown(catalogue, "incompatibilities", "groups", [group.chemicals for group in groups])


def caution_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Cautions name known chemicals, and groups of the table of incompatibilities."""
    cautions = catalogue.cautions.cautions if catalogue.cautions else ()
    yield from _unknown(catalogue, "cautions", "cautions", [caution.chemicals for caution in cautions])
    table = catalogue.incompatibilities
    if table is None and ("incompatibilities", "") in catalogue.file_of:
        return
    known = sorted(group.id for group in table.groups) if table else []
    for index, caution in enumerate(cautions):
        for key in ("groups", "beside", "acid_against", "after"):
            for place, name in enumerate(getattr(caution, key)):
                if name not in known:
                    hint = f"write one of: {', '.join(known)}" if known else "add incompatibilities.yml with its groups"
                    at = catalogue.place("cautions", "", "cautions", index, key, place)
                    yield Problem(at, f"unknown group '{name}' ({hint})")


def owners_formats(catalogue: Catalogue) -> Iterator[Problem]:
    """The owner's film formats, and those that the tanks hold, are in the table of formats."""
    if catalogue.film_formats is None and ("film_formats", "") in catalogue.file_of:
        return
    known = list(catalogue.films)
    named: list[tuple[str, tuple[str | int, ...]]] = [
        (name, ("formats", index)) for index, name in enumerate(catalogue.settings.formats)
    ]
    for number, tank in enumerate(catalogue.settings.tanks):
        named += [(hold.format, ("tanks", number, "holds", i, "format")) for i, hold in enumerate(tank.holds)]
    for name, path in named:
        if name not in known:
            guess = closest(name, known)
            hint = f"did you mean '{guess}'?" if guess else "add it to film_formats.yml"
            yield Problem(catalogue.place("settings", "", *path), f"unknown film format '{name}' ({hint})")


def restrictions(catalogue: Catalogue) -> Iterator[Problem]:
    """Restrictions speak of forms that the chemical has."""
    for chemical in catalogue.chemicals.values():
        forms = ", ".join(form.id for form in chemical.forms)
        for index, restriction in enumerate(chemical.restrictions):
            for place, name in enumerate(restriction.forms):
                if chemical.form(name) is None:
                    at = catalogue.place("chemical", chemical.id, "restrictions", index, "forms", place)
                    yield Problem(at, f"{chemical.name} has no form '{name}' (write one of: {forms})")


def _unknown(catalogue: Catalogue, kind: str, top: str, lists: Iterable[tuple[str, ...]]) -> Iterator[Problem]:
    for list_index, chemicals in enumerate(lists):
        for index, chemical in enumerate(chemicals):
            if message := unknown_chemical(chemical, catalogue):
                yield Problem(catalogue.place(kind, "", top, list_index, "chemicals", index), message)
