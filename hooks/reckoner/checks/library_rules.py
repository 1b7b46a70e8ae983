"""Rules about a handbook over the library: what is chosen exists, and no danger of the library is lost in silence."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.calc.hazards.milder import milder
from reckoner.problems import Problem, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Chemical
from reckoner.records.own_change import IN_LIBRARY
from reckoner.spelling import unknown_name


def chosen_names(catalogue: Catalogue) -> Iterator[Problem]:
    """Formulas and processes that the settings choose are there."""
    chosen = catalogue.settings.library
    for kind, key in (("process", "processes"), ("formula", "formulas")):
        for index, name in enumerate(getattr(chosen, key) if chosen else ()):
            if message := unknown_name(kind, name, catalogue):
                yield Problem(catalogue.place("settings", "", "library", key, index), message)


def same_as_library(catalogue: Catalogue) -> Iterator[Problem]:
    """A whole record of the owner says something else than the library's, or need not be there."""
    for (kind, record_id), over in catalogue.overridden.items():
        if over.whole and catalogue.record(kind, record_id) == over.library:
            advice = "take the file out, so that newer records of the library reach you"
            yield Problem(catalogue.place(kind, record_id), f"{IN_LIBRARY} ({advice})", Severity.WARNING)


def milder_hazards(catalogue: Catalogue) -> Iterator[Problem]:
    """An owner's record of a chemical is as strict as the library's, or says why it is not."""
    for (kind, record_id), over in catalogue.overridden.items():
        chemical, library = catalogue.chemicals.get(record_id), over.library
        if kind != "chemical" or chemical is None or not isinstance(library, Chemical):
            continue
        losses = tuple(milder(chemical, library))
        if losses and not chemical.milder_because:
            lost = "; ".join(dict.fromkeys(loss.text for loss in losses))
            advice = "keep it, or write milder_because: beside id:, at the top of the file: the page says why"
            at = catalogue.place(kind, record_id, losses[0].key)
            yield Problem(at, f"milder than the library's record: {lost} ({advice})")
        elif chemical.milder_because and not losses:
            at = catalogue.place(kind, record_id, "milder_because")
            yield Problem(at, "nothing here is milder than the library's record (leave milder_because: out)")
