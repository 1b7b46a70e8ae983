"""A table that the site gives away as CSV, with what a reader's program must know of each column."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.outputs.csv_out import to_csv


@dataclass(frozen=True)
class Column:
    """One column.

    Attributes:
        type: as Table Schema names it: ``string``, ``integer``, ``number`` or ``date``.
        unit: of every cell, as ``mL``; empty where there is none or another column tells it.
        currency: of every cell, as an ISO 4217 code; empty as with the unit.
        required: no cell of it is empty.
    """

    name: str
    type: str
    description: str
    unit: str = ""
    currency: str = ""
    required: bool = False


@dataclass(frozen=True)
class Table:
    """Rows of cells below their columns; an empty cell is a value that is not there.

    Attributes:
        path: in the site's folder ``data/``.
    """

    path: str
    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def csv(self) -> str:
        """The text of the CSV file, headings first."""
        return to_csv(([column.name for column in self.columns], *self.rows))
