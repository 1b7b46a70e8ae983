"""What a build warns of where the safety texts themselves are not there: a page without them looks complete."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from reckoner.calc.results import Results
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue


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
        lambda catalogue: catalogue.incompatibilities and catalogue.incompatibilities.pairs,
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
