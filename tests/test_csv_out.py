"""CSV for spreadsheets: read back by the csv module it is what was written, and no cell runs."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from payloads import SPREADSHEET
from reckoner.outputs.csv_out import guarded, to_csv

#: Each way a cell can begin so that a spreadsheet runs it, with what it would then do or say.
RUN = ["=1+1", '=HYPERLINK("https://example.org";"x")', "+44 20", "-1.5", "@SUM(A1)", "\t=1+1", "\r=1+1"]
PLAIN = ["", "1 kg", "8.90 EUR", "'quoted'", " =1+1", "a=b", "–5 °C", "a-b", '"', "a,b", "two\nlines", "a\r\nb"]


def read(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("cell", [*RUN, *(text for text in SPREADSHEET if not text.startswith('"'))])
def test_what_would_run_is_guarded(cell: str) -> None:
    assert guarded(cell) == "'" + cell
    assert read(to_csv([[cell]])) == [["'" + cell]]


@pytest.mark.parametrize("cell", PLAIN)
def test_other_cells_stay_as_they_are(cell: str) -> None:
    assert guarded(cell) == cell
    assert read(to_csv([["first", cell]])) == [["first", cell]]


def test_rows_end_with_crlf_and_quotes_are_doubled() -> None:
    assert to_csv([["a", "b"], ['say "x"', "1,5"]]) == 'a,b\r\n"say ""x""","1,5"\r\n'


@given(st.lists(st.lists(st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0")), min_size=2)))
def test_every_table_reads_back_and_nothing_in_it_runs(rows: list[list[str]]) -> None:
    back = read(to_csv(rows))
    assert len(back) == len(rows)
    for cells, row in zip(back, rows, strict=True):
        assert [cell.removeprefix("'") if cell != text else cell for cell, text in zip(cells, row, strict=True)] == row
        assert not any(cell[:1] in {"=", "+", "-", "@", "\t", "\r"} for cell in cells if cell)
