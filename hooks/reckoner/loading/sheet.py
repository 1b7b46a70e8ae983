"""One sheet of a workbook while it is read: its cells by place, within what a table of an author can need."""

from __future__ import annotations

from dataclasses import dataclass, field

from reckoner.loading.cells import Cell, Rows, column_name, place, value_text
from reckoner.problems import Location, Problem, ValueFault

#: What is told of a cell whose formula has failed, and of one that nobody has worked out.
FAILED = "the cell shows {} (mend its formula, or write the value)"
NO_RESULT = "the formula has no result yet (open the file and save it, or write the value)"
#: More than any list of prices has; without a bound, a cell that is repeated fills the memory.
MAX_ROWS, MAX_COLUMNS, MAX_CELLS = 10_000, 200, 100_000


class UnreadableError(Exception):
    """A workbook from which no table can be had, for these reasons."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


@dataclass
class Sheet:
    """A visible sheet.

    Attributes:
        name: as its tab says.
        merged: the first cell of each merged range, and the range in words, as ``C7:C9``.
    """

    file: str
    name: str
    cells: dict[tuple[int, int], Cell] = field(default_factory=dict)
    merged: dict[tuple[int, int], str] = field(default_factory=dict)

    def put(self, row: int, column: int, value: object, unit: str = "") -> None:
        """Keep what a cell holds; row and column count from 1."""
        try:
            text, fault = value_text(value, unit), ""
        except ValueFault as told:
            text, fault = "", str(told)
        number = isinstance(value, int | float) and not isinstance(value, bool)
        self._keep(row, column, Cell(text, self.place(row, column), number, fault))

    def refuse(self, row: int, column: int, fault: str) -> None:
        """Keep why a cell cannot be read."""
        self._keep(row, column, Cell("", self.place(row, column), fault=fault))

    def _keep(self, row: int, column: int, cell: Cell) -> None:
        if not cell.holds:
            return
        if row > MAX_ROWS or column > MAX_COLUMNS or len(self.cells) >= MAX_CELLS:
            most = f"{MAX_ROWS} rows, {MAX_COLUMNS} columns or {MAX_CELLS} cells"
            message = f"the sheet holds more than {most} (keep the table alone in it, or make two lists of it)"
            raise UnreadableError(Problem(cell.at, message))
        self.cells[row, column] = cell

    def place(self, row: int, column: int) -> Location:
        """Where a cell stands."""
        return place(self.file, self.name, row, column)

    def merge(self, row: int, column: int, last_row: int, last_column: int) -> None:
        """Note a merged range: which of its rows a value belongs to, nobody can tell."""
        named = f"{column_name(column)}{row}:{column_name(last_column)}{last_row}"
        self.merged[row, column] = named

    def rows(self) -> Rows:
        """Rows and columns that hold anything, each row with as many cells as the others.

        Raises:
            UnreadableError: merged cells.
        """
        if self.merged:
            raise UnreadableError(
                *(
                    Problem(self.place(*at), f"{named} are merged (unmerge them, and write each row's value in it)")
                    for at, named in self.merged.items()
                )
            )
        columns = sorted({column for _, column in self.cells})
        return [
            [self.cells.get((row, column)) or Cell("", self.place(row, column)) for column in columns]
            for row in sorted({row for row, _ in self.cells})
        ]
