"""What a newer library changes for one handbook: the records that stand in it, then and now, dangers first.

An own folder keeps the records of the library that its pages show, as they were when its owner last took the library
over; nothing else in that folder tells one version from the next.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from reckoner.loading import kinds
from reckoner.loading.files import LIBRARY
from reckoner.loading.layers import read_layers
from reckoner.loading.source import parse_yaml
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue, Tree

#: Where an own folder keeps it, beside the schemas that editors use.
KEPT = "schema/library-taken-over.json"
#: Keys and tables that speak of danger, and are told before the rest.
_DANGER = ("hazards", "strong", "cautions", "restrictions", "does_not_work", "disposal", "milder_because")
_DANGER_TABLES = ("incompatibilities", "cautions", "hazard_phrases", "look_alikes")
#: Values of one key that are told; more are counted.
_MOST = 4


@dataclass(frozen=True)
class Kept:
    """Records of the library, by ``kind/id``, or the kind alone of a table, and the version they are of."""

    version: str
    records: Mapping[str, Tree]

    def text(self) -> str:
        """As a file, a record a line, so that an owner's version control shows what moved."""
        lines = ",\n".join(f"{json.dumps(name)}: {_json(self.records[name])}" for name in sorted(self.records))
        return f'{{"version": {json.dumps(self.version)}, "records": {{\n{lines}\n}}}}\n'


@dataclass(frozen=True)
class News:
    """What changed of one key of a record.

    Attributes:
        record: ``kind/id``, or a table's kind.
        gone, new: values with the keys above them, as ``hazards classes h: H317``.
        overridden: a record of the owner's stands over it.
    """

    record: str
    key: str
    gone: tuple[str, ...]
    new: tuple[str, ...]
    overridden: bool

    @property
    def danger(self) -> bool:
        """Whether it is about harm."""
        return self.key in _DANGER or self.record in _DANGER_TABLES

    def __str__(self) -> str:
        parts = (("no longer", self.gone), ("now", self.new))
        said = "; ".join(f"{word} {_listed(values)}" for word, values in parts if values)
        return f"{self.record.replace('/', ' ')}, {self.key.replace('_', ' ')}: {said}"


def _listed(values: tuple[str, ...]) -> str:
    more = f" and {len(values) - _MOST} more" if len(values) > _MOST else ""
    return ", ".join(values[:_MOST]) + more


def library_now(folder: Path, catalogue: Catalogue) -> Kept:
    """The records of the library that stand in a handbook, changed by its owner or not."""
    records: dict[str, Tree] = {}
    shown = {"chemical": catalogue.chemicals, "formula": catalogue.formulas, "process": catalogue.processes}
    for file in read_layers(folder, folder.name)[0]:
        if file.layer != LIBRARY or file.kind is kinds.LIBRARY or file.text is None:
            continue
        if file.kind.has_id and file.stem not in shown.get(file.kind.name, {}):
            continue
        tree = parse_yaml(file.text, file.name).tree
        records[f"{file.kind.name}/{file.stem}" if file.kind.has_id else file.kind.name] = tree or {}
    return Kept(catalogue.library.version if catalogue.library else "", records)


def kept_in(folder: Path) -> Kept | Problem | None:
    """What an own folder keeps; None where it keeps nothing, as the demonstration does."""
    path = folder.parent / KEPT
    if not path.is_file():
        return None
    try:
        read = json.loads(path.read_text("utf-8"))
        return Kept(str(read["version"]), dict(read["records"]))
    except (ValueError, KeyError, TypeError, OSError):
        advice = "run formula-handbook update, which writes it anew"
        return Problem(Location(KEPT), f"this is not what the last update wrote ({advice})", Severity.WARNING)


def news(before: Kept, now: Kept, catalogue: Catalogue) -> tuple[News, ...]:
    """What changed of records that both have, dangers first, then those that the owner's own stand over."""
    changed = [
        change
        for name in sorted(before.records.keys() & now.records.keys())
        for change in _of_record(name, before.records[name], now.records[name], catalogue)
    ]
    return tuple(sorted(changed, key=lambda change: (not change.danger, not change.overridden, change.record)))


def library_notes(folder: Path, catalogue: Catalogue) -> tuple[Problem, ...]:
    """What a build says of a newer library; what an owner's record stands over fails a strict build."""
    if catalogue.library is None:
        return ()
    before = kept_in(folder)
    if before is None or isinstance(before, Problem):
        return () if before is None else (before,)
    now = library_now(folder, catalogue)
    changes = news(before, now, catalogue)
    if before.version == now.version and not changes:
        return ()
    head = f"library {now.version} of {catalogue.library.date}, {before.version} when it was last taken over"
    said = f"{len(changes)} changes for your pages, told below" if changes else "nothing changes for your pages"
    notes = [Problem(Location(KEPT), f"{head}: {said} (run formula-handbook update once read)", Severity.NOTE)]
    for change in changes:
        place = _own_place(change, catalogue)
        advice = "look at your record again, then run formula-handbook update" if place else "see its page"
        severity = Severity.WARNING if place else Severity.NOTE
        notes.append(Problem(place or Location(KEPT), f"the library changed: {change} ({advice})", severity))
    return tuple(notes)


def _own_place(change: News, catalogue: Catalogue) -> Location | None:
    kind, _, record_id = change.record.partition("/")
    return catalogue.place(kind, record_id, change.key) if change.overridden else None


def _of_record(name: str, before: Tree, now: Tree, catalogue: Catalogue) -> Iterator[News]:
    if not isinstance(before, dict) or not isinstance(now, dict):
        return
    kind, _, record_id = name.partition("/")
    overridden = (kind, record_id) in catalogue.overridden
    for key in dict.fromkeys((*before, *now)):
        held, holds = Counter(_values(before.get(key, ""), key)), Counter(_values(now.get(key, ""), key))
        if held != holds:
            yield News(name, key, tuple((held - holds).elements()), tuple((holds - held).elements()), overridden)


def _values(tree: Tree, at: str) -> Iterator[str]:
    """Single values with the keys above them; what stands in one list is not told apart by its place there."""
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield from _values(value, f"{at} {key}")
    elif isinstance(tree, list):
        for item in tree:
            yield from _values(item, at)
    elif tree:
        yield f"{at.partition(' ')[2]} {tree}".strip()


def _json(tree: Tree) -> str:
    return json.dumps(tree, ensure_ascii=False, sort_keys=True)
