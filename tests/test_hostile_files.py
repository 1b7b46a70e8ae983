"""Files made to exhaust the machine end in a located message, in seconds and in little memory."""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bad_input import VALID
from reckoner.loading.source import MAX_BYTES
from site_build import FIXED_DAY, ROOT
from workbooks import edited, packed, xlsx

pytestmark = pytest.mark.process

FORMULA = (VALID / "solutions" / "fixers" / "fixer.yml").read_text("utf-8").replace("id: fixer\n", "id: mine\n")
INGREDIENT = "  - {chemical: sodium-sulfite, form: anhydrous, amount: 1 g}\n"
#: Of a check: seconds of the processor, bytes of address space; more than a plain file needs, kilobytes in use.
SECONDS, ADDRESSES, MORE = 30, 2 << 30, 120_000
#: Reads what is to be checked line by line, and checks each in a copy of itself, as loading the core takes longer.
#: What a copy used begins at what the process used, for a plain file as for a hostile one.
RUN = f"""
import contextlib, io, json, os, resource, sys, traceback
sys.path.insert(0, sys.argv[1])
from handbook_command.command import main

def judge(arguments):
    resource.setrlimit(resource.RLIMIT_CPU, ({SECONDS}, {SECONDS}))
    resource.setrlimit(resource.RLIMIT_AS, ({ADDRESSES}, {ADDRESSES}))
    said = io.StringIO()
    try:
        with contextlib.redirect_stdout(said):
            code = main(["check", *arguments])
    except BaseException:
        code = traceback.format_exc()
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(json.dumps([code, said.getvalue().splitlines(), used]), flush=True)

for line in sys.stdin:
    copy = os.fork()
    if not copy:
        judge(json.loads(line))
        os._exit(0)
    _, ended = os.waitpid(copy, 0)
    if ended:
        print(json.dumps([f"ended with {{ended}}", [], 0]), flush=True)
"""
#: Exit code, lines and kilobytes of a check that may not have more.
Judge = Callable[..., tuple[int, list[str], int]]


def bomb() -> str:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 40)]
    return "\n".join(lines)


HOSTILE: dict[str, tuple[Callable[[], str], str]] = {
    "bomb of aliases": (bomb, "anchor '&a0' (write the value out wherever it is needed)"),
    "ten megabytes": (lambda: "# x\n" * 2_500_000, "the file has 10000000 bytes (keep a data file under 1000000)"),
    "ten thousand ingredients": (
        lambda: FORMULA.replace("cautions:", INGREDIENT * 10_000 + "cautions:"),
        "10002 in the list, which may have 200 (leave out what is no part)",
    ),
    "ten thousand steps": (
        lambda: FORMULA + "mixing:\n" + "".join(f"  - step {n}\n" for n in range(10_000)) + "colour: red\n",
        "unknown key 'colour'",
    ),
    "brackets ten thousand deep": (lambda: "id: " + "[" * 10_000, "nested deeper than 20"),
    "braces ten thousand deep": (lambda: "id: " + "{a: " * 10_000, "nested deeper than 20"),
    "hyphens ten thousand deep": (lambda: "id:\n  " + "- " * 10_000 + "x", "nested deeper than 20"),
    "keys seven hundred deep": (lambda: "\n".join(f"{' ' * n}k:" for n in range(700)), "nested deeper than 20"),
    "an endless id": (
        lambda: FORMULA.replace("mine", "a" * 900_000),
        "the value has 900000 characters (keep it under 200)",
    ),
    "an endless name of a chemical": (
        lambda: FORMULA.replace("sodium-sulfite", "sodium-" + "sulfite" * 100_000),
        "the value has 700007 characters (keep it under 200)",
    ),
    "an endless amount": (lambda: FORMULA.replace("15 g", "1 " * 400_000 + "g"), "characters (keep it under 200)"),
    "an endless text": (lambda: FORMULA.replace("Wear gloves.", "x" * 900_000), "characters (keep it under 5000)"),
    "an endless key": (lambda: FORMULA + "k" * 900_000 + ": x\n", "the line has no colon"),
    "an endless published amount": (
        lambda: FORMULA.replace("amount: 15 g", "amount: 15 g\n    as_published: " + "1 " * 300_000),
        "characters (keep it under 200)",
    ),
    "an endless format": (
        lambda: (VALID / "settings.yml").read_text("utf-8").replace("format: 1", "format: " + "9" * 9_000),
        "characters",
    ),
}


