"""Price lists and formulas from ``.xlsx`` and ``.ods``: the same as from CSV, and every fault with its cell."""

from __future__ import annotations

import csv
import re
import shutil
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import pytest

from bad_input import VALID
from handbook_command.command import main
from reckoner.calc.results import work_out
from reckoner.loading import sheet
from reckoner.loading.catalogue import build_catalogue
from reckoner.loading.layers import read_layers
from reckoner.loading.source import MAX_BYTES
from reckoner.loading.table import formulas_from_table
from reckoner.loading.workbook import workbook_rows
from reckoner.outputs.data_files import data_files
from reckoner.pages.kinds import pages
from reckoner.problems import HandbookError
from reckoner.records.catalogue import Catalogue
from reckoner.records.prices import Offer
from site_build import ROOT
from small import load, supplier
from test_csv_prices import COLUMNS, RATES, SALT
from test_from_table import HEAD, ROW
from workbooks import Formula, Rows, Shown, Value, edited, ods, packed, xlsx

Capture = pytest.CaptureFixture[str]
Writer = Callable[..., bytes]
WRITERS = [pytest.param(xlsx, "xlsx", id="xlsx"), pytest.param(ods, "ods", id="ods")]
pytestmark = pytest.mark.usefixtures("fixed_day")
both = pytest.mark.parametrize(("write", "ending"), WRITERS)
GOOD: list[Value] = ["salt", "solid", "1 kg", 8.9]
OURS: list[Value] = ["chemical", "form", "pack", "price"]
PLACE = "formulas/prices/one/2026-11-01"


def listed(raw: bytes, ending: str, more: str = "", rates: str = RATES) -> tuple[Offer, ...]:
    """The offers of one workbook of a supplier whose record ends with ``more``."""
    files: dict[str, str | bytes] = {
        "chemicals/salt.yml": SALT,
        "exchange_rates.yml": rates,
        f"prices/one/2026-11-01.{ending}": raw,
        "prices/one/supplier.yml": supplier() + more,
    }
    return load(files).price_lists[0].prices.offers


def told(raw: bytes, ending: str, more: str = "") -> list[str]:
    """The faults of one workbook, the place of its folder left out."""
    with pytest.raises(HandbookError) as error:
        listed(raw, ending, more)
    return [line.removeprefix(f"{PLACE}.{ending}:") for line in str(error.value).splitlines()]


def catalogue_of(folder: Path) -> Catalogue:
    files, problems = read_layers(folder, "formulas")
    catalogue, faults = build_catalogue(files, date(2026, 11, 25))
    assert problems + faults == []
    # Where things stand differs, and nothing else may.
    lists = tuple(replace(prices, file=prices.file.rpartition(".")[0]) for prices in catalogue.price_lists)
    return replace(catalogue, places={}, price_lists=lists)


def given_away(catalogue: Catalogue) -> list[str]:
    """Every page and every data file of a handbook."""
    found = work_out(catalogue)
    return [page.markdown for page in pages(found)] + [text for _, text in data_files(found)]


def typed(cell: str) -> Value:
    """A cell as somebody would type it into a spreadsheet."""
    price = re.fullmatch(r"(\d+\.\d+) ([A-Z]{3})", cell)
    if price:
        return Shown(float(price[1]), f'#,##0.00" {price[2]}"', cell, price[2])
    if re.fullmatch(r"\d+", cell):
        return int(cell)
    return cell == "yes" if cell in ("yes", "no") else cell or None


def texts(*cells: Value) -> str:
    return "".join(
        f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>' for text in cells
    )


def in_workbooks(folder: Path, write: Writer, ending: str) -> None:
    """Each CSV price list of a folder becomes a workbook."""
    tables = sorted(folder.glob("prices/*/*.csv"))
    assert tables
    for table in tables:
        rows: Rows = [[typed(cell) for cell in row] for row in csv.reader(table.read_text("utf-8-sig").splitlines())]
        table.with_suffix(f".{ending}").write_bytes(write({"Prices": rows}))
        table.unlink()


