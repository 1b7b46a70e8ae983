"""What becomes of a spoiled handbook, and whether that is as it should be.

It is either built, and then its figures differ only where they rest on a file that was changed; or it is refused
in messages that stand at the change, at what is around it or of the same words, or in a file that
depends on a changed one.
"""

from __future__ import annotations

import json
import re
import shutil
import signal
import time
import traceback
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import Any
from unittest.mock import patch

from depending import Depending, differing, words
from mutations import Mutant
from reckoner.build import load_checked
from reckoner.calc.results import work_out
from reckoner.guide import guide_page
from reckoner.loading import catalogue, collected
from reckoner.loading.source import Parsed, parse_yaml
from reckoner.loading.structure import to_record
from reckoner.outputs.export import handbook_json
from reckoner.pages.kinds import pages
from reckoner.problems import HandbookError, Problem
from reckoner.records.values import Record
from reckoner.warn import WARNINGS
from small import TODAY

PLACED = re.compile(r"formulas(/[^:]*)?:\d+:\d+: .+ \(.+\)\Z")
#: Seconds of the processor that one handbook may take; a plain one takes a quarter of a second.
MOST_SECONDS = 20
#: Texts that are kept as read.
MOST_KEPT = 300
#: More characters than this are no line.
LONGEST_LINE = 1_000


@dataclass(frozen=True)
class Outcome:
    """What came of a mutant.

    Attributes:
        refused: whether there are messages instead of pages.
        named: ``line``, ``file`` or ``elsewhere``; empty where it was built.
        faults: what must not be: a traceback, a message without its place, a figure that has no reason to differ.
        said: the messages.
        seconds: of the processor.
    """

    refused: bool
    named: str
    faults: tuple[str, ...]
    said: tuple[str, ...]
    seconds: float


class _TooLongError(BaseException):
    """Not caught by anything that catches an Exception."""


@contextmanager
def _limited() -> Iterator[None]:
    def stop(*_: Any) -> None:
        raise _TooLongError

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, MOST_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


class _Once:
    """Reads each text once for a while: all files of a mutant but one or two are as they were."""

    def __init__(self) -> None:
        self.parsed: dict[tuple[str, str], Parsed] = {}
        self.records: dict[tuple[int, type[Record]], Any] = {}

    def parse(self, text: str, file: str) -> Parsed:
        """As ``parse_yaml``."""
        if len(self.parsed) > MOST_KEPT:
            self.parsed.clear()
            self.records.clear()
        if (text, file) not in self.parsed:
            self.parsed[text, file] = parse_yaml(text, file)
        return self.parsed[text, file]

    def record(self, parsed: Parsed, kind: type[Record]) -> Any:
        """As ``to_record``, for a text that is kept."""
        key = id(parsed), kind
        if key not in self.records and not any(parsed is kept for kept in self.parsed.values()):
            return to_record(parsed, kind)
        if key not in self.records:
            self.records[key] = to_record(parsed, kind)
        return self.records[key]

    def reading(self) -> ExitStack:
        """In its place the core reads so."""
        stack = ExitStack()
        stack.enter_context(patch.object(catalogue, "parse_yaml", self.parse))
        stack.enter_context(patch.object(collected, "parse_yaml", self.parse))
        stack.enter_context(patch.object(collected, "to_record", self.record))
        return stack