def far(old: str, new: str) -> bytes:
    """A workbook whose sheet says that something stands elsewhere."""
    raw = xlsx({"Prices": [["chemical", "form", "pack", "price"], ["sodium-sulfite", "anhydrous", "1 kg", 9]]})
    return edited(raw, "xl/worksheets/sheet1.xml", lambda text: text.replace(old, new))


def sheet(cell: str, repeated: int = 1) -> bytes:
    return packed(
        f'<table:table table:name="P"><table:table-row table:number-rows-repeated="{repeated}">{cell}</table:table-row>'
        "</table:table>"
    )


def understated() -> bytes:
    """A zip that says in its list that what it unpacks to is short."""
    raw = sheet("<!--" + "x" * 5_000_000 + "-->")
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        size = archive.getinfo("content.xml").file_size
    return raw.replace(size.to_bytes(4, "little"), (1000).to_bytes(4, "little"))


LAUGHS = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
MANY = "the sheet holds more than 10000 rows, 200 columns or 100000 cells"
NONE = "that can be read (open it"
WORKBOOKS: dict[str, tuple[str, Callable[[], bytes], str]] = {
    "a hundred megabytes": ("ods", lambda: sheet("<!--" + "x" * 100_000_000 + "-->"), "unpacks to more than"),
    "five megabytes that say a thousand": ("ods", understated, NONE),
    "six hundred thousand tags": ("ods", lambda: sheet("<a/>" * 600_000), "unpacks to more than"),
    "six hundred thousand cells": ("xlsx", lambda: far("</row>", "<c/>" * 600_000 + "</row>"), "unpacks to more than"),
    "two hundred thousand cells": ("xlsx", lambda: far("</row>", '<c s="0"/>' * 200_000 + "</row>"), NONE),
    "a cell in every place": (
        "ods",
        lambda: sheet(
            '<table:table-cell office:value-type="float" office:value="1" table:number-columns-repeated="16384"/>',
            1048576,
        ),
        MANY,
    ),
    "an empty text in every place": (
        "ods",
        lambda: sheet('<table:table-cell office:value-type="string" table:number-columns-repeated="16384"/>', 1048576),
        "the file is empty",
    ),
    "a million spaces": (
        "ods",
        lambda: sheet('<table:table-cell><text:p>x<text:s text:c="999999999"/>x</text:p></table:table-cell>'),
        "is missing",
    ),
    "texts a hundred thousand deep": (
        "ods",
        lambda: sheet(
            "<table:table-cell><text:p>"
            + "<text:span>" * 100_000
            + "</text:span>" * 100_000
            + "</text:p></table:table-cell>"
        ),
        NONE,
    ),
    "texts that name texts": (
        "ods",
        lambda: edited(
            sheet("<table:table-cell><text:p>&a9;</text:p></table:table-cell>"),
            "content.xml",
            lambda text: text.replace("?>", f'?><!DOCTYPE x [<!ENTITY a0 "ha">{LAUGHS}]>', 1),
        ),
        NONE,
    ),
    "the last cell of a sheet": ("xlsx", lambda: far('r="D2"', 'r="XFD1048576"'), MANY),
    "a row that no sheet has": ("xlsx", lambda: far('<row r="2"', '<row r="999999999"'), NONE),
    "every cell merged": (
        "xlsx",
        lambda: far("</sheetData>", '</sheetData><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>'),
        "A1:XFD1048576 are merged",
    ),
    "three hundred sheets": ("xlsx", lambda: xlsx({f"S{n}": [] for n in range(300)}), "more than 50 sheets"),
    "seven megabytes of text": (
        "xlsx",
        lambda: edited(
            far("sodium-sulfite", "sodium-sulfite"),
            "xl/sharedStrings.xml",
            lambda text: text.replace("<t>", "<t>" + "x" * 1_000_000),
        ),
        "unknown column",
    ),
}