@both
def test_the_demonstration_s_prices_give_the_same_catalogue(write: Writer, ending: str, tmp_path: Path) -> None:
    folder = tmp_path / "formulas"
    shutil.copytree(ROOT / "formulas", folder)
    before = repr(catalogue_of(folder))
    in_workbooks(folder, write, ending)
    # Compared before it is asserted: the difference of such texts takes a minute to show.
    same = repr(catalogue_of(folder)) == before
    assert same


@both
def test_the_same_prices_give_the_same_pages_and_files(write: Writer, ending: str, tmp_path: Path) -> None:
    folder = tmp_path / "formulas"
    shutil.copytree(VALID, folder)
    before = given_away(catalogue_of(folder))
    in_workbooks(folder, write, ending)
    assert given_away(catalogue_of(folder)) == before


@both
def test_a_shop_s_own_workbook_is_read_as_it_is(write: Writer, ending: str) -> None:
    """Figures have no decimal sign to be asked for, texts go by the locale; empty rows and columns hold nothing."""
    rows: Rows = [
        [],
        [None, "ARTIKEL", "Sorte", "Inhalt", "Preis in Euro", "Lagerort", "Gewicht"],
        [None, "salt", "solid", "2 x 500 g", 8.9, Formula("=1/0", "#DIV/0!"), 1.02],
        [],
        [None, "salt", "solid", "2,5kg", "17,50 €", None, None],
        [None, "salt", "solid", Shown(250, '0" g"', "250 g"), Shown(3.2, "[$£-809]#,##0.00", "£3.20", "GBP"), "B", 0],
        [None, "salt", "solid", "3 kg", Formula("=5.5*4", 22), None, None],
    ]
    found = listed(write({"Preise": rows, "Blatt2": []}), ending, f"csv_locale: de_DE\n{COLUMNS}")
    assert [(str(offer.pack), offer.count, str(offer.price)) for offer in found] == [
        ("500 g", 2, "8.90 EUR"),
        ("2.5 kg", 1, "17.50 EUR"),
        ("250 g", 1, "3.20 GBP"),
        ("3 kg", 1, "22.00 EUR"),
    ]


@both
def test_figures_shares_and_flags(write: Writer, ending: str) -> None:
    rows: Rows = [
        [*OURS, "count", "assay", "in_stock", "private", "note"],
        ["salt", "solid", "1 kg", 8.95, 2, "99 % w/w", True, False, "a day"],
        ["salt", "solid", "2 kg", Shown(9.5, "0.00 €", "9.50 €"), None, None, False, "yes", date(2026, 11, 9)],
        ["salt", "solid", "3 kg", 1250, None, None, None, None, datetime(2026, 11, 9)],
        # No locale is asked whether its point parts thousands.
        ["salt", "solid", "4 kg", Shown(1.125, '0.000" KWD"', "1.125 KWD"), None, None, None, None, 2.5],
    ]
    rates = f"rates: [{{base: KWD, quote: EUR, rate: 3, date: 2026-11-01}}]{RATES[RATES.index(chr(10)) :]}"
    first, second, third, fourth = listed(write({"Prices": rows}), ending, rates=rates)
    assert (str(first.price), first.count, first.in_stock, first.private) == ("8.95 EUR", 2, True, False)
    assert first.assay is not None
    assert (first.assay.percent, first.assay.basis) == (99, "w/w")
    assert (str(second.price), second.in_stock, second.private, second.note) == ("9.50 EUR", False, True, "2026-11-09")
    assert (str(third.price), third.note) == ("1250.00 EUR", "2026-11-09")
    assert (str(fourth.price), fourth.note) == ("1.125 KWD", "2.5")


