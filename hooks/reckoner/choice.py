"""What of the library stands in a handbook: what its owner has chosen or names, and all that this needs.

A catalogue goes in and a catalogue comes out, so that ages, warnings and gaps speak of nothing that no page shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from reckoner.records.catalogue import Catalogue, Unchosen
from reckoner.records.values import Record

R = TypeVar("R", bound=Record)

#: Keys that name a record by its id: kind of what is named.
_NAMED = {
    "formula": "formula",
    "of": "formula",
    "replaces": "formula",
    "process": "process",
    "chemical": "chemical",
    "swap": "chemical",
}
#: Water is in every bath.
_ALWAYS = {("chemical", "water")}
Key = tuple[str, str]


def with_what_is_chosen(catalogue: Catalogue) -> Catalogue:
    """A catalogue of everything that was loaded, without what of the library nobody chose or needs."""
    chosen = catalogue.settings.library
    if chosen is None or chosen.everything:
        return catalogue
    kept = _needed(catalogue)
    formulas, no_formulas = _parted("formula", catalogue.formulas, kept)
    processes, no_processes = _parted("process", catalogue.processes, kept)
    chemicals, no_chemicals = _parted("chemical", catalogue.chemicals, kept)
    before = catalogue.unchosen or Unchosen()
    unchosen = Unchosen(
        {**before.chemicals, **no_chemicals},
        {**before.formulas, **no_formulas},
        {**before.processes, **no_processes},
    )
    adapting = {
        i: record if ("process", record.adapts) in kept else record.model_copy(update={"adapts": None})
        for i, record in processes.items()
    }
    left = replace(catalogue, formulas=formulas, processes=adapting, chemicals=chemicals, unchosen=unchosen)
    return _pairs(left)


def _parted(kind: str, records: Mapping[str, R], kept: set[Key]) -> tuple[dict[str, R], dict[str, R]]:
    """What is kept of some records, and what is not."""
    there = {i: record for i, record in records.items() if (kind, i) in kept}
    return there, {i: record for i, record in records.items() if i not in there}


def _needed(catalogue: Catalogue) -> set[Key]:
    """Kind and id of what is the owner's, chosen, or named by one that is needed."""
    records: dict[Key, Record] = {
        **{("formula", i): record for i, record in catalogue.formulas.items()},
        **{("process", i): record for i, record in catalogue.processes.items()},
        **{("chemical", i): record for i, record in catalogue.chemicals.items()},
    }
    own = [key for key in records if key not in catalogue.shipped]
    beside: list[Record | None] = [catalogue.shelf, *catalogue.plans.values(), *catalogue.kits.values()]
    beside += [listed.prices for listed in catalogue.price_lists]
    waiting = [*own, *_chosen(catalogue), *(name for record in beside if record for name in _names(record))]
    adapting = (catalogue.processes[name] for kind, name in own if kind == "process")
    waiting += [("process", record.adapts) for record in adapting if record.adapts]
    kept = set(_ALWAYS)
    while waiting:
        key = waiting.pop()
        if key not in kept:
            kept.add(key)
            waiting += (name for record in _of(key, records, catalogue) for name in _names(record))
    return kept


def _chosen(catalogue: Catalogue) -> Iterator[Key]:
    chosen = catalogue.settings.library
    assert chosen is not None, "asked only of a handbook over the library"
    yield from (("process", name) for name in chosen.processes)
    yield from (("formula", name) for name in chosen.formulas)
    yield from (("formula", i) for i, record in catalogue.formulas.items() if record.purpose in chosen.purposes)


def _names(record: Record) -> Iterator[Key]:
    """Kind and id of every record that one names."""
    for key in type(record).model_fields:
        value = getattr(record, key)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, Record):
                yield from _names(item)
            elif isinstance(item, str) and key in _NAMED:
                yield _NAMED[key], item


def _of(key: Key, records: Mapping[Key, Record], catalogue: Catalogue) -> Iterator[Record]:
    """A record, and that of the library in whose place others see nothing of it."""
    if record := records.get(key):
        yield record
        if record.owners_only and key in catalogue.overridden:
            yield catalogue.overridden[key].library


def _pairs(catalogue: Catalogue) -> Catalogue:
    """The table of what must not meet without pairs of which neither half is there; places follow what is left.

    All else in the tables stays word for word: a danger is no smaller because its other half is not on the shelf, and
    a caution says itself where it holds.
    """
    table, held = catalogue.incompatibilities, catalogue.chemicals.keys()
    if table is None:
        return catalogue
    there = {group.id for group in table.groups if held & set(group.chemicals)}
    gone = {("pairs", index) for index, pair in enumerate(table.pairs) if not there & set(pair.groups)}
    left = tuple(pair for index, pair in enumerate(table.pairs) if ("pairs", index) not in gone)
    file = catalogue.file_of["incompatibilities", ""]
    places = {**catalogue.places, file: catalogue.places[file].without(set(gone))}
    return replace(catalogue, incompatibilities=table.model_copy(update={"pairs": left}), places=places)