@pytest.fixture(scope="module")
def judged() -> Iterator[Judge]:
    """A check with some arguments: in one process for all, since what it begins with takes longer than a check."""
    environment = {**os.environ, "SOURCE_DATE_EPOCH": FIXED_DAY, "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-c", RUN, str(ROOT / "hooks")]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        asked, answers = process.stdin, process.stdout

        def judge(*arguments: str) -> tuple[int, list[str], int]:
            print(json.dumps(arguments), file=asked, flush=True)
            code, lines, used = json.loads(answers.readline())
            assert isinstance(code, int), code[-2000:]
            return code, lines, used

        yield judge


@pytest.fixture(scope="module")
def plain(judged: Judge, tmp_path_factory: pytest.TempPathFactory) -> int:
    """What a plain file takes."""
    file = tmp_path_factory.mktemp("plain") / "mine.yml"
    file.write_text(FORMULA, "utf-8")
    code, _, used = judged(str(file), str(VALID))
    assert code == 0
    return used


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_told_at_once(name: str, plain: int, judged: Judge, tmp_path: Path) -> None:
    write, said = HOSTILE[name]
    file = tmp_path / "mine.yml"
    file.write_text(write(), "utf-8")
    code, lines, used = judged(str(file), str(VALID))
    assert code == 1
    assert any(line.startswith(f"{file}:") and said in line for line in lines), lines[:5]
    assert all(len(line) < 1000 for line in lines)
    assert len(lines) <= 102
    assert used < plain + MORE


@pytest.mark.parametrize("name", WORKBOOKS)
def test_a_hostile_workbook_is_told_at_once(name: str, plain: int, judged: Judge, tmp_path: Path) -> None:
    ending, write, said = WORKBOOKS[name]
    file = tmp_path / f"2026-11-20.{ending}"
    file.write_bytes(write())
    assert file.stat().st_size < MAX_BYTES
    code, lines, used = judged(str(file), str(VALID))
    assert code == 1
    assert any(line.startswith(f"{file}:") and said in line for line in lines), [line[:200] for line in lines[:5]]
    assert all(len(line) < 1000 for line in lines)
    assert len(lines) <= 102
    assert used < plain + MORE, used - plain


@pytest.mark.parametrize("target", ["/dev/zero", "/etc/hostname", "/proc/self/environ"])
def test_a_link_out_of_the_folder_is_not_read(target: str, tmp_path: Path, plain: int, judged: Judge) -> None:
    shutil.copytree(VALID, tmp_path / "formulas")
    (tmp_path / "formulas" / "solutions" / "fixers" / "out.yml").symlink_to(target)
    code, lines, used = judged(str(tmp_path / "formulas"))
    what = "the link leads out of the data folder (put the file itself here)"
    assert (code, lines) == (1, [f"formulas/solutions/fixers/out.yml:1:1: {what}", "1 error: not in order"])
    assert used < plain + MORE


def test_a_file_without_an_end_is_not_read(tmp_path: Path, judged: Judge) -> None:
    (tmp_path / "mine.yml").symlink_to("/dev/zero")
    os.mkfifo(tmp_path / "pipe.yml")
    for name in ("mine.yml", "pipe.yml"):
        code, lines, _ = judged(str(tmp_path / name), str(VALID))
        assert code == 1
        assert lines == [
            f"{tmp_path / name}:1:1: this is no plain file (put the file itself here)",
            "1 error: not in order",
        ]


def test_thousands_of_offers_are_read(tmp_path: Path, plain: int, judged: Judge) -> None:
    """A long list is no fault where lists are long."""
    shutil.copytree(VALID, tmp_path / "formulas")
    rows = [
        {"chemical": "sodium-sulfite", "form": "anhydrous", "pack": f"{n} g", "price": "1 EUR"} for n in range(1, 3001)
    ]
    text = json.dumps({"date": "2026-11-20", "offers": rows})
    (tmp_path / "formulas" / "prices" / "one" / "2026-11-20.yml").write_text(text, "utf-8")
    code, lines, _ = judged(str(tmp_path / "formulas"))
    assert code == 0, lines[:3]
