"""Workbooks for tests: ``.xlsx`` by a writer that shares no code with the reader, ``.ods`` element by element."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import xlsxwriter


@dataclass(frozen=True)
class Shown:
    """A figure in a format: ``xlsx`` in the words of one, and what is seen, which ``.ods`` keeps beside the figure."""

    value: float
    xlsx: str
    seen: str
    currency: str = ""


@dataclass(frozen=True)
class Formula:
    """A formula and what it has given; None where nobody has worked it out."""

    text: str
    gave: str | float | None


Value = str | float | bool | date | time | Shown | Formula | None
Rows = list[list[Value]]
#: Sheets by name.
Sheets = Mapping[str, Rows]
#: Corners of a merged range, row and column from 0.
Merged = tuple[int, int, int, int]
NAMES = "urn:oasis:names:tc:opendocument:xmlns"


MANIFEST = f"""<?xml version="1.0" encoding="UTF-8"?><m:manifest xmlns:m="{NAMES}:manifest:1.0" m:version="1.3">
<m:file-entry m:full-path="/" m:media-type="application/vnd.oasis.opendocument.spreadsheet"/>
<m:file-entry m:full-path="content.xml" m:media-type="text/xml"/></m:manifest>"""
#: What is written for a formula that has no result, and taken out again: the writer always gives one.
UNWORKED = "not worked out"


def xlsx(sheets: Sheets, hidden: frozenset[str] = frozenset(), merged: tuple[Merged, ...] = ()) -> bytes:
    """A workbook; its first sheet has the merged ranges."""
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        for index, (name, rows) in enumerate(sheets.items()):
            sheet = book.add_worksheet(name)
            for corners in merged if index == 0 else ():
                sheet.merge_range(*corners, "")
            for row, cells in enumerate(rows):
                for column, value in enumerate(cells):
                    _write(book, sheet, row, column, value)
            if name in hidden:
                sheet.hide()
    unworked = rf' t="str"(><f>[^<]*</f>)<v>{UNWORKED}</v>'
    return edited(out.getvalue(), "xl/worksheets/sheet1.xml", lambda text: re.sub(unworked, r"\1", text))


def _write(book: Any, sheet: Any, row: int, column: int, value: Value) -> None:
    if isinstance(value, Shown):
        sheet.write_number(row, column, value.value, book.add_format({"num_format": value.xlsx}))
    elif isinstance(value, Formula):
        sheet.write_formula(row, column, value.text, None, UNWORKED if value.gave is None else value.gave)
    elif isinstance(value, date | time):
        shown = "hh:mm" if isinstance(value, time) else "yyyy-mm-dd"
        sheet.write_datetime(row, column, value, book.add_format({"num_format": shown}))
    elif isinstance(value, bool):
        sheet.write_boolean(row, column, value)
    elif isinstance(value, str):
        sheet.write_string(row, column, value)
    elif value is not None:
        sheet.write_number(row, column, value)


def edited(raw: bytes, part: str, edit: Callable[[str], str]) -> bytes:
    """A workbook with one of its parts written anew."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            new.writestr(name, edit(content.decode("utf-8")) if name == part else content)
    return out.getvalue()


def ods(sheets: Sheets, hidden: frozenset[str] = frozenset(), merged: tuple[Merged, ...] = ()) -> bytes:
    """A workbook; its first sheet has the merged ranges."""
    tables = ""
    for index, (name, rows) in enumerate(sheets.items()):
        spans = {(top, left): (down - top + 1, right - left + 1) for top, left, down, right in merged if index == 0}
        body = "".join(
            f"<table:table-row>{''.join(_cell(value, spans.get((row, column))) for column, value in enumerate(cells))}"
            # As programs write it: all the rest of the row at once.
            '<table:table-cell table:number-columns-repeated="16000"/></table:table-row>'
            for row, cells in enumerate(rows)
        )
        rest = (
            '<table:table-row table:number-rows-repeated="1048000"><table:table-cell'
            ' table:number-columns-repeated="16384"/></table:table-row>'
        )
        style = "off" if name in hidden else "on"
        tables += f"<table:table table:name={quoteattr(name)} table:style-name='{style}'>{body}{rest}</table:table>"
    return packed(tables)


def packed(tables: str) -> bytes:
    """A workbook of the elements of its tables."""
    styles = "".join(
        f'<style:style style:name="{name}" style:family="table"><style:table-properties table:display="{shown}"/>'
        "</style:style>"
        for name, shown in (("on", "true"), ("off", "false"))
    )
    names = " ".join(f'xmlns:{name}="{NAMES}:{name}:1.0"' for name in ("office", "style", "table", "text"))
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {names} office:version="1.3">'
        f"<office:automatic-styles>{styles}</office:automatic-styles>"
        f"<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet", zipfile.ZIP_STORED)
        archive.writestr("content.xml", content)
        archive.writestr("META-INF/manifest.xml", MANIFEST)
    return out.getvalue()


def _cell(value: Value, span: tuple[int, int] | None) -> str:
    formula = f" table:formula={quoteattr('of:' + value.text)}" if isinstance(value, Formula) else ""
    held = value.gave if isinstance(value, Formula) else value
    attributes, seen = _held(held)
    spanned = f' table:number-rows-spanned="{span[0]}" table:number-columns-spanned="{span[1]}"' if span else ""
    return f"<table:table-cell{formula}{spanned}{attributes}>{seen}</table:table-cell>"


def _held(value: Value) -> tuple[str, str]:
    """Attributes of a cell and the text in it."""
    if value is None:
        return "", ""
    kinds = {bool: ("boolean", "boolean-value"), datetime: ("date", "date-value"), date: ("date", "date-value")}
    kinds |= {int: ("float", "value"), float: ("float", "value"), time: ("time", "time-value")}
    if isinstance(value, str):
        return ' office:value-type="string"', f"<text:p>{escape(value)}</text:p>"
    if isinstance(value, Shown):
        kind = "currency" if value.currency else "percentage" if "%" in value.seen else "float"
        of = f' office:currency="{value.currency}"' if value.currency else ""
        return f' office:value-type="{kind}"{of} office:value="{value.value!r}"', f"<text:p>{value.seen}</text:p>"
    assert not isinstance(value, Formula)
    kind, name = kinds[type(value)]
    written = str(value).lower() if isinstance(value, bool) else str(value)
    if isinstance(value, time):
        written = f"PT{value.hour}H{value.minute}M"
    return f' office:value-type="{kind}" office:{name}="{written}"', f"<text:p>{value}</text:p>"
