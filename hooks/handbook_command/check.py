"""``formula-handbook check``: read and check the data without building a site.

With a file, that file alone is judged against a handbook's data: a formula that somebody has sent, say.
"""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace
from pathlib import Path

from handbook_command.subcommand import FAULTS, IN_ORDER, Day, Subcommand, WrongUseError, print_all
from handbook_command.where import data_around, data_of
from reckoner.audience import audience_of
from reckoner.build import build
from reckoner.one_file import is_member, judge, judge_member
from reckoner.problems import HandbookError, Severity, ValueFault, counted, shown

_DATA_FILES = {".yml", ".yaml", ".csv", ".xlsx", ".ods"}


def _add_words(words: ArgumentParser) -> None:
    words.add_argument(
        "what",
        nargs="?",
        type=Path,
        metavar="FILE or FOLDER",
        help="a handbook, a member's folder, or one file",
    )
    words.add_argument("against", nargs="?", type=Path, metavar="FOLDER", help="the handbook that one file is for")


def _run(words: Namespace, day: Day) -> int:
    what: Path | None = words.what
    single = what is not None and (what.is_file() or what.suffix in _DATA_FILES)
    if what is not None and is_member(what):
        return _member(what.resolve(), day)
    if words.against is not None:
        if not single:
            raise WrongUseError("a second folder goes with one file (name a file before it)")
        data: Path | None = data_of(words.against)
    elif what is not None and not single:
        data = data_of(what)
    else:
        data = data_around(Path()) or (data_around(what.parent) if what else None)
    if data is None:
        raise WrongUseError("no mkdocs.yml in this folder or above it (go to your handbook's folder, or name it)")
    return _file(what, data, day) if what is not None and single else _folder(data, day)


def _member(member: Path, day: Day) -> int:
    """A member's folder alone, then together with everybody's."""
    problems = judge_member(member, day.today, day.asked).problems
    print_all(problems)
    if any(problem.severity is Severity.ERROR for problem in problems):
        print(f"{counted(problems)}: not in order alone")
        return FAULTS
    print(shown(f"{member.name}: in order alone; together with the others:"))
    return _folder(member.parent.parent, day)


def _folder(data: Path, day: Day) -> int:
    try:
        audience = audience_of(os.environ.get("HANDBOOK_AUDIENCE"))
        built = build(data, day.today, audience=audience, fixed=day.asked)
    except ValueFault as fault:
        print(fault)
        return FAULTS
    except HandbookError as faults:
        print_all(faults.problems)
        print(f"{counted(faults.problems)}: not in order")
        return FAULTS
    print_all(built.problems)
    catalogue = built.results.catalogue
    warnings = sum(problem.severity is Severity.WARNING for problem in built.problems)
    order = "in order" + (f", with {warnings} warning{'s' * (warnings > 1)} above" if warnings else "")
    print(f"{len(catalogue.formulas)} formulas, {len(catalogue.chemicals)} chemicals: {order}")
    return IN_ORDER


def _file(file: Path, data: Path, day: Day) -> int:
    verdict = judge(file, file.as_posix(), data, day.today, day.asked)
    print_all(verdict.problems)
    if any(problem.severity is Severity.ERROR for problem in verdict.problems):
        print(f"{counted(verdict.problems)}: not in order")
        return FAULTS
    put = f" (put it at {verdict.belongs})" if verdict.belongs else ""
    print(shown(f"{file.as_posix()}: a {verdict.kind.replace('_', ' ')}, in order{put}"))
    return IN_ORDER


CHECK = Subcommand(
    "check",
    "read the data and tell every fault, without building",
    "Reads and checks the data of the handbook you stand in, or of the folder you name. With a file, only that file is "
    "judged, as if it were in the handbook. Every fault is told with its place and what to write instead.",
    _add_words,
    _run,
)
