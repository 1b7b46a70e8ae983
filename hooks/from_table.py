"""``.venv/bin/python hooks/from_table.py TABLE FOLDER``: a spreadsheet of formulas to a file for each.

The table is CSV, ``.xlsx`` or ``.ods``. Prints every fault as ``file:line:column: what is wrong (what to write
instead)`` and then writes nothing. Files that are there already are left as they are. See the page "From a
spreadsheet".
"""

from __future__ import annotations

import sys
from pathlib import Path

from reckoner.loading.files import read_content
from reckoner.loading.table import Converted, formulas_from_table
from reckoner.problems import Location, Problem


def main(arguments: list[str]) -> int:
    """Convert one table; returns the exit code."""
    if len(arguments) != 2:
        print(".venv/bin/python hooks/from_table.py TABLE FOLDER")
        return 2
    table, folder = Path(arguments[0]), Path(arguments[1])
    content = read_content(table, table.as_posix())
    converted = (
        Converted({}, (content,)) if isinstance(content, Problem) else formulas_from_table(content, table.as_posix())
    )
    there = [folder / f"{name}.yml" for name in converted.files if (folder / f"{name}.yml").exists()]
    taken = [
        Problem(Location(table.as_posix()), f"{path} is there already (move it, or use another id)") for path in there
    ]
    for problem in (*converted.problems, *taken):
        print(problem)
    if converted.problems or taken:
        return 1
    folder.mkdir(parents=True, exist_ok=True)
    for name, written in converted.files.items():
        (folder / f"{name}.yml").write_text(written, "utf-8")
        print(f"{folder / name}.yml")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
