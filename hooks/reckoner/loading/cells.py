"""Cells of a table, from a text file or a workbook, and what a workbook's values are as text."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from reckoner.problems import Location, Problem, ValueFault

#: More decimals than these come from a formula, never from an author.
_MOST_DECIMALS = 9
_MOST_DIGITS = 15
TIME = "the cell holds the time {} (write a day as 2026-11-09, a figure or a text)"


@dataclass(frozen=True)
class Cell:
    """A cell with its place.

    Attributes:
        number: the workbook holds a figure, so that no locale asks what its signs mean.
        fault: why it cannot be read; the text is empty then.
    """

    text: str
    at: Location
    number: bool = False
    fault: str = ""

    @property
    def holds(self) -> bool:
        """Whether anything is in it."""
        return bool(self.text.strip() or self.fault)


Rows = list[list[Cell]]
#: Why a file has no rows.
Refused = tuple[Problem, ...]


def column_name(column: int) -> str:
    """Letters of a column, counted from 1.

    >>> column_name(3), column_name(28)
    ('C', 'AB')
    """
    letters = ""
    while column:
        column, letter = divmod(column - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return letters


def place(file: str, sheet: str, row: int, column: int) -> Location:
    """Where a cell of a workbook stands; row and column count from 1."""
    return Location(file, row, column, f"sheet '{sheet}', cell {column_name(column)}{row}")


def number_text(value: float, unit: str = "") -> str:
    """A workbook's figure as an author would write it, with the unit that its format shows.

    Raises:
        ValueFault: a figure that only a formula can have left.

    >>> number_text(12.5), number_text(500.0, "g"), number_text(0.995, "%")
    ('12.5', '500 g', '99.5 %')
    """
    # The shortest text that is the same binary figure: what was typed, where anything was.
    number = Decimal(repr(value))
    if not number.is_finite() or number.adjusted() >= _MOST_DIGITS:
        raise ValueFault(f"the figure {number.normalize():f} is too large (check it)")
    plain = f"{number:f}".rstrip("0").rstrip(".") if "." in f"{number:f}" else f"{number:f}"
    if len(plain.partition(".")[2]) > _MOST_DECIMALS:
        raise ValueFault(f"{plain} has more than {_MOST_DECIMALS} decimals (round it in the sheet, as =ROUND(A1;2))")
    if "%" in unit:
        plain = f"{(Decimal(plain) * 100).normalize():f}"
    return f"{plain} {unit}".rstrip()


def value_text(value: object, unit: str = "") -> str:
    """A value of a workbook as text: a flag as ``yes`` or ``no``, a day as ``2026-11-09``.

    Raises:
        ValueFault: a time of day, or a figure as ``number_text``.
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return number_text(value, unit)
    if isinstance(value, datetime) and not (value.hour or value.minute or value.second or value.microsecond):
        return value.date().isoformat()
    if isinstance(value, str) or type(value) is date:
        return str(value)
    raise ValueFault(TIME.format(value))
