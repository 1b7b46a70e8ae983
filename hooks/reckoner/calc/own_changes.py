"""What the owner's records say otherwise than those of the library that they stand over, key by key."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from reckoner.calc.hazards.milder import milder
from reckoner.records.catalogue import Catalogue, Overridden
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula
from reckoner.records.hazard import Classification
from reckoner.records.own_change import WORK
from reckoner.records.process import Process
from reckoner.records.source import Source
from reckoner.records.values import Record

#: Which record it is, and what is told beside the differences or is the owner's alone.
_NOT_COMPARED = frozenset({"id", "formerly", "source", "milder_because", "log", "private"})
#: Keys that tell the records of a list apart, the first that does.
_TELLING = (
    *("state", "format", "name", "id", "chemical", "formula", "hazard", "step", "where", "way", "h", "temperature"),
    "forms",
)
#: Keys beside the weights that are no weights.
_REMARKS = frozenset({"note", "as_published"})


@dataclass(frozen=True)
class Place:
    """A place in a list: its number from 0 here and, where one key tells it from the others, that key and its value."""

    number: int
    key: str = ""
    name: Any = None


@dataclass(frozen=True)
class Difference:
    """One value that differs.

    Attributes:
        path: keys as in a file, and places in lists.
        library, here: the values; None where there is none. Of lists that are not equally long, one item.
    """

    path: tuple[str | Place, ...]
    library: Any
    here: Any

    @property
    def key(self) -> str:
        """The path as text: ``keeping.0.time``."""
        return ".".join(str(step.number) if isinstance(step, Place) else step for step in self.path)

    @property
    def last(self) -> str:
        """The key of the value, or of the list that it stands in."""
        return next(step for step in reversed(self.path) if isinstance(step, str))

    @property
    def weighed(self) -> bool:
        """Whether other weights or steps follow from it."""
        return self.path[0] in WORK and self.path[-1] not in _REMARKS


@dataclass(frozen=True)
class OwnChanges:
    """What one record of the owner changes.

    Attributes:
        library: source of the library's record.
        here: source of the owner's record or change.
        whole: the owner's record stands in the library's place.
        milder: what of a chemical's dangers is weaker here, and
        because: why.
    """

    differences: tuple[Difference, ...]
    library: Source
    here: Source
    whole: bool
    milder: tuple[str, ...] = ()
    because: str = ""

    @property
    def own_weights(self) -> bool:
        """Whether what is weighed is the owner's word."""
        return any(difference.weighed for difference in self.differences)


def own_changes(catalogue: Catalogue) -> dict[tuple[str, str], OwnChanges]:
    """Every record of the owner over one of the library, by kind and id."""
    return {key: _changes(over, catalogue.record(*key)) for key, over in sorted(catalogue.overridden.items())}


def _changes(over: Overridden, here: Chemical | Formula | Process) -> OwnChanges:
    lost: tuple[str, ...] = ()
    if isinstance(here, Chemical) and isinstance(over.library, Chemical):
        lost = tuple(dict.fromkeys(loss.text for loss in milder(here, over.library)))
    return OwnChanges(
        differences=tuple(_of_records(over.library, here, ())),
        library=over.library.source,
        here=over.source,
        whole=over.whole,
        milder=lost,
        because=(here.milder_because or "") if lost and isinstance(here, Chemical) else "",
    )


Steps = tuple[str | Place, ...]


def _of_records(library: Record, here: Record, path: Steps) -> Iterator[Difference]:
    for name, field in type(here).model_fields.items():
        if path or name not in _NOT_COMPARED:
            yield from _of_values(getattr(library, name), getattr(here, name), (*path, field.alias or name))


def _of_values(library: Any, here: Any, path: Steps) -> Iterator[Difference]:
    if library == here:
        return
    if isinstance(library, Record) and isinstance(here, Record):
        yield from _of_records(library, here, path)
    elif isinstance(library, tuple) and isinstance(here, tuple) and not _amounts(library, here):
        yield from _of_lists(library, here, path)
    else:
        yield Difference(path, library, here)


def _amounts(library: tuple[Any, ...], here: tuple[Any, ...]) -> bool:
    """Whether these are sums in old units, which are one value each."""
    return not any(isinstance(item, (Record, str)) for item in (*library, *here))


def _of_lists(library: tuple[Any, ...], here: tuple[Any, ...], path: Steps) -> Iterator[Difference]:
    """Entries that are the same thing side by side, then what stands in one list only; texts by their order.

    Lists of equal length go item by item where nothing moved up or down, and where things have changed places. The
    order of hazard classes says nothing.
    """
    pairs = _pairs(library, here)
    news = [new for _, new in pairs]
    ordered = not any(isinstance(item, Classification) for item in (*library, *here))
    swapped = ordered and news != sorted(news)
    if ordered and len(library) == len(here) and (swapped or all(old == new for old, new in pairs)):
        pairs = [(number, number) for number in range(len(here))]
    elif swapped:
        pairs = []
    for old, new in pairs:
        yield from _of_values(library[old], here[new], (*path, _place(old, new, library, here)))
    before = [item for number, item in enumerate(library) if number not in {old for old, _ in pairs}]
    after = [item for number, item in enumerate(here) if number not in {new for _, new in pairs}]
    lost, added = _only(before, after), _only(after, before)
    if all(isinstance(item, str) for item in (*lost, *added)):
        yield from (Difference(path, old, new) for old, new in zip_longest(lost, added))
    else:
        yield from (Difference(path, item, None) for item in lost)
        yield from (Difference(path, None, item) for item in added)


def _pairs(library: tuple[Any, ...], here: tuple[Any, ...]) -> list[tuple[int, int]]:
    """Numbers of the entries that are the same thing in both lists, in the library's order."""
    names = [_name(item, here) for item in here]
    told = ((old, _name(item, library)) for old, item in enumerate(library))
    return [(old, names.index(name)) for old, name in told if name is not None and name in names]


def _name(item: Any, items: tuple[Any, ...]) -> tuple[str, Any] | None:
    """The first key that tells an entry from the others of its list, with what it says."""
    for key in _TELLING:
        value = getattr(item, key, None)
        if value is not None and [getattr(other, key, None) for other in items].count(value) == 1:
            return key, value
    return None


def _only(mine: Sequence[Any], theirs: Sequence[Any]) -> list[Any]:
    left = list(theirs)
    # Records are not hashable where they hold lists of others.
    return [item for item in mine if item not in left or left.remove(item)]  # type: ignore[func-returns-value]


def _place(old: int, new: int, library: tuple[Any, ...], here: tuple[Any, ...]) -> Place:
    for key in _TELLING:
        names = [getattr(item, key, None) for item in here]
        name = names[new]
        if name is not None and name == getattr(library[old], key, None) and names.count(name) == 1:
            return Place(new, key, name)
    return Place(new)
