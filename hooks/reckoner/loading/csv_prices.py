"""A price list kept as CSV (RFC 4180): one offer a row, the same checks as in YAML.

Columns: ``chemical,form,pack,count,price,assay,in_stock,note``; the date is the file's name, the source is stated in
the supplier's record. Empty cells are left out.
"""

from __future__ import annotations

import csv
import io

from reckoner.loading.source import Parsed, Tree
from reckoner.problems import Location, Problem, closest
from reckoner.records.catalogue import Path, Places

NEEDED = ("chemical", "form", "pack", "price")
ALLOWED = (*NEEDED, "count", "assay", "in_stock", "note")
_QUOTING = "wrong quoting (put quotes round a whole cell, and double a quote inside it)"


def parse_csv(text: str, file: str, date: str) -> Parsed:
    """Read a CSV price list into the tree that a YAML list would give."""
    top = Location(file)
    if not text.strip():
        return Parsed(None, Places(top), (Problem(top, "the file is empty (write a header row and offers)"),))
    fault = _quoting_fault(text, file)
    if fault:
        return Parsed(None, Places(top), (fault,))
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows: list[tuple[int, list[str]]] = []
    begins = 1
    for row in reader:
        rows.append((begins, row))
        begins = reader.line_num + 1
    header, problems = _header(rows[0][1], file)
    if problems:
        return Parsed(None, Places(top), tuple(problems))
    return _offers(rows[1:], header, file, date)


def _quoting_fault(text: str, file: str) -> Problem | None:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    begins = 1
    try:
        for row in reader:
            if any('"' in cell and len(row) == 1 for cell in row):
                return Problem(Location(file, begins), _QUOTING)
            begins = reader.line_num + 1
    except csv.Error:
        return Problem(Location(file, begins), _QUOTING)
    for number, line in enumerate(text.splitlines(), 1):
        # A quote that opens inside a cell is read as text by the csv module; RFC 4180 does not allow it.
        for column, cell in _bare_cells(line):
            if '"' in cell:
                return Problem(Location(file, number, column + cell.index('"')), _QUOTING)
    return None


def _bare_cells(line: str) -> list[tuple[int, str]]:
    if line.count('"') % 2 or line.lstrip().startswith('"') or ',"' in line:
        return []
    cells, column = [], 1
    for cell in line.split(","):
        cells.append((column, cell))
        column += len(cell) + 1
    return cells


def _header(row: list[str], file: str) -> tuple[list[str], list[Problem]]:
    names = [cell.strip() for cell in row]
    problems = []
    column = 1
    for cell, name in zip(row, names, strict=True):
        if name not in ALLOWED:
            guess = closest(name, ALLOWED)
            hint = f"did you mean '{guess}'?" if guess else "the columns are " + ", ".join(ALLOWED)
            problems.append(Problem(Location(file, 1, column), f"unknown column '{name}' ({hint})"))
        elif names.count(name) > 1 and names.index(name) < row.index(cell):
            problems.append(Problem(Location(file, 1, column), f"column '{name}' stands twice (keep one of them)"))
        column += len(cell) + 1
    for name in NEEDED:
        if name not in names:
            problems.append(Problem(Location(file), f"column '{name}' is missing (add it to the header row)"))
    return names, problems


def _offers(rows: list[tuple[int, list[str]]], header: list[str], file: str, date: str) -> Parsed:
    top = Location(file)
    values: dict[Path, Location] = {(): top, ("offers",): top, ("date",): top}
    problems: list[Problem] = []
    offers: list[Tree] = []
    for line, row in rows:
        if not any(cell.strip() for cell in row):
            continue
        if len(row) != len(header):
            what = f"{len(row)} cells where the header has {len(header)} (quote cells that hold commas)"
            problems.append(Problem(Location(file, line), what))
            continue
        index, column, offer = len(offers), 1, {}
        values["offers", index] = Location(file, line)
        for name, cell in zip(header, row, strict=True):
            values["offers", index, name] = Location(file, line, column)
            if cell.strip():
                offer[name] = cell
            column += len(cell) + 1
        offers.append(dict(offer))
    tree: Tree = {"date": date, "offers": offers}
    return Parsed(tree, Places(top, values), tuple(problems))
