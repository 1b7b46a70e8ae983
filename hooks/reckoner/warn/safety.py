"""What a build warns of where the safety texts themselves are not there: a page without them looks complete."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from reckoner.calc.results import Results
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.records.hazard import Adaptation, Hazards

#: The law whose table of harmonised entries the adaptations change.
EUROPEAN_UNION = "European Union"


@dataclass(frozen=True)
class SafetyFile:
    """A file of safety texts.

    Attributes:
        kind: its name without the ending.
        entries: what it holds; None or nothing where there is no such file.
        loss: what the pages do not say without it.
    """

    kind: str
    entries: Callable[[Catalogue], object]
    loss: str


SAFETY_FILES = (
    SafetyFile(
        "cautions",
        lambda catalogue: catalogue.cautions and catalogue.cautions.cautions,
        "formulas, bench sheets, processes and labels lose the cautions of each ingredient and step",
    ),
    SafetyFile(
        "hazard_phrases",
        lambda catalogue: catalogue.phrases and catalogue.phrases.phrases,
        "pages and labels show hazard codes without their words, and accidents without first steps",
    ),
    SafetyFile(
        "look_alikes",
        lambda catalogue: catalogue.look_alikes and catalogue.look_alikes.groups,
        "no page says which chemicals are mistaken for one another, and spelling help may name the wrong one",
    ),
    SafetyFile(
        "incompatibilities",
        lambda catalogue: catalogue.incompatibilities and catalogue.incompatibilities.groups,
        "nothing says what must not meet in a bath, between two baths or on the shelf",
    ),
    SafetyFile(
        "control_tests",
        lambda catalogue: catalogue.control_tests and catalogue.control_tests.tests,
        "no page says how to tell that a bath is spent",
    ),
)


def lost_safety_texts(results: Results) -> tuple[Problem, ...]:
    """Files of safety texts that are missing, or there without an entry."""
    catalogue = results.catalogue
    return tuple(_lost(file, catalogue) for file in SAFETY_FILES if not file.entries(catalogue))


def _lost(file: SafetyFile, catalogue: Catalogue) -> Problem:
    held = catalogue.file_of.get((file.kind, ""))
    if held is not None:
        return Problem(Location(held), f"the file holds no entry: {file.loss} (fill it in)", Severity.WARNING)
    folder = catalogue.file_of["settings", ""].rpartition("/")[0]
    place = Location(f"{folder}/{file.kind}.yml")
    return Problem(place, f"the file is missing: {file.loss} (add {file.kind}.yml)", Severity.WARNING)


def older_adaptations(results: Results) -> tuple[Problem, ...]:
    """Hazard records that name no adaptation of the table, an unknown one, or an older one than the newest known."""
    catalogue = results.catalogue
    known = catalogue.phrases.adaptations if catalogue.phrases else ()
    return tuple(
        Problem(
            catalogue.place("chemical", chemical.id, "hazards", index, "checked_against"), message, Severity.WARNING
        )
        for chemical in catalogue.chemicals.values()
        for index, record in enumerate(chemical.hazards)
        if (message := _older(record, known))
    )


def _older(record: Hazards, known: tuple[Adaptation, ...]) -> str | None:
    names = [adaptation.name for adaptation in known]
    named = record.checked_against
    if named is None:
        if not names or record.jurisdiction != EUROPEAN_UNION:
            return None
        return f"compared with no adaptation of Annex VI (look the entry up, and write checked_against: {names[-1]})"
    if named not in names:
        ask = f"write one of: {', '.join(names)}" if names else "list it under adaptations: in hazard_phrases.yml"
        return f"unknown adaptation '{named}' ({ask})"
    if named == names[-1]:
        return None
    newest = known[-1]
    message = f"compared with {named}; {newest.name}, {newest.regulation}, applies from {newest.applies}"
    return f"{message} (compare the entry with it, and write checked_against: {newest.name})"
