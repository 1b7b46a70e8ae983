"""What each subcommand is: its name, what it says of itself, its words and what it does."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from reckoner.problems import Problem, listed

#: Exit codes; wrong use ends with argparse's own, which is 2.
IN_ORDER, FAULTS = 0, 1


class WrongUseError(Exception):
    """The words fit together in no way; its text says what to write instead."""


@dataclass(frozen=True)
class Day:
    """The day that ages are counted to, and whether the owner asked for it by ``SOURCE_DATE_EPOCH``."""

    today: date
    asked: bool


@dataclass(frozen=True)
class Subcommand:
    """One word behind ``formula-handbook``.

    Attributes:
        summary: its line in the list of all.
        about: what its own help says.
        add_words: puts what may follow it into its parser.
        run: does it, prints what came of it, and returns the exit code.
    """

    name: str
    summary: str
    about: str
    add_words: Callable[[ArgumentParser], None]
    run: Callable[[Namespace, Day], int]


def print_all(problems: Iterable[Problem]) -> None:
    """A line for each, the errors first."""
    for line in listed(problems):
        print(line)
