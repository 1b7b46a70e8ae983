"""Texts of data files to one catalogue, with every fault of every file."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path as FilePath
from typing import Any

from reckoner.loading import kinds
from reckoner.loading.csv_cells import PLAIN, Dialect, dialect_of
from reckoner.loading.csv_prices import parse_csv
from reckoner.loading.demo_day import demo_day
from reckoner.loading.files import DataFile
from reckoner.loading.layers import read_layers
from reckoner.loading.references import references
from reckoner.loading.source import Parsed, parse_yaml
from reckoner.loading.structure import to_record
from reckoner.problems import HandbookError, Location, Problem
from reckoner.records.catalogue import Catalogue, ListedPrices, Places, Reference, Tree
from reckoner.records.settings import FORMAT, NO_CURRENCY, AgeLimits, Settings
from reckoner.records.values import Record, is_id

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
    other = _other_format(files)
    if other is not None:
        return None, [other]
    catalogue, faults = build_catalogue(files, today, shown_as, fixed)
    return catalogue, problems + faults


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
    # A supplier's record says how to read its tables, so it goes before them.
    ordered = sorted(files, key=lambda file: file.kind is not kinds.SUPPLIER)
    shelf = _Shelf(frozenset((file.kind.name, file.stem) for file in ordered if file.kind.has_id))
    for file in ordered:
        shelf.add(file)
    settings = shelf.single.get("settings")
    if settings is None and ("settings", "") not in shelf.file_of:
        shelf.problems.append(Problem(Location(f"{shown_as}/settings.yml"), "the file is missing (add settings.yml)"))
    stated = None if fixed else demo_day(ordered)
    catalogue = shelf.catalogue(settings or Settings.model_validate(_STAND_IN), stated or today)
    return replace(catalogue, demo=stated is not None), shelf.problems


#: Kinds of file that name other records by id.
REFERRING = (
    kinds.FORMULA,
    kinds.PROCESS,
    kinds.KIT,
    kinds.PLAN,
    kinds.SHELF,
    kinds.PRICE_LIST,
    kinds.PRICE_TABLE,
    kinds.LOOK_ALIKES,
    kinds.INCOMPATIBILITIES,
    kinds.CAUTIONS,
)


class _Shelf:
    """Collects records file by file; frozen into a catalogue at the end. ``held``: kind and name of all its files."""

    def __init__(self, held: frozenset[tuple[str, str]]) -> None:
        self.held = held
        self.problems: list[Problem] = []
        self.single: dict[str, Any] = {}
        self.by_id: dict[str, dict[str, Any]] = {
            "chemical": {},
            "formula": {},
            "process": {},
            "kit": {},
            "plan": {},
            "supplier": {},
        }
        self.dialects: dict[str, Dialect | None] = {}
        self.lists: list[ListedPrices] = []
        self.places: dict[str, Places] = {}
        self.references: list[Reference] = []
        self.file_of: dict[tuple[str, str], str] = {}

    def add(self, file: DataFile) -> None:
        if file.kind.has_id:
            # A record that cannot be read still holds its id, so that references to it are no second fault.
            self.file_of.setdefault((file.kind.name, file.stem), file.name)
        elif file.kind is kinds.SUPPLIER:
            self.file_of["supplier", file.folder] = file.name
        elif file.kind not in (kinds.PRICE_LIST, kinds.PRICE_TABLE):
            self.file_of[file.kind.name, ""] = file.name
        if file.text is None:
            return
        parsed = _parse(file, self.dialects.get(file.folder, PLAIN))
        record, problems = to_record(parsed, file.kind.record)
        self.problems.extend(problems)
        self.places[file.name] = parsed.places
        if file.kind is kinds.SUPPLIER:
            self.dialects[file.folder] = dialect_of(parsed.tree, record)
        if record is None and file.kind in REFERRING:
            self.references.extend(references(parsed))
        if file.kind.has_id:
            self._identify(file, parsed, record)
        elif record is not None:
            self._keep(file, parsed, record)

    def _identify(self, file: DataFile, parsed: Parsed, record: Record | None) -> None:
        kind = file.kind.name
        record_id = parsed.tree.get("id") if isinstance(parsed.tree, dict) else None
        if not isinstance(record_id, str):
            return
        # As the record reads it: quoted spaces round an id are no part of it.
        record_id = record_id.strip()
        if record_id != file.stem and is_id(record_id):
            taken = (kind, record_id) in self.held
            rename = f"another file is named {record_id}" if taken else "or rename the file"
            hint = f"write id: {file.stem}, {rename}" if is_id(file.stem) else f"rename it to {record_id}.yml"
            message = f"id '{record_id}' differs from the file's name ({hint})"
            self.problems.append(Problem(parsed.places.at("id"), message))
            if taken:
                # Else the file that was read first would be the record, and what names it seem at fault.
                return
        if record_id in self.by_id[kind]:
            other = self.file_of[kind, record_id]
            message = f"id '{record_id}' is also the id of {other} (give one of them another id and file name)"
            self.problems.append(Problem(parsed.places.at("id"), message))
            return
        self.file_of[kind, record_id] = file.name
        # A record with faults is kept as None: never used, but known to be there.
        self.by_id[kind][record_id] = record

    def _keep(self, file: DataFile, parsed: Parsed, record: Record) -> None:
        if file.kind is kinds.SUPPLIER:
            self.by_id["supplier"][file.folder] = record
        elif file.kind in (kinds.PRICE_LIST, kinds.PRICE_TABLE):
            self.lists.append(ListedPrices(file.folder, file.name, record))  # type: ignore[arg-type]
            self._check_date(file, parsed, record)
        else:
            self.single[file.kind.name] = record

    def _check_date(self, file: DataFile, parsed: Parsed, record: Any) -> None:
        if record.date.isoformat() != file.stem:
            message = f"date {record.date} differs from the file's name (write date: {file.stem}, or rename the file)"
            self.problems.append(Problem(parsed.places.at("date"), message))

    def catalogue(self, settings: Any, today: date) -> Catalogue:
        return Catalogue(
            settings=settings,
            chemicals=_sorted(self.by_id["chemical"]),
            formulas=_sorted(self.by_id["formula"]),
            processes=_sorted(self.by_id["process"]),
            kits=_sorted(self.by_id["kit"]),
            plans=_sorted(self.by_id["plan"]),
            shelf=self.single.get("shelf"),
            suppliers=_sorted(self.by_id["supplier"]),
            price_lists=tuple(
                sorted(
                    self.lists, key=lambda price_list: (price_list.supplier, price_list.prices.date, price_list.file)
                )
            ),
            exchange_rates=self.single.get("exchange_rates"),
            film_formats=self.single.get("film_formats"),
            look_alikes=self.single.get("look_alikes"),
            incompatibilities=self.single.get("incompatibilities"),
            cautions=self.single.get("cautions"),
            control_tests=self.single.get("control_tests"),
            phrases=self.single.get("hazard_phrases"),
            places=self.places,
            file_of=self.file_of,
            today=today,
            references=tuple(self.references),
        )


def _sorted(records: dict[str, Any]) -> dict[str, Any]:
    return {record_id: records[record_id] for record_id in sorted(records) if records[record_id] is not None}


def _parse(file: DataFile, dialect: Dialect | None) -> Parsed:
    text = file.text or ""
    if file.kind is kinds.PRICE_TABLE:
        if dialect is None:
            # How to read it stands in a record with faults: those are told, and the table waits.
            return Parsed(None, Places(Location(file.name)), ())
        return parse_csv(text, file.name, file.stem, dialect)
    return parse_yaml(text, file.name)


def require(catalogue: Catalogue | None, problems: list[Problem]) -> Catalogue:
    """The catalogue, or all faults raised together.

    Raises:
        HandbookError: where any problem is an error.
    """
    errors = [p for p in problems if p.severity.value == "error"]
    if errors or catalogue is None:
        raise HandbookError(problems)
    return catalogue
