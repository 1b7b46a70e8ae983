"""What a file with faults refers to, so that a wrong name in it is told in the same run as the rest."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.loading.source import Parsed, Tree
from reckoner.records.catalogue import Path, Places, Reference


def references(parsed: Parsed) -> tuple[Reference, ...]:
    """Every chemical with its form, and every formula, that a tree names."""
    return () if parsed.tree is None else tuple(_walk(parsed.tree, (), parsed.places))


def _walk(tree: Tree, path: Path, places: Places) -> Iterator[Reference]:
    if isinstance(tree, list):
        for index, item in enumerate(tree):
            yield from _walk(item, (*path, index), places)
    elif isinstance(tree, dict):
        yield from _named(tree, path, places)
        for key, value in tree.items():
            yield from _walk(value, (*path, key), places)


def _named(tree: dict[str, Tree], path: Path, places: Places) -> Iterator[Reference]:
    chemical, form, formula, used = (tree.get(key) for key in ("chemical", "form", "formula", "of"))
    if isinstance(chemical, str):
        at, form_at = places.at(*path, "chemical"), places.at(*path, "form")
        yield Reference("chemical", chemical, at, form if isinstance(form, str) else None, form_at)
    if isinstance(formula, str):
        yield Reference("formula", formula, places.at(*path, "formula"))
    for index, one in enumerate(used if isinstance(used, list) else ()):
        if isinstance(one, str):
            yield Reference("formula", one, places.at(*path, "of", index))
