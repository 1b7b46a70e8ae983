"""Faults as values: where, how grave, what is wrong and what to write instead.

Nothing here raises or prints; loading and checks return problems, the adapter shows them.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from enum import Enum

#: Characters that are not seen or that turn the text round: no author means them.
HIDDEN = (
    r"\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f"
    r"\ufeff\ufff9-\ufffb\U000e0000-\U000e007f"
)
#: Text between the end of one quotation and the beginning of another is no long value.
_LONG = re.compile(r"(?<!\w)'([^']{60})[^']{20,}'(?!\w)")


def shown(text: str) -> str:
    """A message as one short line that a terminal cannot obey: what is not seen by its code, long values cut.

    >>> shown("'a\\x1b[31m' is no id")
    "'a<U+001B>[31m' is no id"
    """
    seen = "".join(sign if sign.isprintable() else f"<U+{ord(sign):04X}>" for sign in text)
    return _LONG.sub(r"'\1…'", seen)


@dataclass(frozen=True, order=True)
class Location:
    """A place in a data file; line and column count from 1 as editors do.

    Attributes:
        cell: of a workbook, in words, as ``sheet 'Prices', cell C7``; line and column are its row and column.
    """

    file: str
    line: int = 1
    column: int = 1
    cell: str = ""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Severity(Enum):
    """ERROR stops the build; WARNING is shown and fails only a strict build."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True)
class Problem:
    """One fault. ``str()`` gives ``file:line:column: what is wrong (what to write instead)``.

    >>> str(Problem(Location("prices/one/2026-11-09.xlsx", 7, 3, "sheet 'Prices', cell C7"), "no unit (write 1 g)"))
    "prices/one/2026-11-09.xlsx:7:3: sheet 'Prices', cell C7: no unit (write 1 g)"
    """

    at: Location
    message: str
    severity: Severity = Severity.ERROR

    def __str__(self) -> str:
        return shown(f"{self.at}: {self.at.cell}{': ' * bool(self.at.cell)}{self.message}")

    def __lt__(self, other: Problem) -> bool:
        return (self.at, self.message) < (other.at, other.message)


class HandbookError(Exception):
    """Every fault that stops a build, all together.

    Attributes:
        problems: sorted, at least one of them an error; its text has the errors first.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(listed(self.problems)))


def listed(problems: Iterable[Problem]) -> Iterator[str]:
    """A line each, the errors first; what stops nothing says so.

    >>> here = Location("formulas/shelf.yml", 3, 7)
    >>> list(listed([Problem(here, "old (renew it)", Severity.NOTE), Problem(here, "no unit (write 1 g)")]))
    ['formulas/shelf.yml:3:7: no unit (write 1 g)', 'formulas/shelf.yml:3:7: old (renew it) [note]']
    """
    ordered = sorted(problems, key=lambda problem: (list(Severity).index(problem.severity), problem))
    for problem in ordered:
        yield f"{problem}" if problem.severity is Severity.ERROR else f"{problem} [{problem.severity.value}]"


def counted(problems: Iterable[Problem]) -> str:
    """How many of each severity, as ``2 errors, 1 note``."""
    counts = Counter(problem.severity for problem in problems)
    return ", ".join(f"{counts[s]} {s.value}{'s' * (counts[s] > 1)}" for s in Severity if counts[s])


class ValueFault(ValueError):
    """Raised by the parsers of single values; loading turns it into a located problem.

    Attributes:
        key: where a rule over several keys fails, the one that the author should look at.
    """

    def __init__(self, message: str, key: str | None = None) -> None:
        super().__init__(message)
        self.key = key


def closest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that looks most like ``word``, or None.

    >>> closest("sodium-sulfit", ["sodium-sulfite", "borax"])
    'sodium-sulfite'
    """
    matches = get_close_matches(word, list(known), n=1, cutoff=0.7)
    return matches[0] if matches else None
