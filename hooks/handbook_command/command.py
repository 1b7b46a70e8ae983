"""``formula-handbook``: one command of several subcommands.

Exit codes: 0 all in order, 1 faults in what it was given, 2 wrong use of the command.
"""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Sequence
from datetime import date
from importlib.metadata import PackageNotFoundError, version

from handbook_command.begin import BEGIN
from handbook_command.check import CHECK
from handbook_command.from_table import FROM_TABLE
from handbook_command.library import CHANGES, UPDATE
from handbook_command.subcommand import FAULTS, IN_ORDER, Day, Subcommand, WrongUseError
from reckoner.build import day_of
from reckoner.loading.files import read_content
from reckoner.loading.kinds import LIBRARY
from reckoner.loading.source import parse_yaml
from reckoner.loading.structure import to_record
from reckoner.problems import closest
from reckoner.records.library import Library
from reckoner.shipped import library_folder

#: In the order of the help.
SUBCOMMANDS: tuple[Subcommand, ...] = (BEGIN, CHECK, FROM_TABLE, CHANGES, UPDATE)


def main(words: Sequence[str] | None = None) -> int:
    """Run one subcommand; returns the exit code.

    Args:
        words: what stands behind the command; None for what this process was given.

    Raises:
        SystemExit: with 2 and the usage on wrong words, with 0 after ``--help`` and ``--version``.
    """
    command = parser()
    given = list(sys.argv[1:] if words is None else words)
    if given and not given[0].startswith("-"):
        _known(given[0], command)
    chosen = command.parse_args(given)
    asked = os.environ.get("SOURCE_DATE_EPOCH")
    try:
        today = day_of(asked, date.today())
    except ValueError:
        print("SOURCE_DATE_EPOCH is no whole number of seconds (write seconds since 1970, or unset it)")
        return FAULTS
    run: Callable[[Namespace, Day], int] = chosen.run
    try:
        ended = run(chosen, Day(today, bool(asked)))
        sys.stdout.flush()
        return ended
    except BrokenPipeError:
        # Whoever read along has enough, as head does; nothing more is said, at the end of the process either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return IN_ORDER
    except WrongUseError as wrong:
        command.error(str(wrong))


def parser() -> ArgumentParser:
    """The words that the command knows."""
    command = ArgumentParser("formula-handbook", description="Looks after a formula handbook of your own.")
    command.add_argument("--version", action="version", version=_version(), help="which engine and library these are")
    each = command.add_subparsers(title="what it does", metavar="WHAT", required=True)
    for subcommand in SUBCOMMANDS:
        words = each.add_parser(subcommand.name, help=subcommand.summary, description=subcommand.about)
        subcommand.add_words(words)
        words.set_defaults(run=subcommand.run)
    return command


def _known(word: str, command: ArgumentParser) -> None:
    """End with what is like a word that no subcommand has."""
    names = [subcommand.name for subcommand in SUBCOMMANDS]
    if word not in names:
        guess = closest(word, names)
        hint = f"did you mean '{guess}'?" if guess else f"write one of: {', '.join(names)}"
        command.error(f"argument WHAT: invalid choice: '{word}' ({hint})")


def _version() -> str:
    try:
        engine = version("formula-handbook")
    except PackageNotFoundError:
        engine = "that is not installed"
    content = read_content(library_folder() / LIBRARY.pattern, LIBRARY.pattern)
    library, _ = to_record(parse_yaml(content, LIBRARY.pattern), Library) if isinstance(content, str) else (None, ())
    return f"formula-handbook {engine}, library {f'{library.version} of {library.date}' if library else 'unreadable'}"
