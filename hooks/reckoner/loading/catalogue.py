"""Texts of data files to one catalogue, with every fault of every file."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path as FilePath

from reckoner.loading import kinds
from reckoner.loading.collected import Collected
from reckoner.loading.demo_day import demo_day
from reckoner.loading.files import DataFile
from reckoner.loading.layers import read_layers
from reckoner.loading.references import by_their_names
from reckoner.loading.source import parse_yaml
from reckoner.problems import HandbookError, Location, Problem
from reckoner.records.catalogue import Catalogue, Tree
from reckoner.records.settings import FORMAT, NO_CURRENCY, AgeLimits, Settings

#: Takes the place of settings that are missing or have faults, so that everything else is still checked at once.
_STAND_IN: Tree = {
    "format": "1",
    "title": "settings with faults",
    "currency": NO_CURRENCY,
    "locale": "en",
    "batch_sizes": ["1 L"],
    "first_batch": "1 L",
    "rolls_a_month": "1",
    "balances": [{"name": "balance", "step": "1 g", "capacity": "1 kg"}],
    "cylinders": [{"name": "cylinder", "step": "1 mL", "capacity": "1 L"}],
    "age_limits": dict.fromkeys(AgeLimits.model_fields, "1 years"),
}


def load_folder(
    folder: FilePath, today: date, shown_as: str, fixed: bool = True
) -> tuple[Catalogue | None, list[Problem]]:
    """Read and build everything below ``folder``; the catalogue is None where there is no such folder or its format is
    another. ``fixed`` as for ``build_catalogue``.
    """
    if not folder.is_dir():
        return None, [Problem(Location(shown_as), "the folder is missing (make it, with settings.yml in it)")]
    files, problems = read_layers(folder, shown_as)
    if not any(file.kind is kinds.SETTINGS for file in files):
        # Without them nobody knows whether a library belongs to it: every name in it would seem unknown.
        return None, [_no_settings(shown_as), *problems]
    other = _other_format(files)
    if other is not None:
        return None, [other]
    catalogue, faults = build_catalogue(files, today, shown_as, fixed)
    return catalogue, problems + faults


def _no_settings(shown_as: str) -> Problem:
    return Problem(Location(f"{shown_as}/settings.yml"), "the file is missing (add settings.yml)")


def _other_format(files: list[DataFile]) -> Problem | None:
    """Data of another version; whatever else is wrong with them then is no fault of theirs."""
    for file in files:
        parsed = parse_yaml(file.text or "", file.name) if file.kind is kinds.SETTINGS else None
        stated = parsed.tree.get("format") if parsed and isinstance(parsed.tree, dict) else None
        if parsed and isinstance(stated, str) and re.fullmatch("[1-9][0-9]{0,6}", stated) and int(stated) != FORMAT:
            age = "newer" if int(stated) > FORMAT else "older"
            message = (
                f"format {stated} is {age} than this engine, which reads format {FORMAT} (take the engine that fits)"
            )
            return Problem(parsed.places.at("format"), message)
    return None


def build_catalogue(
    files: Iterable[DataFile], today: date, shown_as: str = "formulas", fixed: bool = True
) -> tuple[Catalogue, list[Problem]]:
    """Build a catalogue from texts; files with faults are left out of it and reported.

    ``fixed``: today was asked for, so that it counts before the day that a demonstration states.
    """
    # A supplier's record says how to read its tables, a member's whether the rest is private: they go first.
    ordered = sorted(files, key=lambda file: file.kind not in (kinds.SUPPLIER, kinds.MEMBER))
    collected = Collected(ordered)
    settings = collected.single.get("settings")
    if settings is None and ("settings", "") not in collected.file_of:
        collected.problems.append(_no_settings(shown_as))
    stated = None if fixed else demo_day(ordered)
    catalogue = collected.catalogue(settings or Settings.model_validate(_STAND_IN), stated or today)
    named, problems = by_their_names(collected.references, collected.problems, catalogue)
    return replace(catalogue, demo=stated is not None, references=named), problems


def require(catalogue: Catalogue | None, problems: list[Problem]) -> Catalogue:
    """The catalogue, or all faults raised together.

    Raises:
        HandbookError: where any problem is an error.
    """
    errors = [p for p in problems if p.severity.value == "error"]
    if errors or catalogue is None:
        raise HandbookError(problems)
    return catalogue