@both
@pytest.mark.parametrize(
    ("column", "value", "said"),
    [
        ("pack", 500, "'500' has no unit (write 500 g or 500 mL)"),
        ("price", Formula("=A1/0", "#DIV/0!"), "the cell shows #DIV/0! (mend its formula, or write the value)"),
        ("count", Formula("=X9", "#REF!"), "the cell shows #REF! (mend its formula, or write the value)"),
        ("assay", Formula("=VLOOKUP(1;A:B;2)", "#N/A"), "the cell shows #N/A (mend its formula, or write the value)"),
        (
            "price",
            1.0000000001,
            "1.0000000001 has more than 9 decimals (round it in the sheet, as =ROUND(A1;2))",
        ),
        ("price", 1e15, "the figure 1000000000000000 is too large (check it)"),
        ("price", True, "'yes' is no price (write number, space and currency code, as 8.90 EUR)"),
        ("price", date(2026, 2, 1), "'2026-02-01' is no price (write number, space and currency code, as 8.90 EUR)"),
        ("price", time(12, 30), "the cell holds the time 12:30:00 (write a day as 2026-11-09, a figure or a text)"),
        (
            "price",
            Shown(9, '"$"0.00', "$9.00"),
            "'$' in '9 $' is the sign of several currencies (write USD, AUD, CAD or NZD)",
        ),
        ("price", "1.250", "'1.250' can mean two things (write 1250 or 1.25, or csv_locale in supplier.yml)"),
        ("count", 2.5, "'2.5' is no whole number above zero (write digits, as 2)"),
        ("assay", Shown(0.995, "0.0%", "99.5%"), "'99.5 %' "),
        ("chemical", "sal", "unknown chemical 'sal' (did you mean 'salt'?)"),
        ("chemical", 4001, "unknown chemical '4001' (write the id of"),
        ("in_stock", 7, "'7' is neither yes nor no (write yes or no)"),
    ],
)
def test_what_is_wrong_is_told_with_its_cell(write: Writer, ending: str, column: str, value: Value, said: str) -> None:
    """The table begins at B3, below an empty row: places are those of the sheet."""
    columns = [*OURS, "count", "assay", "in_stock"]
    good: list[Value] = ["salt", "solid", "1 kg", 8.9, 2, "99 % w/w", True]
    spoilt = [value if name == column else cell for name, cell in zip(columns, good, strict=True)]
    raw = write({"Prices": [[], [], [None, *columns], [None, *good], [], [None, *spoilt]]})
    at = columns.index(column) + 2
    (line,) = told(raw, ending)
    assert line.startswith(f"6:{at}: sheet 'Prices', cell {'ABCDEFGH'[at - 1]}6: {said}")


def test_a_formula_that_nobody_has_worked_out() -> None:
    """Left empty it would say one pack where the sheet shows two."""
    rows: Rows = [[*OURS, "count", "note"], [*GOOD, Formula("=1+1", None), Formula('=""', "")]]
    # An empty result says that it is a text; the writer of the test leaves that out.
    raw = edited(xlsx({"Prices": rows}), "xl/worksheets/sheet1.xml", lambda text: text.replace('"F2"', '"F2" t="str"'))
    assert told(raw, "xlsx") == [
        "2:5: sheet 'Prices', cell E2: the formula has no result yet (open the file and save it, or write the value)"
    ]


def test_what_libreoffice_writes_for_formulas() -> None:
    """As its version 7.4 does: a flag as a figure shown as a word, an empty text without a value, an error in text."""
    head = f"<table:table-row>{texts(*OURS, 'in_stock', 'note', 'assay')}</table:table-row>"
    flag = '<table:table-cell table:formula="of:=1=2" office:value-type="float" office:value="0">{}</table:table-cell>'
    empty = '<table:table-cell table:formula="of:=&quot;&quot;"/>'
    error = (
        '<table:table-cell table:formula="of:=LOG(-1)" office:value-type="string" office:string-value="">'
        "<text:p>Err:502</text:p></table:table-cell>"
    )
    row = f"{texts(*GOOD[:3], '8.90 EUR')}{flag.format('<text:p>FALSE</text:p>')}{empty}"
    table = '<table:table table:name="P">{}<table:table-row>{}</table:table-row></table:table>'
    (offer,) = listed(packed(table.format(head, row)), "ods")
    assert (offer.in_stock, offer.note) == (False, None)
    assert told(packed(table.format(head, row + error)), "ods") == [
        "2:7: sheet 'P', cell G2: the cell shows Err:502 (mend its formula, or write the value)"
    ]


