"""A spreadsheet of formulas, workbook or CSV, to formula files: one row an ingredient, the formula's own cells once.

Columns are the keys of a formula, and ``chemical``, ``form``, ``uses_formula`` (another formula that goes in),
``amount``, ``as_published``, ``note``, ``optional`` of an ingredient; a key inside another is written with a point, as
``source.certainty``. Texts of a list are parted by ``|``. Rows below one another with the same id, or with none, are
one formula. Nothing is guessed: cells go into the tree as they stand, and the same reading that judges a YAML file
judges them, with the place of each cell.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, get_origin

from reckoner.loading.cells import Cell
from reckoner.loading.csv_prices import csv_rows
from reckoner.loading.references import references
from reckoner.loading.source import Parsed
from reckoner.loading.structure import tree_to_record
from reckoner.loading.workbook import workbook_rows
from reckoner.loading.writing import to_yaml
from reckoner.problems import Location, Problem, closest
from reckoner.records.catalogue import Path, Places, Reference
from reckoner.records.formula import Formula, Ingredient
from reckoner.records.record import Record, record_in

LINE = ("chemical", "form", "formula", "amount", "as_published", "note", "optional")
_PARTED = "|"


@dataclass
class _Draft:
    """One formula while its rows are read; ``unread``: a cell of it is told, and the rest cannot be judged."""

    at: Location
    tree: dict[str, Any] = field(default_factory=dict)
    values: dict[Path, Location] = field(default_factory=dict)
    unread: bool = False


@dataclass(frozen=True)
class Converted:
    """Formula files by id, what is wrong, and what they name; there are files only where nothing is wrong."""

    files: dict[str, str]
    problems: tuple[Problem, ...]
    references: tuple[Reference, ...] = ()


def formulas_from_table(content: str | bytes, file: str) -> Converted:
    """Read a table; every fault with the place of its cell.

    Args:
        content: CSV (RFC 4180) with a header row, or a workbook.
        file: how messages name it.
    """
    rows = workbook_rows(content, file) if isinstance(content, bytes) else csv_rows(content, file)
    if isinstance(rows, tuple):
        return Converted({}, rows)
    if len(rows) < 2:
        return Converted({}, (Problem(Location(file), "no rows (write a header row, and a row for each ingredient)"),))
    header = [cell.text.strip() for cell in rows[0]]
    problems = list(_header_faults(rows[0], header))
    if problems:
        return Converted({}, tuple(problems))
    drafts = list(_drafts(rows[1:], header, problems))
    files: dict[str, str] = {}
    named: list[Reference] = []
    for draft in (draft for draft in drafts if not draft.unread):
        if not draft.tree["ingredients"]:
            del draft.tree["ingredients"]
        places = Places(draft.at, draft.values)
        _, faults = tree_to_record(draft.tree, places, Formula)
        named += references(Parsed(draft.tree, places, ()))
        problems += faults
        name = str(draft.tree.get("id", ""))
        if name in files:
            message = f"id '{name}' stands in another part of the table (put its rows below one another)"
            problems.append(Problem(draft.at, message))
        files[name] = to_yaml(_in_order(draft.tree))
    return Converted({} if problems else files, tuple(sorted(problems)), tuple(named))


def _in_order(tree: dict[str, Any]) -> dict[str, Any]:
    """The keys as they stand in the record: what it is comes before what is in it."""
    order = list(Formula.by_key())
    return dict(sorted(tree.items(), key=lambda item: order.index(item[0]) if item[0] in order else len(order)))


def columns() -> list[str]:
    """Every column that a table may have."""
    return [*(name for name in LINE if name != "formula"), "uses_formula", *_keys_of(Formula)]


def _keys_of(kind: type[Record], begin: str = "") -> list[str]:
    keys = []
    for key, entry in kind.by_key().items():
        inner = record_in(entry.annotation)
        if inner is None:
            keys.append(f"{begin}{key}")
        elif get_origin(entry.annotation) is not tuple:
            keys += _keys_of(inner, f"{key}.")
    return keys


def _header_faults(row: list[Cell], header: list[str]) -> Iterator[Problem]:
    known = columns()
    for index, (cell, name) in enumerate(zip(row, header, strict=True)):
        if cell.fault:
            yield Problem(cell.at, cell.fault)
        elif name not in known:
            guess = closest(name, known)
            hint = f"did you mean '{guess}'?" if guess else "the columns are the keys of a formula and of its lines"
            yield Problem(cell.at, f"unknown column '{name}' ({hint})")
        elif name in header[:index]:
            yield Problem(cell.at, f"column '{name}' stands twice (keep one of them)")
    if "id" not in header:
        yield Problem(row[0].at, "column 'id' is missing (add it to the header row)")


def _drafts(rows: list[list[Cell]], header: list[str], problems: list[Problem]) -> Iterator[_Draft]:
    draft: _Draft | None = None
    for row in rows:
        if len(row) != len(header):
            message = f"{len(row)} cells where the header has {len(header)} (quote cells that hold commas)"
            problems.append(Problem(row[0].at, message))
            continue
        cells = {name: cell for name, cell in zip(header, row, strict=True) if cell.text.strip()}
        named = cells.get("id")
        if draft is None or (named and named.text.strip() != draft.tree.get("id")):
            if draft:
                yield draft
            draft = _Draft(row[0].at, {"ingredients": []}, {("ingredients",): row[0].at})
        unread = [Problem(cell.at, cell.fault) for cell in row if cell.fault]
        problems += unread
        draft.unread = draft.unread or bool(unread)
        _fill(draft, cells, problems)
    if draft:
        yield draft


def _fill(draft: _Draft, cells: dict[str, Cell], problems: list[Problem]) -> None:
    line = {name: cell for name, cell in cells.items() if name in LINE or name == "uses_formula"}
    for name, cell in cells.items():
        if name not in line:
            _put(draft, name, cell, problems)
    if line:
        at = ("ingredients", len(draft.tree["ingredients"]))
        keys = {"formula" if name == "uses_formula" else name: cell for name, cell in line.items()}
        draft.values[at] = next(iter(line.values())).at
        draft.values.update({(*at, key): cell.at for key, cell in keys.items()})
        draft.tree["ingredients"].append({key: cell.text.strip() for key, cell in keys.items()})


def _put(draft: _Draft, name: str, cell: Cell, problems: list[Problem]) -> None:
    """A cell of the formula itself; where it stands again it must say the same."""
    *outer, key = name.split(".")
    tree: dict[str, Any] = draft.tree
    for step in outer:
        tree = tree.setdefault(step, {})
        draft.values.setdefault(tuple(outer), cell.at)
    listed = not outer and get_origin(Formula.by_key()[key].annotation) is tuple
    value: Any = [item.strip() for item in cell.text.split(_PARTED)] if listed else cell.text.strip()
    path = (*outer, key)
    if key in tree and tree[key] != value:
        first = draft.values[path].line
        problems.append(Problem(cell.at, f"'{name}' differs from line {first} of the same formula (write it once)"))
        return
    tree[key] = value
    draft.values.setdefault(path, cell.at)
    if listed:
        draft.values.update({(*path, index): cell.at for index in range(len(value))})


assert set(LINE) <= set(Ingredient.by_key())
