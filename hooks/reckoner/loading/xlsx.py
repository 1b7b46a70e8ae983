"""Sheets of an ``.xlsx`` workbook, through openpyxl, which the extra ``spreadsheets`` installs.

It opens the file for reading only, which passes over pictures, comments and charts and so over what can be wrong
with them. What it does not tell then, merged cells and formulas that nobody has worked out, is read beside it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from typing import IO, Any
from xml.etree import ElementTree

from reckoner.loading.sheet import FAILED, NO_RESULT, Sheet, UnreadableError
from reckoner.problems import Location, Problem

#: No sheet has more, whatever its file says.
_LAST_ROW, _LAST_COLUMN = 1_048_576, 16_384
_MERGED = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7}):\$?([A-Z]{1,3})\$?(\d{1,7})\Z")
#: Parts of a number format: texts in quotes or behind a backslash, a currency, what is no text, and any other sign.
_FORMAT = re.compile(
    r'"(?P<quoted>[^"]*)"|\\(?P<escaped>.)|\[\$(?P<currency>[^\]-]*)[^\]]*\]'
    r"|\[[^\]]*\]|[_*].|General|[0#?.,/@]+|E[+-]|(?P<end>;)|(?P<sign>.)",
    re.IGNORECASE | re.DOTALL,
)


def sheets(raw: bytes, file: str) -> Iterator[Sheet]:
    """Every visible sheet.

    Raises:
        UnreadableError: openpyxl is not there, or a sheet is too large.
    """
    try:
        from openpyxl import load_workbook
    except ImportError:
        message = (
            "what reads .xlsx is not installed (run pip install 'formula-handbook[spreadsheets]', or save the table as"
            " .ods or .csv)"
        )
        raise UnreadableError(Problem(Location(file), message)) from None
    book = load_workbook(BytesIO(raw), read_only=True, data_only=True, keep_links=False)
    yield from (_sheet(source, file) for source in book.worksheets if source.sheet_state == "visible")


def _sheet(source: Any, file: str) -> Sheet:
    sheet = Sheet(file, source.title)
    # openpyxl has no public name for the part of a sheet.
    with source.parent._archive.open(source._worksheet_path) as part:
        _add_untold(part, sheet)
    # Some programs write too small a size, and what is outside would be passed over.
    source.reset_dimensions()
    for number, row in enumerate(source.iter_rows(), start=1):
        for cell in row:
            if cell.value is None:
                continue
            if cell.data_type == "e":
                sheet.refuse(cell.row, cell.column, FAILED.format(cell.value))
            else:
                sheet.put(cell.row, cell.column, cell.value, _unit(cell.number_format) if cell.data_type == "n" else "")
        if number > _LAST_ROW:
            raise ValueError("a row that no sheet has")
    return sheet


def _add_untold(part: IO[bytes], sheet: Sheet) -> None:
    cells = 0
    for _, element in ElementTree.iterparse(part):
        name = element.tag.rpartition("}")[2]
        cells = {"c": cells + 1, "row": 0}.get(name, cells)
        if cells > _LAST_COLUMN:
            raise ValueError("a column that no sheet has")
        merged = _MERGED.match(element.get("ref", "")) if name == "mergeCell" else None
        if merged:
            sheet.merge(int(merged[2]), _column(merged[1]), int(merged[4]), _column(merged[3]))
        if name == "c":
            at = re.fullmatch(r"([A-Z]{1,3})(\d{1,7})", element.get("r", ""))
            held = {child.tag.rpartition("}")[2]: child.text for child in element}
            # A formula that has given an empty text says that it is one.
            if at and "f" in held and not held.get("v") and element.get("t") != "str":
                sheet.refuse(int(at[2]), _column(at[1]), NO_RESULT)
        if name in ("c", "row"):
            element.clear()


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def _unit(number_format: str) -> str:
    """What a format of positive figures shows beside them: a currency, a unit, a percent sign.

    >>> _unit('#,##0.00 [$€-407]'), _unit('0" g"'), _unit("0.0%"), _unit("General")
    ('€', 'g', '%', '')
    """
    shown = ""
    for part in _FORMAT.finditer(number_format):
        if part["end"]:
            break
        shown += part["quoted"] or part["escaped"] or part["currency"] or part["sign"] or ""
    return " ".join(shown.split())