@both
def test_every_fault_at_once(write: Writer, ending: str) -> None:
    rows: Rows = [
        OURS,
        ["salt", "powder", "1 kg", 8.9],
        ["sal", "solid", "500", "8.90 eur"],
        ["salt", "solid", "1 kg", Formula("=1/0", "#DIV/0!")],
    ]
    assert [line.split(": ")[:2] for line in told(write({"Prices": rows}), ending)] == [
        ["2:2", "sheet 'Prices', cell B2"],
        ["3:1", "sheet 'Prices', cell A3"],
        ["3:3", "sheet 'Prices', cell C3"],
        ["3:4", "sheet 'Prices', cell D3"],
        ["4:4", "sheet 'Prices', cell D4"],
    ]


@both
@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([], ["1:1: the file is empty (write a header row and offers)"]),
        (
            [["Prices of November"], OURS, GOOD],
            [
                "1:1: sheet 'Prices', cell A1: column 'chemical' is missing (add it to the header row)",
                "1:1: sheet 'Prices', cell A1: column 'form' is missing (add it to the header row)",
                "1:1: sheet 'Prices', cell A1: column 'pack' is missing (add it to the header row)",
                "1:1: sheet 'Prices', cell A1: column 'price' is missing (add it to the header row)",
                "1:1: sheet 'Prices', cell A1: unknown column 'Prices of November' (",
                "1:2: sheet 'Prices', cell B1: no heading stands over this column (write one)",
                "1:3: sheet 'Prices', cell C1: no heading stands over this column (write one)",
                "1:4: sheet 'Prices', cell D1: no heading stands over this column (write one)",
            ],
        ),
        ([[*OURS, "prise"], [*GOOD, 1]], ["1:5: sheet 'Prices', cell E1: unknown column 'prise' (did you mean"]),
        (
            [[*OURS, Formula("=1/0", "#DIV/0!")], [*GOOD, 1]],
            ["1:5: sheet 'Prices', cell E1: the cell shows #DIV/0! (mend"],
        ),
        ([[*OURS, "price"], [*GOOD, 1]], ["1:5: sheet 'Prices', cell E1: column 'price' stands twice"]),
        ([OURS], ["1:1: "]),
        (
            [OURS, *([GOOD] * 30)],
            ["31:1: sheet 'Prices', cell A31: the sheet holds more than 30 rows, 9 columns or 100000 cells (keep"],
        ),
        (
            [[*OURS, None, None, None, None, None, "far"], GOOD],
            ["1:10: sheet 'Prices', cell J1: the sheet holds more than 30 rows, 9 columns"],
        ),
    ],
    ids=["empty", "title", "misspelt", "error-heading", "twice", "no-offers", "rows", "columns"],
)
def test_tables_that_are_none(
    write: Writer, ending: str, rows: Rows, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sheet, "MAX_ROWS", 30)
    monkeypatch.setattr(sheet, "MAX_COLUMNS", 9)
    lines = told(write({"Prices": rows}), ending)
    assert len(lines) == len(said), lines
    assert all(line.startswith(begin) for line, begin in zip(lines, said, strict=True)), lines


@both
def test_one_sheet_holds_the_table(write: Writer, ending: str) -> None:
    sheets: dict[str, Rows] = {"Prices": [OURS, GOOD], "Notes": [["asked on Monday"]], "Empty": []}
    assert told(write(sheets), ending) == [
        "1:1: 2 sheets hold something: 'Prices', 'Notes' (keep one of them, or hide the others)"
    ]
    assert len(listed(write(sheets, hidden=frozenset({"Notes"})), ending)) == 1


