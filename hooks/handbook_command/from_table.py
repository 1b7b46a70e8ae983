"""``formula-handbook from-table``: a spreadsheet of formulas to a file for each.

Every fault of the table is told with its place, and then nothing is written. Files that are there already are left as
they are.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from dataclasses import replace
from pathlib import Path

from handbook_command.subcommand import FAULTS, IN_ORDER, Day, Subcommand, print_all
from handbook_command.where import data_around
from reckoner.checks.formula_rules import names_in_faulty_files
from reckoner.loading.catalogue import load_folder
from reckoner.loading.files import read_content
from reckoner.loading.references import by_their_names
from reckoner.loading.table import Converted, formulas_from_table
from reckoner.problems import Location, Problem
from reckoner.records.catalogue import Catalogue


def _add_words(words: ArgumentParser) -> None:
    words.add_argument("table", type=Path, metavar="TABLE", help="the spreadsheet: .csv in UTF-8, .xlsx or .ods")
    words.add_argument("folder", type=Path, metavar="FOLDER", help="where the files go; made where it is missing")


def _run(words: Namespace, day: Day) -> int:
    table, folder = words.table, words.folder
    content = read_content(table, table.as_posix())
    converted = (
        Converted({}, (content,)) if isinstance(content, Problem) else formulas_from_table(content, table.as_posix())
    )
    if data := data_around(Path()):
        converted = judged(converted, load_folder(data, day.today, data.name, day.asked)[0])
    there = [folder / f"{name}.yml" for name in converted.files if (folder / f"{name}.yml").exists()]
    taken = [
        Problem(Location(table.as_posix()), f"{path} is there already (move it, or use another id)") for path in there
    ]
    if converted.problems or taken:
        print_all((*converted.problems, *taken))
        return FAULTS
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, written in converted.files.items():
            (folder / f"{name}.yml").write_text(written, "utf-8")
            print(f"{folder / name}.yml")
    except OSError as error:
        print(f"{folder} cannot be written: {error.strerror} (name another folder)")
        return FAULTS
    return IN_ORDER


def judged(converted: Converted, catalogue: Catalogue | None) -> Converted:
    """The same with what a handbook and its library know of the chemicals and forms that a table names."""
    if catalogue is None:
        return converted
    chemicals = (reference for reference in converted.references if reference.kind == "chemical")
    named, problems = by_their_names(chemicals, converted.problems, catalogue)
    unknown = names_in_faulty_files(replace(catalogue, references=named))
    return replace(converted, problems=tuple(sorted((*problems, *unknown))))


FROM_TABLE = Subcommand(
    "from-table",
    "make a file of each formula in a spreadsheet",
    "Makes a file of each formula in a table. With any fault in the table nothing is written. Chemicals "
    "and forms are those of the handbook you stand in. The page "
    "'From a spreadsheet' shows a table that works.",
    _add_words,
    _run,
)
