"""A price list kept as a table, CSV (RFC 4180) or a workbook: one offer a row, the same checks as in YAML.

Columns: ``chemical,form,pack,count,price,assay,in_stock,private,note``; the date is the file's name, the source
is in the supplier's record. Empty cells are left out. A supplier's own export needs no editing where its record says
how to read it: ``csv_columns`` gives its headings, ``csv_words`` what its cells say, ``csv_locale`` how it writes
figures, and allows semicolons between cells. Each cell is read with its place, which the csv module does not tell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from reckoner.loading.cells import Cell, Refused, Rows
from reckoner.loading.csv_cells import Dialect, in_our_words
from reckoner.loading.source import Parsed, place_in
from reckoner.problems import Location, Problem, closest
from reckoner.records.catalogue import Path, Places, Tree

NEEDED = ("chemical", "form", "pack", "price")
ALLOWED = (*NEEDED, "count", "assay", "in_stock", "private", "note")
IGNORE = "ignore"
_QUOTING = "wrong quoting (put quotes round a whole cell, and double a quote inside it)"
#: One cell of RFC 4180: quoted with doubled quotes inside, or bare without any; by what parts the cells.
_CELLS = {mark: re.compile(rf'"[^"]*(?:""[^"]*)*"|[^"{mark}\r\n]*') for mark in ",;"}
_MARKS = {",": "comma", ";": "semicolon"}
_ROW_END = re.compile(r"\r\n?|\n")


def parse_csv(text: str, file: str, date: str, dialect: Dialect) -> Parsed:
    """Read a CSV price list into the tree that a YAML list would give, with the place of each cell."""
    mark = _mark(text, dialect)
    return parse_rows(_rows(text, file, mark), file, date, dialect, mark)


def parse_rows(rows: Rows | Refused, file: str, date: str, dialect: Dialect, mark: str = "") -> Parsed:
    """As ``parse_csv``, for rows that have been read; ``mark``: what parts the cells of a text, none in a workbook."""
    top = Location(file)
    if isinstance(rows, tuple):
        return Parsed(None, Places(top), rows)
    if not rows:
        return Parsed(None, Places(top), (Problem(top, "the file is empty (write a header row and offers)"),))
    headings = [" ".join(cell.text.split()) for cell in rows[0]]
    unknown = IGNORE if dialect.ignore_others else ""
    theirs = {name.casefold(): ours for name, ours in dialect.columns.items()}
    header = [dialect.columns.get(name) or theirs.get(name.casefold()) or _ours(name) or unknown for name in headings]
    written = _not_parted(rows[0], dialect) if mark else None
    problems = [written] if written else list(_header_faults(rows[0], headings, header, dialect))
    if problems:
        return Parsed(None, Places(top), tuple(problems))
    offers, values, problems = _offers(rows[1:], header, dialect, mark)
    values |= {(): top, ("offers",): top, ("date",): top}
    return Parsed({"date": date, "offers": offers}, Places(top, values), tuple(problems))


def _ours(heading: str) -> str:
    """Our column of a heading, however a spreadsheet writes it: ``In stock`` is ``in_stock``; empty for another."""
    name = heading.casefold().replace(" ", "_")
    return name if name in ALLOWED else ""


def csv_rows(text: str, file: str) -> Rows | Refused:
    """All rows of a table that hold anything, or why it cannot be read; semicolons where its header row has them."""
    header = _ROW_END.split(text.lstrip(), maxsplit=1)[0]
    return _rows(text, file, ";" if ";" in header and "," not in header else ",")


def _mark(text: str, dialect: Dialect) -> str:
    """What parts the cells: a semicolon where the supplier's tables may have it and the header row does."""
    header = _ROW_END.split(text.lstrip(), maxsplit=1)[0]
    return ";" if dialect.semicolons and ";" in re.sub('"[^"]*"', "", header) else ","


