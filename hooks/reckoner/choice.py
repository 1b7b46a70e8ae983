"""What of the library stands in a handbook: what its owner has chosen or names, and all that this needs.

A catalogue goes in and a catalogue comes out, so that ages, warnings and gaps speak of nothing that no page shows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Any

from reckoner.records.catalogue import Catalogue, Path
from reckoner.records.caution import Caution
from reckoner.records.chemical import LookAlike
from reckoner.records.incompatibility import Incompatibilities, SubstanceGroup
from reckoner.records.values import Record

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
    formulas = {i: record for i, record in catalogue.formulas.items() if ("formula", i) in kept}
    processes = {
        i: record if ("process", record.adapts) in kept else record.model_copy(update={"adapts": None})
        for i, record in catalogue.processes.items()
        if ("process", i) in kept
    }
    chemicals = {i: record for i, record in catalogue.chemicals.items() if ("chemical", i) in kept}
    return _tables(replace(catalogue, formulas=formulas, processes=processes, chemicals=chemicals), catalogue)


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
            waiting += _names(records[key]) if key in records else ()
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


def _tables(catalogue: Catalogue, whole: Catalogue) -> Catalogue:
    """Tables without entries that speak only of chemicals which are not there; places follow what is left."""
    dropped: dict[str, set[Path]] = {}
    held = catalogue.chemicals.keys()

    def entries(kind: str, key: str, items: tuple[Any, ...], left: Callable[[Any], Any]) -> tuple[Any, ...]:
        kept = [left(item) for item in items]
        dropped.setdefault(kind, set()).update((key, index) for index, item in enumerate(kept) if item is None)
        return tuple(item for item in kept if item is not None)

    table, look, cautions = catalogue.incompatibilities, catalogue.look_alikes, catalogue.cautions
    if table is not None:
        groups = tuple(group.model_copy(update={"chemicals": _of(group.chemicals, held)}) for group in table.groups)
        empty = {group.id for group in groups if not group.chemicals}
        left = entries("incompatibilities", "pairs", table.pairs, lambda pair: _met(pair, groups, empty))
        table = table.model_copy(update={"groups": groups, "pairs": left})
        # A copy keeps what was worked out of the groups before.
        table = Incompatibilities.model_construct(**dict(table))
    if look is not None:
        left = entries("look_alikes", "groups", look.groups, lambda group: _alike(group, held, whole))
        look = look.model_copy(update={"groups": left})
    if cautions is not None:
        left = entries("cautions", "cautions", cautions.cautions, lambda caution: _said(caution, held))
        cautions = cautions.model_copy(update={"cautions": left})
    files = {catalogue.file_of[kind, ""]: paths for kind, paths in dropped.items()}
    places = {name: at.without(files.get(name, set())) for name, at in catalogue.places.items()}
    return replace(catalogue, incompatibilities=table, look_alikes=look, cautions=cautions, places=places, in_part=True)


def _of(chemicals: Iterable[str], held: Iterable[str]) -> tuple[str, ...]:
    return tuple(chemical for chemical in chemicals if chemical in held)


def _met(pair: Any, groups: tuple[SubstanceGroup, ...], empty: set[str]) -> Any:
    """A pair of which one thing is there, and the other is or stands in no catalogue, as aluminium."""
    sides = [group for group in groups if group.id in pair.groups]
    there = any(group.id not in empty for group in sides)
    return pair if there and all(group.id not in empty or group.also for group in sides) else None


def _alike(group: LookAlike, held: Iterable[str], whole: Catalogue) -> LookAlike | None:
    """A group of which one is there; the others are still on sale, and are named without a page."""
    there = _of(group.chemicals, held)
    others = tuple(whole.chemicals[i].name for i in group.chemicals if i not in there and i in whole.chemicals)
    return group.model_copy(update={"chemicals": there, "also": (*group.also, *others)}) if there else None


def _said(caution: Caution, held: Iterable[str]) -> Caution | None:
    """A caution of a chemical that is there; of none is not of all."""
    there = _of(caution.chemicals, held)
    return None if caution.chemicals and not there else caution.model_copy(update={"chemicals": there})
