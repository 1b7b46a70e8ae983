"""Sheets of an ``.ods`` workbook: the tables of its ``content.xml``, by OpenDocument 1.3, part 3, section 9.

What is needed of it is these few elements; the libraries for it are no longer kept, or forty times as large. A formula
without a value has given an empty text: LibreOffice writes it so, and works out each formula before it saves.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from io import BytesIO
from itertools import product
from xml.etree.ElementTree import Element, iterparse
from zipfile import ZipFile

from reckoner.loading.cells import TIME
from reckoner.loading.sheet import FAILED, Sheet

_NAMES = "{urn:oasis:names:tc:opendocument:xmlns:"
OFFICE, STYLE = f"{_NAMES}office:1.0}}", f"{_NAMES}style:1.0}}"
TABLE, TEXT = f"{_NAMES}table:1.0}}", f"{_NAMES}text:1.0}}"
_CELLS = {f"{TABLE}table-cell", f"{TABLE}covered-table-cell"}
_ERROR = re.compile(r"(?:#[A-Z/0]+[!?]?|Err:\d+)\Z")
#: A figure as it is shown, in any locale: what is left beside it is its unit.
_FIGURE = re.compile(r"[\d.,'’/\s+-]+(?:E[+-]?\d+)?")
#: More spaces than these in a row are no author's.
_MOST_SPACES = 100


def sheets(raw: bytes, file: str) -> Iterator[Sheet]:
    """Every visible sheet.

    Raises:
        UnreadableError: a sheet is too large.
    """
    hidden: set[str | None] = set()
    sheet: Sheet | None = None
    row = 1
    parents: list[str] = []
    with ZipFile(BytesIO(raw)) as archive, archive.open("content.xml") as content:
        for event, element in iterparse(content, ("start", "end")):
            if event == "end":
                parents.pop()
            # Not the tables of other documents that a sheet is linked with.
            is_sheet = element.tag == f"{TABLE}table" and parents[-1:] == [f"{OFFICE}spreadsheet"]
            if event == "start":
                parents.append(element.tag)
                if is_sheet and element.get(f"{TABLE}style-name") not in hidden:
                    sheet, row = Sheet(file, element.get(f"{TABLE}name", "")), 1
            elif element.tag == f"{STYLE}style" and _hides(element):
                hidden.add(element.get(f"{STYLE}name"))
            elif element.tag == f"{TABLE}table-row":
                if sheet:
                    row = _add_row(element, row, sheet)
                element.clear()
            elif is_sheet and sheet:
                yield sheet
                sheet = None


def _hides(style: Element) -> bool:
    shown = [part.get(f"{TABLE}display") for part in style.iter(f"{STYLE}table-properties")]
    return style.get(f"{STYLE}family") == "table" and "false" in shown


def _add_row(element: Element, row: int, sheet: Sheet) -> int:
    """Put a row, as often as it says, and return the number of the next."""
    rows = int(element.get(f"{TABLE}number-rows-repeated", "1"))
    column = 1
    for cell in element:
        if cell.tag not in _CELLS:
            continue
        columns = int(cell.get(f"{TABLE}number-columns-repeated", "1"))
        _add(cell, row, column, sheet)
        if (row, column) in sheet.cells:
            for down, along in product(range(rows), range(columns)):
                _add(cell, row + down, column + along, sheet)
        spans = [int(cell.get(f"{TABLE}number-{side}-spanned", "1")) for side in ("rows", "columns")]
        if spans != [1, 1]:
            sheet.merge(row, column, row + spans[0] - 1, column + spans[1] - 1)
        column += columns
    return row + rows


def _add(cell: Element, row: int, column: int, sheet: Sheet) -> None:
    kind = cell.get(f"{OFFICE}value-type")
    shown = "\n".join("".join(_text(part)) for part in cell if part.tag == f"{TEXT}p")
    if cell.get(f"{TABLE}formula") and _ERROR.match(shown):
        sheet.refuse(row, column, FAILED.format(shown))
    elif kind == "float" and shown.isalpha():
        # LibreOffice keeps a flag that a formula has given as a figure shown as a word.
        sheet.put(row, column, float(cell.get(f"{OFFICE}value", "")) != 0)
    elif kind in ("float", "percentage", "currency"):
        unit = cell.get(f"{OFFICE}currency") or ("%" if kind == "percentage" else _FIGURE.sub(" ", shown).strip())
        sheet.put(row, column, float(cell.get(f"{OFFICE}value", "")), unit)
    elif kind == "boolean":
        sheet.put(row, column, cell.get(f"{OFFICE}boolean-value") == "true")
    elif kind == "date":
        sheet.put(row, column, datetime.fromisoformat(cell.get(f"{OFFICE}date-value", "")))
    elif kind == "time":
        sheet.refuse(row, column, TIME.format(shown))
    else:
        sheet.put(row, column, shown or cell.get(f"{OFFICE}string-value", ""))


def _text(element: Element) -> Iterator[str]:
    yield element.text or ""
    for part in element:
        if part.tag == f"{TEXT}s":
            yield " " * min(int(part.get(f"{TEXT}c", "1")), _MOST_SPACES)
        elif part.tag in (f"{TEXT}tab", f"{TEXT}line-break"):
            yield " "
        else:
            yield from _text(part)
        yield part.tail or ""