def _rows(text: str, file: str, mark: str) -> Rows | Refused:
    """All rows that hold anything, cell by cell."""
    rows: Rows = [[]]
    at, line, begins = 0, 1, 0
    while True:
        match = _CELLS[mark].match(text, at)
        assert match is not None, "an empty cell always matches"
        raw = match[0]
        value = raw[1:-1].replace('""', '"') if raw.startswith('"') else raw
        rows[-1].append(Cell(value, Location(file, line, at - begins + 1)))
        for end in _ROW_END.finditer(raw):
            line, begins = line + 1, at + end.end()
        at = match.end()
        if at == len(text):
            return [row for row in rows if any(cell.holds for cell in row)]
        row_end = _ROW_END.match(text, at)
        if row_end and row_end[0] == "\r" and "\n" in text:
            message = "a bare carriage return (delete it, or quote the cell where it belongs to a text)"
            return (Problem(place_in(text, at, file), message),)
        if row_end:
            rows.append([])
            at = begins = row_end.end()
            line += 1
        elif text[at] == mark:
            at += 1
        else:
            return (Problem(place_in(text, at, file), _QUOTING),)


def _not_parted(row: list[Cell], dialect: Dialect) -> Problem | None:
    """A header row of a text whose columns something else parts."""
    if not dialect.semicolons and sum(cell.text.count(";") for cell in row) >= len(row):
        message = "semicolons part the columns (write csv_locale in this supplier's supplier.yml, as csv_locale: de_DE)"
        return Problem(row[0].at, message)
    if re.search(r"[;\t|]", row[0].text) and len(row) == 1:
        message = "no commas between the columns (save the table with commas; quote cells that hold one)"
        return Problem(row[0].at, message)
    return None


def _header_faults(row: list[Cell], headings: list[str], header: list[str], dialect: Dialect) -> Iterator[Problem]:
    for index, (cell, heading, name) in enumerate(zip(row, headings, header, strict=True)):
        if cell.fault:
            yield Problem(cell.at, cell.fault)
        elif not heading and not name:
            yield Problem(cell.at, "no heading stands over this column (write one)")
        elif not name:
            yield Problem(cell.at, f"unknown column '{heading}' ({_hint(heading, dialect)})")
        elif name in header[:index] and name != IGNORE:
            yield Problem(cell.at, f"column '{name}' stands twice (keep one of them)")
    needed = dict.fromkeys(NEEDED)
    if dialect.ignore_others:
        # Where others are left out, a heading that has changed would be, too.
        for theirs, ours in dialect.columns.items():
            if theirs.casefold() not in {heading.casefold() for heading in headings} and ours != IGNORE:
                yield Problem(row[0].at, f"column '{theirs}' is missing (mend csv_columns in supplier.yml)")
                needed.pop(ours, None)
    for name in needed:
        if name not in header:
            yield Problem(row[0].at, f"column '{name}' is missing (add it to the header row)")


def _hint(heading: str, dialect: Dialect) -> str:
    guess = closest(heading, [*dialect.columns, *ALLOWED])
    meant = f"did you mean '{guess}'?" if guess else ""
    if dialect.columns:
        add = "add it to csv_columns in supplier.yml, or write csv_other_columns: ignore there"
        return f"{meant} Else {add}" if meant else add
    return meant or "the columns are " + ", ".join(ALLOWED)


def _offers(
    rows: Rows, header: list[str], dialect: Dialect, mark: str
) -> tuple[Tree, dict[Path, Location], list[Problem]]:
    values: dict[Path, Location] = {}
    problems: list[Problem] = []
    offers: list[Tree] = []
    for row in rows:
        if len(row) != len(header):
            problems.append(Problem(row[0].at, _wrong_count(len(row), len(header), _MARKS[mark])))
            continue
        cells = {name: cell for name, cell in zip(header, row, strict=True) if name != IGNORE}
        unread = [Problem(cell.at, cell.fault) for cell in cells.values() if cell.fault]
        if unread:
            problems += unread
            continue
        numbers = frozenset(name for name, cell in cells.items() if cell.number)
        words, faults = in_our_words({name: cell.text for name, cell in cells.items()}, dialect, numbers)
        problems += [Problem(cells[name].at, fault) for name, fault in faults.items()]
        at = ("offers", len(offers))
        values |= {at: row[0].at, (*at, "count"): cells["pack"].at}
        values |= {(*at, name): cell.at for name, cell in cells.items()}
        offers.append({name: text for name, text in words.items() if text.strip()})
    return offers, values, problems


def _wrong_count(cells: int, columns: int, mark: str) -> str:
    hint = f"quote cells that hold {mark}s" if cells > columns else f"write a {mark} for each empty cell"
    return f"{cells} cells where the header has {columns} ({hint})"