@both
def test_merged_cells(write: Writer, ending: str) -> None:
    """Whether a flag that spans three rows holds for each of them, nobody can tell."""
    rows: Rows = [[*OURS, "private"], *([*GOOD[:2], f"{size} kg", 5, None] for size in (1, 2, 3))]
    assert told(write({"Prices": rows}, merged=((1, 4, 3, 4), (1, 0, 2, 1))), ending) == [
        "2:1: sheet 'Prices', cell A2: A2:B3 are merged (unmerge them, and write each row's value in it)",
        "2:5: sheet 'Prices', cell E2: E2:E4 are merged (unmerge them, and write each row's value in it)",
    ]


def test_each_row_of_a_repeated_one_is_an_offer() -> None:
    head = f"<table:table-row>{texts(*OURS)}</table:table-row>"
    twice = (
        f'<table:table-row table:number-rows-repeated="2">{texts("salt", "solid", "1 kg", "5 EUR")}</table:table-row>'
    )
    assert told(packed(f'<table:table table:name="P">{head}{twice}</table:table>'), "ods") == [
        "3:1: sheet 'P', cell A3: salt, solid, 1 kg stands twice (keep one price for each pack)"
    ]


def test_texts_of_an_ods_cell() -> None:
    """Runs of spaces, line ends and parts in another style belong to the text; remarks on the cell do not."""
    inside = (
        "<office:annotation><text:p>a remark</text:p></office:annotation><text:p>two<text:s text:c='2'/>spaces,"
        "<text:span> bold</text:span><text:line-break/>line</text:p><text:p>next</text:p>"
    )
    head = f"<table:table-row>{texts('Artikel', 'note')}</table:table-row>"
    row = f"<table:table-row><table:table-cell/><table:table-cell>{inside}</table:table-cell></table:table-row>"
    rows = workbook_rows(packed(f'<table:table table:name="P">{head}{row}</table:table>'), "p.ods")
    assert isinstance(rows, list)
    assert rows[1][1].text == "two  spaces, bold line\nnext"


BROKEN = "(open it, and save it anew without a password, or as .csv)"


@both
@pytest.mark.parametrize(
    "spoil",
    [
        lambda raw: b"",
        lambda raw: raw[: len(raw) // 2],
        lambda raw: b"chemical,form,pack,price\n",
        # How a workbook with a password begins, and one of the kind before.
        lambda raw: bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600),
        lambda raw: raw[:200] + bytes(40) + raw[240:],
    ],
    ids=["empty", "half", "text", "locked", "spoilt"],
)
def test_a_broken_file_is_told(write: Writer, ending: str, spoil: Callable[[bytes], bytes]) -> None:
    assert told(spoil(write({"Prices": [OURS, GOOD]})), ending) == [
        f"1:1: the file is no .{ending} that can be read {BROKEN}"
    ]


def test_a_file_of_the_other_kind_is_told() -> None:
    assert told(ods({"P": [OURS, GOOD]}), "xlsx") == [f"1:1: the file is no .xlsx that can be read {BROKEN}"]
    assert told(xlsx({"P": [OURS, GOOD]}), "ods") == [f"1:1: the file is no .ods that can be read {BROKEN}"]


def test_a_size_that_a_program_states_wrongly_cuts_nothing_off() -> None:
    raw = xlsx({"Prices": [OURS, GOOD, ["salt", "solid", "2 kg", 17]]})
    raw = edited(
        raw, "xl/worksheets/sheet1.xml", lambda text: text.replace('<dimension ref="A1:D3"/>', '<dimension ref="A1"/>')
    )
    assert len(listed(raw, "xlsx")) == 2


def test_without_its_reader_an_xlsx_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    assert told(xlsx({"Prices": [OURS, GOOD]}), "xlsx") == [
        "1:1: what reads .xlsx is not installed (run pip install 'formula-handbook[spreadsheets]', or save the table as"
        " .ods or .csv)"
    ]
    assert len(listed(ods({"Prices": [OURS, GOOD]}), "ods")) == 1