class Workbench:
    """A folder in which one spoiled handbook after another is laid."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "formulas"
        self.laid: int | None = None
        self.once = _Once()

    def put(self, mutant: Mutant) -> None:
        """Lay a mutant down."""
        if self.laid != mutant.number:
            shutil.rmtree(self.folder, ignore_errors=True)
            lay(self.folder, mutant.handbook.files)
        self.laid = mutant.number
        lay(self.folder, mutant.changed)

    def take_back(self, mutant: Mutant) -> None:
        """Undo what a mutant changed."""
        before = mutant.handbook.files
        lay(self.folder, {name: before.get(name) for name in mutant.changed})

    def outcome(self, mutant: Mutant, render: bool = True) -> Outcome:
        """Lay a mutant down, load it and, where it is valid, work everything out and make every page."""
        self.put(mutant)
        begun = time.process_time()
        faults: tuple[str, ...]
        problems: tuple[Problem, ...] = ()
        refused = False
        try:
            with _limited(), self.once.reading():
                figures, problems = _built(self.folder, render)
            faults = tuple(_unfounded(mutant, figures))
        except HandbookError as error:
            problems, refused, faults = error.problems, True, ()
        except _TooLongError:
            faults = (f"longer than {MOST_SECONDS} s",)
        except Exception:
            faults = ("traceback: " + traceback.format_exc()[-1500:],)
        finally:
            self.take_back(mutant)
        said = tuple(map(str, problems))
        named = _Naming(mutant, problems).verdict if refused else ""
        return Outcome(refused, named, (*faults, *_unplaced(said)), said, time.process_time() - begun)


def lay(folder: Path, files: Any) -> None:
    """Write files, or remove those without content; a folder is left without anything that is no file."""
    for name, raw in files.items():
        if raw is None:
            (folder / name).unlink(missing_ok=True)
        else:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_bytes(raw)


def _built(folder: Path, render: bool) -> tuple[str, tuple[Problem, ...]]:
    loaded, problems = load_checked(folder, TODAY)
    results = work_out(loaded)
    warnings = tuple(problem for warn in WARNINGS for problem in warn(results))
    if render:
        pages(results, True, "")
        guide_page(loaded)
    return handbook_json(results), (*problems, *warnings)


def _unplaced(said: Iterable[str]) -> Iterator[str]:
    for line in said:
        if not PLACED.match(line) or not line.isprintable():
            yield f"no place or no advice: {line[:300]}"
        elif len(line) > LONGEST_LINE:
            yield f"a line of {len(line)} characters: {line[:300]}"


def _unfounded(mutant: Mutant, text: str) -> Iterator[str]:
    """Figures that differ and do not rest on a changed file, neither before nor now."""
    before, now = mutant.handbook.depending, Depending(mutant.files)
    changed = set(mutant.changed)
    for kind, record_id in differing(mutant.handbook.figures, json.loads(text)):
        if kind == "all":
            founded = bool(changed & {"settings.yml", "exchange_rates.yml"})
        else:
            founded = bool((before.figures_of(kind, record_id) | now.figures_of(kind, record_id)) & changed)
        if not founded:
            yield f"{kind} {record_id} differs, and does not rest on {sorted(changed)}"


@dataclass(frozen=True)
class _Naming:
    """Whether the messages lead to what was changed."""

    mutant: Mutant
    problems: tuple[Problem, ...]

    @property
    def verdict(self) -> str:
        """``line``: all are in changed files or such as depend on them, and one at least leads to the very place.
        ``file``: none does. ``elsewhere``: some file is named that has nothing to do with it.
        """
        changed = set(self.mutant.changed)
        depend = self.mutant.handbook.depending.rest_on(changed) | Depending(self.mutant.files).rest_on(changed)
        names = [problem.at.file.removeprefix("formulas/") for problem in self.problems]
        if any(name not in depend | changed | {"formulas"} for name in names):
            return "elsewhere"
        return "line" if any(map(self._leads_there, names, self.problems)) else "file"

    def _leads_there(self, name: str, problem: Problem) -> bool:
        if name not in self.mutant.changed:
            return True
        change = _change(self.mutant.handbook.files.get(name), self.mutant.changed[name])
        return change is None or problem.at.line in change.lines or change.quoted(problem.message)


@dataclass(frozen=True)
class _Change:
    """Where a text differs from what it was.

    Attributes:
        lines: changed, their neighbours, and the lines that they are inside of.
        words: the words in the changed lines, old and new.
    """

    lines: frozenset[int]
    words: frozenset[str]

    def quoted(self, message: str) -> bool:
        """Whether a message quotes a word of the change."""
        quotes = re.findall(r"'([^']*)'", message)
        return any(word in self.words for quote in quotes for word in words(quote.encode()))


def _change(old: bytes | None, new: bytes | None) -> _Change | None:
    """None where a file is new, gone or not text, or its lines but end otherwise: any place in it is right then."""
    if old is None or new is None:
        return None
    try:
        before, after = old.decode().splitlines(), new.decode().splitlines()
    except UnicodeDecodeError:
        return None
    lines: set[int] = set()
    said: set[str] = set()
    for tag, i, j, k, m in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag != "equal":
            lines.update(range(k, m + 2))
            lines.update(_around(after, k))
            said |= words("\n".join([*before[i:j], *after[k:m]]).encode())
    # Where no line differs their ends do, anywhere.
    return None if not lines else _Change(frozenset(lines), frozenset(said))


def _around(lines: list[str], at: int) -> Iterator[int]:
    """The lines that a change before a line is inside of, each with the first line of its block."""
    for begin in {max(at - 1, 0), at} & set(range(len(lines))):
        depth = _depth(lines[begin])
        for number in range(begin, -1, -1):
            here = _depth(lines[number])
            if here <= depth:
                yield number + 1
                depth = here if lines[number].strip() else depth


def _depth(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
