"""A price list kept as CSV (RFC 4180): one offer a row, the same checks as in YAML.

Columns: ``chemical,form,pack,count,price,assay,in_stock,note``; the date is the file's name, the source is stated in
the supplier's record. Empty cells are left out. Each cell is read with its place, which the csv module does not tell.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from reckoner.loading.source import Parsed, place_in
from reckoner.problems import Location, Problem, closest
from reckoner.records.catalogue import Path, Places, Tree

NEEDED = ("chemical", "form", "pack", "price")
ALLOWED = (*NEEDED, "count", "assay", "in_stock", "note")
_QUOTING = "wrong quoting (put quotes round a whole cell, and double a quote inside it)"
#: One cell of RFC 4180: quoted with doubled quotes inside, or bare without any.
_CELL = re.compile(r'"[^"]*(?:""[^"]*)*"|[^",\r\n]*')
_ROW_END = re.compile(r"\r\n?|\n")


@dataclass(frozen=True)
class _Cell:
    text: str
    at: Location


def parse_csv(text: str, file: str, date: str) -> Parsed:
    """Read a CSV price list into the tree that a YAML list would give."""
    top = Location(file)
    rows = _rows(text, file)
    if isinstance(rows, Problem):
        return Parsed(None, Places(top), (rows,))
    if not rows:
        return Parsed(None, Places(top), (Problem(top, "the file is empty (write a header row and offers)"),))
    problems = _header_faults(rows[0])
    if problems:
        return Parsed(None, Places(top), tuple(problems))
    return _offers(rows[1:], [cell.text.strip() for cell in rows[0]], top, date)


def _rows(text: str, file: str) -> list[list[_Cell]] | Problem:
    """All rows that hold anything, cell by cell."""
    rows: list[list[_Cell]] = [[]]
    at, line, begins = 0, 1, 0
    while True:
        found = _CELL.match(text, at)
        assert found is not None, "an empty cell always matches"
        raw = found[0]
        value = raw[1:-1].replace('""', '"') if raw.startswith('"') else raw
        rows[-1].append(_Cell(value, Location(file, line, at - begins + 1)))
        for end in _ROW_END.finditer(raw):
            line, begins = line + 1, at + end.end()
        at = found.end()
        if at == len(text):
            return [row for row in rows if any(cell.text.strip() for cell in row)]
        row_end = _ROW_END.match(text, at)
        if row_end and row_end[0] == "\r" and "\n" in text:
            what = "a bare carriage return (delete it, or quote the cell where it belongs to a text)"
            return Problem(place_in(text, at, file), what)
        if row_end:
            rows.append([])
            at = begins = row_end.end()
            line += 1
        elif text[at] == ",":
            at += 1
        else:
            return Problem(place_in(text, at, file), _QUOTING)


def _header_faults(row: list[_Cell]) -> list[Problem]:
    names = [cell.text.strip() for cell in row]
    separator = re.search(r"[;\t|]", names[0])
    if separator and len(row) == 1:
        what = "no commas between the columns (save the table with commas; quote cells that hold one)"
        return [Problem(row[0].at, what)]
    problems = []
    for index, (cell, name) in enumerate(zip(row, names, strict=True)):
        if name not in ALLOWED:
            guess = closest(name, ALLOWED)
            hint = f"did you mean '{guess}'?" if guess else "the columns are " + ", ".join(ALLOWED)
            problems.append(Problem(cell.at, f"unknown column '{name}' ({hint})"))
        elif name in names[:index]:
            problems.append(Problem(cell.at, f"column '{name}' stands twice (keep one of them)"))
    for name in NEEDED:
        if name not in names:
            problems.append(Problem(row[0].at, f"column '{name}' is missing (add it to the header row)"))
    return problems


def _offers(rows: list[list[_Cell]], header: list[str], top: Location, date: str) -> Parsed:
    values: dict[Path, Location] = {(): top, ("offers",): top, ("date",): top}
    problems: list[Problem] = []
    offers: list[Tree] = []
    for row in rows:
        if len(row) != len(header):
            hint = "quote cells that hold commas" if len(row) > len(header) else "write a comma for each empty cell"
            what = f"{len(row)} cells where the header has {len(header)} ({hint})"
            problems.append(Problem(row[0].at, what))
            continue
        index = len(offers)
        values["offers", index] = row[0].at
        for name, cell in zip(header, row, strict=True):
            values["offers", index, name] = cell.at
        offers.append({name: cell.text for name, cell in zip(header, row, strict=True) if cell.text.strip()})
    tree: Tree = {"date": date, "offers": offers}
    return Parsed(tree, Places(top, values), tuple(problems))