@both
def test_the_table_waits_for_a_supplier_with_faults(write: Writer, ending: str) -> None:
    (line,) = told(write({"Preise": [["Artikel"]]}), ending, "csv_locale: xx_XX\n")
    assert "csv_locale" not in line.split(":")[0]
    assert "is no locale that is known" in line


@both
def test_a_folder_of_files(write: Writer, ending: str, tmp_path: Path, capsys: Capture) -> None:
    """Strays are told; the file that stands beside a workbook while it is open is none."""
    folder = tmp_path / "formulas"
    shutil.copytree(VALID, folder)
    two = folder / "prices" / "two"
    raw = write({"Prices": [OURS, ["sodium-sulfite", "anhydrous", "500 g", "5.20 GBP"]]})
    (two / f"2026-11-09.{ending}").write_bytes(raw)
    (two / f"~$2026-11-09.{ending}").write_bytes(b"owner")
    assert main(["check", str(folder)]) == 0, capsys.readouterr().out
    assert main(["check", str(two / f"2026-11-09.{ending}"), str(folder)]) == 0
    assert "a price table, in order" in capsys.readouterr().out
    (two / f"november.{ending}").write_bytes(raw)
    (two / f"2026-11-10.{ending.upper()}").write_bytes(raw)
    (two / "2026-11-11.xls").write_bytes(raw)
    (two / f"2026-11-12.{ending}").write_bytes(bytes(MAX_BYTES + 1))
    (two / "2026-11-09.csv").write_text("chemical,form,pack,price\nsodium-sulfite,anhydrous,1 kg,9 GBP\n", "utf-8")
    assert main(["check", str(folder)]) == 1
    lines = [line.removeprefix("formulas/prices/two/") for line in capsys.readouterr().out.splitlines()]
    assert lines[:5] == [
        f"2026-11-09.{ending}:1:1: formulas/prices/two/2026-11-09.csv is of the same supplier and day (join the two"
        " lists, or mend a date)",
        f"2026-11-10.{ending.upper()}:1:1: data files end in .{ending} (rename it to 2026-11-10.{ending})",
        "2026-11-11.xls:1:1: no workbook of this kind is read (save it as .xlsx, .ods or .csv)",
        f"2026-11-12.{ending}:1:1: the file has {MAX_BYTES + 1} bytes (keep a data file under {MAX_BYTES})",
        f"november.{ending}:1:1: no data file belongs here (see the layout of formulas/ in the README)",
    ]


@both
def test_formulas_from_a_workbook(write: Writer, ending: str, tmp_path: Path, capsys: Capture) -> None:
    """A day may be a cell that holds one; the files are those of the same table as CSV."""
    cells: list[Value] = [date(2026, 11, 20) if cell == "2026-11-20" else cell for cell in ROW.split(",")]
    head: list[Value] = [*HEAD.split(",")]
    table = tmp_path / f"ours.{ending}"
    table.write_bytes(write({"Formulas": [head, cells]}))
    assert main(["from-table", str(table), str(tmp_path / "out")]) == 0, capsys.readouterr().out
    assert (tmp_path / "out" / "mine.yml").read_text("utf-8") == formulas_from_table(f"{HEAD}\n{ROW}", "t.csv").files[
        "mine"
    ]
    cells[head.index("amount")] = Formula("=1/0", "#DIV/0!")
    other = list(cells)
    other[head.index("id")], other[head.index("amount")] = "other", "2 gr"
    done = formulas_from_table(write({"Formulas": [head, cells, other]}), f"t.{ending}")
    assert [str(problem).split(" (")[0] for problem in done.problems] == [
        f"t.{ending}:2:8: sheet 'Formulas', cell H2: the cell shows #DIV/0!",
        f"t.{ending}:3:8: sheet 'Formulas', cell H3: unit 'gr' in '2 gr' is not clear",
    ]
