"""``.venv/bin/python hooks/check.py [FILE] [FOLDER]``: load and check the data without building a site.

With a file, that file alone is judged against the data in the folder: a formula that somebody has sent, say. Prints
every fault as ``file:line:column: what is wrong (what to write instead)``; exit code 1 where there is an error.
"""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path

from reckoner.audience import audience_of
from reckoner.build import build, day_of
from reckoner.one_file import judge
from reckoner.problems import HandbookError, Problem, Severity, ValueFault, counted, listed, shown

FOLDER = Path(__file__).parent.parent / "formulas"


def main(arguments: list[str]) -> int:
    """Check one data folder, or one file against it; returns the exit code."""
    asked = os.environ.get("SOURCE_DATE_EPOCH")
    try:
        today = day_of(asked, date.today())
    except ValueError:
        print("SOURCE_DATE_EPOCH is no whole number of seconds (write seconds since 1970, or unset it)")
        return 1
    first = Path(arguments[0]) if arguments else FOLDER
    if first.is_file() or first.suffix in {".yml", ".yaml", ".csv", ".xlsx", ".ods"}:
        return _file(first, Path(arguments[1]) if len(arguments) > 1 else FOLDER, today, bool(asked))
    return _folder(first, today, bool(asked))


def _folder(folder: Path, today: date, fixed: bool) -> int:
    try:
        audience = audience_of(os.environ.get("HANDBOOK_AUDIENCE"))
        built = build(folder, today, audience=audience, fixed=fixed)
    except ValueFault as fault:
        print(fault)
        return 1
    except HandbookError as faults:
        _print(faults.problems)
        print(f"{counted(faults.problems)}: not in order")
        return 1
    _print(built.problems)
    catalogue = built.results.catalogue
    warnings = sum(problem.severity is Severity.WARNING for problem in built.problems)
    order = "in order" + (f", with {warnings} warning{'s' * (warnings > 1)} above" if warnings else "")
    print(f"{len(catalogue.formulas)} formulas, {len(catalogue.chemicals)} chemicals: {order}")
    return 0


def _file(file: Path, folder: Path, today: date, fixed: bool) -> int:
    verdict = judge(file, file.as_posix(), folder, today, fixed)
    _print(verdict.problems)
    if any(problem.severity is Severity.ERROR for problem in verdict.problems):
        print(f"{counted(verdict.problems)}: not in order")
        return 1
    put = f" (put it at {verdict.belongs})" if verdict.belongs else ""
    print(shown(f"{file.as_posix()}: a {verdict.kind.replace('_', ' ')}, in order{put}"))
    return 0


def _print(problems: tuple[Problem, ...]) -> None:
    for line in listed(problems):
        print(line)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
