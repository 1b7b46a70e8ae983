"""What a file with faults refers to, so that a wrong name in it is told in the same run as the rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from reckoner.loading.source import Parsed
from reckoner.problems import Problem
from reckoner.records.catalogue import Catalogue, Path, Places, Reference, Tree
from reckoner.records.values import NO_ID, is_id

#: Keys that hold the id of something, and of what; and keys that hold a list of ids.
NAMED = (("formula", "formula"), ("process", "process"), ("adapts", "process"), ("format", "film format"))
LISTED = (
    ("of", "formula"),
    ("replaces", "formula"),
    ("swap", "chemical"),
    ("chemicals", "chemical"),
    ("compare", "kit"),
    ("avoid", "supplier"),
)


def references(parsed: Parsed) -> tuple[Reference, ...]:
    """Every record that a tree names, a chemical with its form; those that are no ids too."""
    return () if parsed.tree is None else tuple(_walk(parsed.tree, (), parsed.places))


def by_their_names(
    named: Iterable[Reference], problems: Iterable[Problem], catalogue: Catalogue
) -> tuple[tuple[Reference, ...], list[Problem]]:
    """What is left to be looked up by a rule, and the faults without those of which that rule knows more.

    A name that is no id may be one of a chemical, and the form of a known chemical is one of a few.
    """
    left, known_better = [], set()
    for reference in named:
        if not is_id(reference.name):
            if reference.kind != "chemical" or not catalogue.called(reference.name):
                continue
            known_better.add(reference.at)
        if reference.form and not is_id(reference.form):
            if reference.form_at and reference.name in catalogue.chemicals:
                known_better.add(reference.form_at)
            else:
                reference = replace(reference, form=None)
        left.append(reference)
    return tuple(left), [p for p in problems if p.at not in known_better or NO_ID not in p.message]


def _walk(tree: Tree, path: Path, places: Places) -> Iterator[Reference]:
    if isinstance(tree, list):
        for index, item in enumerate(tree):
            yield from _walk(item, (*path, index), places)
    elif isinstance(tree, dict):
        yield from _named(tree, path, places)
        for key, value in tree.items():
            yield from _walk(value, (*path, key), places)


def _named(tree: dict[str, Tree], path: Path, places: Places) -> Iterator[Reference]:
    chemical, form = tree.get("chemical"), tree.get("form")
    if isinstance(chemical, str):
        at, form_at = places.at(*path, "chemical"), places.at(*path, "form")
        yield Reference("chemical", chemical, at, form if isinstance(form, str) else None, form_at)
    for key, kind in NAMED:
        name = tree.get(key)
        if isinstance(name, str):
            yield Reference(kind, name, places.at(*path, key))
    for key, kind in LISTED:
        listed = tree.get(key)
        for index, listed_name in enumerate(listed if isinstance(listed, list) else ()):
            if isinstance(listed_name, str):
                yield Reference(kind, listed_name, places.at(*path, key, index))
