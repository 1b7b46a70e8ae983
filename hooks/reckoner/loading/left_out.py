"""Entries of the library's lists that are not in an owner's list in its place: never left out in silence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from reckoner.loading import kinds
from reckoner.loading.kinds import FileKind
from reckoner.problems import Problem
from reckoner.records.catalogue import Places, Tree

CHANGES, LEAVES_OUT = "changes", "leaves_out"
#: Keys that tell the entries of a list apart; the first of them that an entry has counts.
_TOLD_BY = ("id", "chemical", "formula", "name", "state", "format")
#: Of these a chemical's record says in ``milder_because:`` why they are less.
_MILDER = ("hazards", "cautions", "restrictions")
#: So many names are said.
_SAID = 8


def left_out(
    own_tree: Mapping[str, Tree], library_tree: Mapping[str, Tree], places: Places, kind: FileKind
) -> Iterator[Problem]:
    """Lists in ``changes:`` with less in them than the library's, unless ``leaves_out:`` names them; and names there
    that leave nothing out.
    """
    changes, meant = own_tree[CHANGES], own_tree.get(LEAVES_OUT, [])
    assert isinstance(changes, dict), "else it is no change"
    meant = meant if isinstance(meant, list) else []
    asked_elsewhere = _MILDER if kind is kinds.CHEMICAL else ()
    shorter = set()
    for key, value in changes.items():
        theirs = library_tree.get(key)
        if key in asked_elsewhere or not isinstance(theirs, list) or not isinstance(value, list):
            continue
        count, names = _missing(value, theirs)
        if count:
            shorter.add(key)
        if count and key not in meant:
            said = f": {', '.join(names[:_SAID])}{', …' * (len(names) > _SAID)}" if names else ""
            of = f"{count} of the library's {len(theirs)} entries" if len(theirs) > 1 else "the library's one entry"
            advice = f"write the whole list; where they are meant to go, write leaves_out: [{key}] beside {CHANGES}:"
            yield Problem(places.key(CHANGES, key), f"{key} leaves out {of}{said} ({advice})")
    for index, named in enumerate(meant):
        if named not in shorter:
            why = (
                "milder_because: says why there is less in it" if named in asked_elsewhere else "it leaves nothing out"
            )
            yield Problem(places.at(LEAVES_OUT, index), f"'{named}' need not stand here: {why} (take it out)")


def _missing(ours: list[Tree], theirs: list[Tree]) -> tuple[int, list[str]]:
    """How many of the library's entries are not there, and the names of those that have one."""
    mine, library = Counter(map(_identity, ours)), Counter(map(_identity, theirs))
    unnamed = max(library.pop(None, 0) - mine.pop(None, 0), 0)
    gone = library - mine
    return unnamed + gone.total(), [told[1] for told in gone.elements() if told is not None]


def _identity(entry: Tree) -> tuple[str, str] | None:
    """What tells an entry from others: a key and its value; None where it has no such key."""
    if not isinstance(entry, dict):
        return None
    return next(((key, value) for key in _TOLD_BY if isinstance(value := entry.get(key), str)), None)
