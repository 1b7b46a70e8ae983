"""``python hooks/check.py [FOLDER]``: load and check the data without building a site.

Prints every fault as ``file:line:column: what is wrong (what to write instead)``; exit code 1 where there is an error.
"""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path

from reckoner.audience import audience_of
from reckoner.build import build, day_of
from reckoner.problems import HandbookError, Severity, ValueFault


def main(arguments: list[str]) -> int:
    """Check one data folder; returns the exit code."""
    folder = Path(arguments[0]) if arguments else Path(__file__).parent.parent / "formulas"
    try:
        today = day_of(os.environ.get("SOURCE_DATE_EPOCH"), date.today())
    except ValueError:
        print("SOURCE_DATE_EPOCH is no whole number of seconds (write seconds since 1970, or unset it)")
        return 1
    try:
        built = build(folder, today, audience=audience_of(os.environ.get("HANDBOOK_AUDIENCE")))
    except ValueFault as fault:
        print(fault)
        return 1
    except HandbookError as error:
        print(error)
        return 1
    for problem in built.problems:
        print(f"{problem}" if problem.severity is not Severity.NOTE else f"{problem} [note]")
    catalogue = built.results.catalogue
    print(f"{len(catalogue.formulas)} formulas, {len(catalogue.chemicals)} chemicals: in order")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
