"""A price list kept as CSV (RFC 4180): one offer a row, the same checks as in YAML.

Columns: ``chemical,form,pack,count,price,assay,in_stock,note``; the date is the file's name, the source is stated in
the supplier's record. Empty cells are left out.
"""

from __future__ import annotations

import csv
import io
import re

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


#: One cell of RFC 4180: quoted with doubled quotes inside, or bare without any.
_CELL = re.compile(r'"(?:[^"]|"")*"|[^",\r\n]*')


def _quoting_fault(text: str, file: str) -> Problem | None:
    """The csv module reads a quote inside a bare cell as text; RFC 4180 does not allow it, so the cells are walked."""
    at = 0
    while at < len(text):
        cell = _CELL.match(text, at)
        assert cell is not None, "an empty cell always matches"
        at = cell.end()
        if at < len(text) and text[at] not in ",\r\n":
            line = text.count("\n", 0, at) + 1
            return Problem(Location(file, line, at - text.rfind("\n", 0, at)), _QUOTING)
        at += 1
    return None


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
