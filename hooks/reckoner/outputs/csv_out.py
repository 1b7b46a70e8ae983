"""Tables for a spreadsheet: RFC 4180, and no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

#: What a cell may not begin with: a spreadsheet takes it for a formula, or drops it and looks at what follows.
RUNS = ("=", "+", "-", "@", "\t", "\r")


def guarded(text: str) -> str:
    """A cell's text with an apostrophe before it where a spreadsheet would run it.

    >>> guarded("=1+1")
    "'=1+1"
    >>> guarded("1 kg")
    '1 kg'
    """
    return f"'{text}" if text.startswith(RUNS) else text


def to_csv(rows: Iterable[Iterable[str]]) -> str:
    """Rows of cells, a header among them where there is one, as the text of a CSV file with CRLF at every row's end.

    >>> to_csv([["pack", "price"], ["2 x 500 g", "8,90"]])
    'pack,price\\r\\n2 x 500 g,"8,90"\\r\\n'
    """
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([guarded(cell) for cell in row] for row in rows)
    return out.getvalue()
