"""A file of the owner over the library's file of the same record: which keys come from where, each with its place.

A record of one's own with the library's id stands in its place. Where it has ``changes:``, only the keys named there
do. A table of one's own adds to the library's: an entry that the library has too changes the keys that it names, and
lists in it add up, so that no pair that must not meet is lost.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from reckoner.loading import kinds
from reckoner.loading.kinds import FileKind
from reckoner.loading.left_out import CHANGES, left_out
from reckoner.loading.source import Parsed
from reckoner.loading.structure import tree_to_record
from reckoner.problems import Location, Problem
from reckoner.records.catalogue import Path, Places, Tree
from reckoner.records.own_change import WORK, OwnChange

#: Keys that say which record it is and so never change.
_FIXED = ("id", "formerly")
#: Lists of a table, each with the key that tells its entries apart.
Lists = tuple[tuple[str, str], ...]
#: Records of the library that an owner may have one over.
RECORDS = (kinds.CHEMICAL, kinds.FORMULA, kinds.PROCESS)
#: Tables of the library: their lists, each with the key that tells its entries apart, or nothing where they add up.
_TABLES: dict[FileKind, Lists] = {
    kinds.FILM_FORMATS: (("formats", "id"),),
    kinds.LOOK_ALIKES: (("groups", ""),),
    kinds.HAZARD_PHRASES: (("adaptations", "name"), ("phrases", "code")),
    kinds.INCOMPATIBILITIES: (("groups", "id"), ("pairs", "")),
    kinds.CAUTIONS: (("cautions", ""),),
    kinds.CONTROL_TESTS: (("tests", "id"),),
}


@dataclass
class _Merged:
    """A tree that grows out of two, with the places of both."""

    tree: dict[str, Tree]
    values: dict[Path, Location] = field(default_factory=dict)
    keys: dict[Path, Location] = field(default_factory=dict)

    def take(self, places: Places, old: Path, new: Path) -> None:
        """The places at and below ``old`` are those at and below ``new``."""
        for table, into in ((places.values, self.values), (places.keys, self.keys)):
            moved = {(*new, *path[len(old) :]): at for path, at in table.items() if path[: len(old)] == old}
            into.update(moved)

    def drop(self, path: Path) -> None:
        """No places at and below ``path``."""
        for table in (self.values, self.keys):
            for known in [known for known in table if known[: len(path)] == path]:
                del table[known]

    def parsed(self, top: Location, problems: tuple[Problem, ...]) -> Parsed:
        """What it has become; an owner's file with faults is none."""
        return Parsed(self.tree, Places(top, self.values, self.keys), problems)


def is_change(parsed: Parsed, kind: FileKind) -> bool:
    """Whether a file of the owner changes single keys of a record."""
    return kind in RECORDS and isinstance(parsed.tree, dict) and CHANGES in parsed.tree


def combined(own: Parsed, library: Parsed, kind: FileKind) -> tuple[Parsed, OwnChange | None]:
    """What stands in the handbook, and what the owner says of a change of single keys."""
    if not isinstance(own.tree, dict) or not isinstance(library.tree, dict):
        return own, None
    if kind in _TABLES:
        return _table(own, library, own.tree, library.tree, _TABLES[kind]), None
    if not is_change(own, kind):
        return own, None
    return _changed(own, library, own.tree, library.tree, kind)


def _changed(
    own: Parsed,
    library: Parsed,
    own_tree: Mapping[str, Tree],
    library_tree: Mapping[str, Tree],
    kind: FileKind,
) -> tuple[Parsed, OwnChange | None]:
    change, faults = tree_to_record(own_tree, own.places, OwnChange)  # type: ignore[arg-type]
    changes = own_tree[CHANGES]
    if change is None or own.problems or not isinstance(changes, dict):
        return Parsed(None, own.places, (*own.problems, *faults)), None
    fixed = tuple(
        Problem(own.places.key(CHANGES, key), f"'{key}' of a record of the library stays (leave {key}: out)")
        for key in _FIXED
        if key in changes
    )
    merged = _Merged(dict(library_tree))
    merged.take(library.places, (), ())
    for key, value in changes.items():
        _put(merged, key, value, own.places, (CHANGES, key))
    beside = ["id", "milder_because", "private", *(["source"] if WORK & set(changes) else [])]
    for key in (key for key in beside if key in own_tree):
        _put(merged, key, own_tree[key], own.places, (key,))
    faults = (*fixed, *left_out(own_tree, library_tree, own.places, kind))
    return merged.parsed(own.places.top, faults), change


def _put(merged: _Merged, key: str, value: Tree, places: Places, path: Path) -> None:
    merged.drop((key,))
    merged.tree[key] = value
    merged.take(places, path, (key,))


def _table(
    own: Parsed,
    library: Parsed,
    own_tree: Mapping[str, Tree],
    library_tree: Mapping[str, Tree],
    lists: tuple[tuple[str, str], ...],
) -> Parsed:
    merged = _Merged(dict(library_tree))
    merged.take(library.places, (), ())
    for key in own_tree:
        if key not in library_tree:
            _put(merged, key, own_tree[key], own.places, (key,))
    for key, told_by in lists:
        theirs, ours = library_tree.get(key), own_tree.get(key, [])
        if isinstance(ours, list) and isinstance(theirs, list):
            merged.tree[key] = _entries(merged, own.places, key, told_by, theirs, ours)
        else:
            _put(merged, key, ours, own.places, (key,))
    return merged.parsed(own.places.top, own.problems)


def _entries(
    merged: _Merged, places: Places, key: str, told_by: str, theirs: list[Tree], ours: list[Tree]
) -> list[Tree]:
    """The library's entries, changed where the owner has one of the same, then the owner's own."""
    entries = list(theirs)
    names = {str(entry.get(told_by)): index for index, entry in enumerate(theirs) if isinstance(entry, dict)}
    for number, entry in enumerate(ours):
        name = entry.get(told_by) if told_by and isinstance(entry, dict) else None
        at = names.get(name) if isinstance(name, str) else None
        before = entries[at] if at is not None else None
        if entry in theirs:
            continue
        if at is None or not isinstance(before, dict) or not isinstance(entry, dict):
            merged.take(places, (key, number), (key, len(entries)))
            entries.append(entry)
            continue
        entries[at] = {**before, **{inner: _added(before.get(inner), value) for inner, value in entry.items()}}
        for inner, value in entry.items():
            held = before.get(inner)
            if isinstance(held, list) and isinstance(value, list):
                new = [item for item in value if item not in held]
                for offset, item in enumerate(new):
                    old = (key, number, inner, value.index(item))
                    merged.take(places, old, (key, at, inner, len(held) + offset))
            else:
                merged.drop((key, at, inner))
                merged.take(places, (key, number, inner), (key, at, inner))
    return entries


def _added(held: Tree | None, value: Tree) -> Tree:
    if isinstance(held, list) and isinstance(value, list):
        return [*held, *(item for item in value if item not in held)]
    return value
