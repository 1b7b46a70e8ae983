"""YAML text to a plain tree in which every scalar is text with its place.

YAML 1.1 reads ``1:30`` as 90, ``no`` as False and keeps the last of two same keys; anchors and merge keys let one
line change another. So only the parser's events are used: no scalar is resolved, and such things are faults.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from reckoner.loading.broken import MAX_DEPTH, broken
from reckoner.problems import Location, Problem
from reckoner.records.catalogue import Path, Places, Tree

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
#: The most that a data file may have in bytes.
MAX_BYTES = 1_000_000
#: Faults of one file that are told; a file with more is not read to its end.
MOST_FAULTS = 100
#: What YAML allows nowhere, not even in a comment.
_REFUSED = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_LINE_END = re.compile(r"\r\n?|\n")


@dataclass(frozen=True)
class Parsed:
    """A file's tree (None where it could not be read), the places in it, and what is wrong."""

    tree: Tree | None
    places: Places
    problems: tuple[Problem, ...]


class _UnreadableError(Exception):
    """Reading cannot go on after this problem."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


@dataclass
class _Builder:
    file: str
    problems: list[Problem] = field(default_factory=list)
    values: dict[Path, Location] = field(default_factory=dict)
    keys: dict[Path, Location] = field(default_factory=dict)

    def place(self, mark: Any) -> Location:
        return Location(self.file, mark.line + 1, mark.column + 1)

    def fault(self, mark: Any, message: str) -> None:
        self.problems.append(Problem(self.place(mark), message))
        if len(self.problems) > MOST_FAULTS:
            raise _UnreadableError(self.problems.pop())

    def node(self, event: Any, events: Iterator[Any], path: Path) -> Tree:
        if len(path) > MAX_DEPTH:
            message = f"nested deeper than {MAX_DEPTH} (write the record flat, as in the examples)"
            raise _UnreadableError(Problem(self.place(event.start_mark), message))
        self.values.setdefault(path, self.place(event.start_mark))
        if isinstance(event, yaml.AliasEvent):
            self.fault(event.start_mark, f"alias '*{event.anchor}' (write the value out in full)")
            return f"*{event.anchor}"
        if getattr(event, "anchor", None):
            self.fault(event.start_mark, f"anchor '&{event.anchor}' (write the value out wherever it is needed)")
        if getattr(event, "tag", None):
            self.fault(
                event.start_mark,
                f"tag '{event.tag.replace('tag:yaml.org,2002:', '!!')}' (leave it out; values are read as text)",
            )
        if isinstance(event, yaml.MappingStartEvent):
            return self.mapping(events, path)
        if isinstance(event, yaml.SequenceStartEvent):
            return self.sequence(events, path)
        return str(event.value)

    def sequence(self, events: Iterator[Any], path: Path) -> Tree:
        items: list[Tree] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            items.append(self.node(event, events, (*path, len(items))))
        return items

    def mapping(self, events: Iterator[Any], path: Path) -> Tree:
        entries: dict[str, Tree] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            if not isinstance(event, yaml.ScalarEvent):
                message = "a key is a list or mapping (write a plain word)"
                raise _UnreadableError(Problem(self.place(event.start_mark), message))
            key = str(event.value)
            entry_path = (*path, key)
            if key == "<<":
                self.fault(event.start_mark, "merge key '<<' (write the keys out in full)")
            elif key in entries:
                first = self.keys[entry_path]
                self.fault(event.start_mark, f"key '{key}' stands twice, first in line {first.line} (keep one of them)")
            known = key in entries or key == "<<"
            if not known:
                self.keys[entry_path] = self.place(event.start_mark)
            value = self.node(next(events), events, (*path, f"{key} again") if known else entry_path)
            if not known:
                entries[key] = value
        return entries


def parse_yaml(text: str, file: str) -> Parsed:
    """Read one document; the tree is None where the text is no YAML or empty."""
    builder = _Builder(file)
    tree: Tree | None = None
    refused = _REFUSED.search(text)
    if refused:
        message = (
            f"the character U+{ord(refused[0]):04X} cannot stand in a data file (delete it, or type the line again)"
        )
        return Parsed(None, Places(Location(file)), (Problem(place_in(text, refused.start(), file), message),))
    try:
        events = iter(yaml.parse(text, Loader=_LOADER))
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    message = "a second document begins (keep one record to a file)"
                    raise _UnreadableError(Problem(builder.place(event.start_mark), message))
                tree = builder.node(next(events), events, ())
        if documents == 0 or tree == "":
            tree = None
            builder.problems.append(Problem(Location(file), "the file is empty (write a record, or remove the file)"))
    except _UnreadableError as stop:
        builder.problems.append(stop.problem)
        tree = None
    except yaml.YAMLError as error:
        builder.problems.append(broken(error, text, file, _quotes(text)))
        tree = None
    places = Places(Location(file), builder.values, builder.keys)
    return Parsed(tree, places, tuple(builder.problems))


def _quotes(text: str) -> Iterator[tuple[Any, Any]]:
    """Where texts in quotes begin and end, as far as the text can be read."""
    try:
        for token in yaml.scan(text, Loader=_LOADER):
            if isinstance(token, yaml.ScalarToken) and not token.plain:
                yield token.start_mark, token.end_mark
    except yaml.YAMLError:
        return


def place_in(text: str, index: int, file: str) -> Location:
    """Line and column of a character; lines end as editors end them, with CR, LF or both.

    >>> str(place_in("a\\r\\nbc", 4, "f.yml"))
    'f.yml:2:2'
    """
    ends = [line_end.end() for line_end in _LINE_END.finditer(text, 0, index)]
    return Location(file, len(ends) + 1, index - (ends[-1] if ends else 0) + 1)


def decode(raw: bytes, file: str) -> str | Problem:
    """Decode UTF-8 without byte-order mark, or say where it fails.

    >>> decode(b"a: \\xff", "f.yml").message
    'byte 0xff is not UTF-8 (save the file as UTF-8)'
    """
    if raw.startswith(b"\xef\xbb\xbf"):
        return Problem(Location(file), "the file begins with a byte-order mark (save it as UTF-8 without BOM)")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in raw:
        return Problem(Location(file), "the file is in UTF-16 or holds NUL bytes (save it as UTF-8)")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8")
        message = f"byte 0x{raw[error.start]:02x} is not UTF-8 (save the file as UTF-8)"
        return Problem(place_in(before, len(before), file), message)
