"""A spreadsheet of formulas becomes a file for each, or is told what is wrong with which cell."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

import pytest

from data_layers import LIBRARY
from handbook_command.command import main
from reckoner.loading.source import parse_yaml
from reckoner.loading.structure import to_record
from reckoner.loading.table import columns, formulas_from_table
from reckoner.records.formula import Formula
from small import SETTINGS

Capture = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("fixed_day")
PAGE = (LIBRARY / "pages" / "from-a-spreadsheet.md").read_text("utf-8")
HEAD = "id,name,purpose,strength,makes,chemical,form,amount,cautions,disposal,source.certainty,source.checked"
ROW = "mine,Mine,fixer,working,1 L,borax,decahydrate,2 g,Gloves.,general,common practice,2026-11-20"
#: Manufacturer formula booklets, from memory: id, chemical, form, amounts for 32 US fl oz or as stated and for a litre
#: or as stated, step of the metric column.
PAIRS = [
    ("G1", "metol", "sulfate", "29 grain", "2 g", "0.1"),
    ("G2", "sodium-sulfite", "anhydrous", "3 oz_avdp 145 grain", "100 g", "1"),
    ("G3", "hydroquinone", "crystals", "73 grain", "5 g", "0.1"),
    ("G4", "metol", "sulfate", "1/4 oz_avdp", "7.5 g", "0.1"),
    ("G5", "metol", "sulfate", "45 grain", "3.1 g", "0.1"),
    ("G6", "sodium-sulfite", "anhydrous", "1 1/2 oz_avdp", "45 g", "1"),
    ("G7", "hydroquinone", "crystals", "175 grain", "12 g", "0.1"),
    ("G8", "sodium-carbonate", "anhydrous", "2 1/4 oz_avdp", "67.5 g", "0.5"),
    ("G9", "potassium-bromide", "anhydrous", "27 grain", "1.9 g", "0.1"),
    ("G10", "sodium-thiosulfate", "pentahydrate", "8 oz_avdp", "240 g", "1"),
    ("G11", "sodium-sulfite", "anhydrous", "1/2 oz_avdp", "15 g", "0.1"),
    ("G12", "boric-acid", "crystals", "1/4 oz_avdp", "7.5 g", "0.1"),
    ("G13", "sodium-sulfite", "anhydrous", "145 grain", "10 g", "0.1"),
    ("G14", "sodium-bisulfite", "solid", "365 grain", "25 g", "0.1"),
]


def test_the_example_on_the_page_works(tmp_path: Path, capsys: Capture) -> None:
    """As the page says: converted, judged, and put in."""
    table = re.search(r"```csv\n(.*?)```", PAGE, re.DOTALL)
    assert table
    (tmp_path / "formulas.csv").write_text(table[1], "utf-8")
    assert main(["from-table", str(tmp_path / "formulas.csv"), str(tmp_path / "converted")]) == 0
    file = tmp_path / "converted" / "film-developer-mq.yml"
    assert capsys.readouterr().out == f"{file}\n"
    assert main(["check", str(file)]) == 0, capsys.readouterr().out
    assert "put it at formulas/solutions/film-developer-mq.yml" in capsys.readouterr().out
    assert main(["from-table", str(tmp_path / "formulas.csv"), str(tmp_path / "converted")]) == 1
    assert "is there already" in capsys.readouterr().out


def test_published_pairs_as_a_members_formula() -> None:
    """Amounts for 32 US fl oz beside those for a litre: the same within a step or two of the printed metric ones."""
    head = "id,name,purpose,strength,makes,published_for,chemical,form,amount,as_published,cautions,disposal,"
    rest = "source.certainty,source.citation,source.checked"
    first = "Gloves.,general,from memory,A maker's booklet,2026-11-20"
    rows = [
        f"pairs,Pairs,fixer,stock,1 L,32 US_fl_oz,{c},{form},{metric},{old},{first if not number else ',,,,'}"
        for number, (_, c, form, old, metric, _) in enumerate(PAIRS)
    ]
    done = formulas_from_table("\n".join([head + rest, *rows]), "t.csv")
    assert done.problems == ()
    record, problems = to_record(parse_yaml(done.files["pairs"], "pairs.yml"), Formula)
    assert problems == ()
    assert record is not None
    assert record.published_for is not None
    assert len(record.ingredients) == len(PAIRS)
    for item, (name, *_, step) in zip(record.ingredients, PAIRS, strict=True):
        assert item.as_published is not None
        litre = sum(part.base for part in item.as_published) / record.published_for.base * 1000
        assert abs(litre - item.amount.base) <= Decimal(step), name


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("", ["t.csv:1:1: no rows (write a header row, and a row for each ingredient)"]),
        (HEAD, ["t.csv:1:1: no rows (write a header row, and a row for each ingredient)"]),
        ("id;colour\nx;y", ["t.csv:1:4: unknown column 'colour'"]),
        (f"{HEAD},colour\n{ROW},red", ["t.csv:1:103: unknown column 'colour'"]),
        (
            f"{HEAD}\n{ROW.replace('2 g', '2 gr')}",
            ["t.csv:2:47: unit 'gr' in '2 gr' is not clear (write grain for 64.8 mg"],
        ),
        (f"{HEAD}\n{ROW.replace('2 g', '')}", ["t.csv:2:29: key 'amount' is missing"]),
        (
            f"{HEAD}\n{ROW.replace('fixer', 'fixr')}",
            ["t.csv:2:11: 'fixr' is not a choice here (did you mean 'fixer'?)"],
        ),
        (f"{HEAD}\n{ROW.replace('mine', '../mine')}", ["t.csv:2:1: '../mine' is no id"]),
        (f"{HEAD}\n{ROW},x", ["t.csv:2:1: 13 cells where the header has 12"]),
        (f"{HEAD}\n{ROW.replace('Mine', chr(34) + 'Mine')}", ["t.csv:2:6: wrong quoting"]),
        (
            f"{HEAD}\n{ROW}\n{ROW.replace('1 L', '2 L')}",
            ["t.csv:3:25: 'makes' differs from line 2 of the same formula"],
        ),
        (f"{HEAD}\n{ROW}\n{ROW.replace('mine', 'b')}\n{ROW}", ["t.csv:4:1: id 'mine' stands in another part"]),
    ],
)
def test_what_is_wrong_is_told_with_its_cell(table: str, said: list[str]) -> None:
    done = formulas_from_table(table, "t.csv")
    assert done.files == {}
    lines = [str(problem) for problem in done.problems]
    assert len(lines) == len(said), lines
    assert all(line.startswith(begin) for line, begin in zip(lines, said, strict=True)), lines


def test_a_table_as_spreadsheets_save_it(tmp_path: Path, capsys: Capture) -> None:
    """With semicolons and a byte-order mark; what a formula is stands in the file before what is in it."""
    table = tmp_path / "ours.csv"
    table.write_text(f"{HEAD}\n{ROW}\n".replace(",", ";"), "utf-8-sig")
    assert main(["from-table", str(table), str(tmp_path / "out")]) == 0, capsys.readouterr().out
    keys = [line.split(":")[0] for line in (tmp_path / "out" / "mine.yml").read_text("utf-8").splitlines()]
    assert keys[:3] == ["id", "name", "purpose"]


def test_a_folder_that_cannot_be_one_is_said(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "ours.csv").write_text(f"{HEAD}\n{ROW}\n", "utf-8")
    (tmp_path / "out").write_text("a file", "utf-8")
    assert main(["from-table", str(tmp_path / "ours.csv"), str(tmp_path / "out")]) == 1
    assert capsys.readouterr().out == f"{tmp_path / 'out'} cannot be written: File exists (name another folder)\n"


def test_columns_are_the_keys_of_the_records() -> None:
    assert {"id", "chemical", "uses_formula", "source.checked", "ph.value", "adjust.to_ph", "mixing"} <= set(columns())
    assert not any(column.startswith(("ingredients", "log.")) for column in columns())


@pytest.mark.parametrize(
    ("chemical", "form", "said"),
    [
        ("borax", "decahydrat", "2:35: Borax"),
        ("borax", "10 %", "2:35: Borax"),
        ("Vitamin C", "crystals", "2:29: unknown chemical 'Vitamin C' ('Vitamin C' is a name of 'ascorbic-acid'"),
        ("borrax", "decahydrate", "2:29: unknown chemical 'borrax' (names that look alike are different chemicals"),
    ],
)
def test_chemicals_and_forms_are_those_of_the_handbook_one_stands_in(
    chemical: str, form: str, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    """Of a handbook of one's own and of the library below it, also what its owner has not chosen."""
    ours = tmp_path / "ours"
    (ours / "formulas").mkdir(parents=True)
    (ours / "mkdocs.yml").write_text("site_name: Ours\n", "utf-8")
    (ours / "formulas" / "settings.yml").write_text(f"{SETTINGS}library: {{purposes: [wash aid]}}\n", "utf-8")
    (ours / "t.csv").write_text(f"{HEAD}\n{ROW.replace('borax,decahydrate', f'{chemical},{form}')}\n", "utf-8")
    monkeypatch.chdir(ours)
    assert main(["from-table", "t.csv", "out"]) == 1
    (line,) = capsys.readouterr().out.splitlines()
    assert line.startswith(f"t.csv:{said}"), line
    assert not (ours / "out").exists()
    (ours / "t.csv").write_text(f"{HEAD}\n{ROW}\n", "utf-8")
    assert main(["from-table", "t.csv", "out"]) == 0, capsys.readouterr().out


def test_a_misspelt_table_is_told_to_be_checked_by_its_name(tmp_path: Path, capsys: Capture) -> None:
    assert main(["from-table", str(tmp_path / "tabel.csv"), str(tmp_path / "out")]) == 1
    line = capsys.readouterr().out
    assert line.endswith("tabel.csv:1:1: the file cannot be read: No such file or directory (check its name)\n")
