"""What rests on what: every written value counted by the publication it is from and how sure it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import Any

from reckoner.records.catalogue import Catalogue, Overridden
from reckoner.records.source import Source
from reckoner.records.values import Record

#: Keys that name a record or say something about it, and are no values of it.
NO_VALUES = frozenset(
    ("id", "name", "formerly", "aliases", "synonyms", "source", "certainty", "citation", "private", "note", "notes")
)


@dataclass(frozen=True)
class Provenance:
    """Values by publication.

    Attributes:
        by_citation: citation -> certainty -> values; the citation is empty where no publication is named.
        by_certainty: certainty -> values, named or not.
    """

    by_citation: Mapping[str, Mapping[str, int]]
    by_certainty: Mapping[str, int]


def provenance(catalogue: Catalogue) -> Provenance:
    """Count the values of every record that says where it is from.

    A value is one thing written under a key: an amount, a time, a code, a sentence. It is counted for the nearest
    source around it; a part with a certainty of its own has that one, and its own publication where it names one.
    """
    counts: Counter[tuple[str, str]] = Counter()
    for field in fields(catalogue):
        held = getattr(catalogue, field.name)
        _count(tuple(held.values()) if isinstance(held, Mapping) else held, None, counts)
    for key, over in catalogue.overridden.items():
        _count_as_own(over, catalogue.record(*key), counts)
    for listed in catalogue.price_lists:
        _count(listed.prices, None, counts)
    counted: dict[str, dict[str, int]] = {}
    sure: Counter[str] = Counter()
    for (citation, certainty), number in sorted((+counts).items()):
        of = counted.setdefault(_publication(citation), {})
        of[certainty] = of.get(certainty, 0) + number
        sure[certainty] += number
    return Provenance(counted, dict(sorted(sure.items())))


def _count_as_own(over: Overridden, record: Record, counts: Counter[Rests]) -> None:
    """Values of keys that the owner changes rest on the owner's source, not on that of the library's record."""
    below, own = _rests(record, None), (over.source.citation or "", over.source.certainty)
    for name, sure in _keys(type(record)):
        if name in (over.keys or ()):
            value, certainty = getattr(record, name), getattr(record, sure) if sure else None
            taken: Counter[Rests] = Counter()
            _count(value, _of_key(certainty, below), taken)
            counts.subtract(taken)
            _count(value, _of_key(certainty, own), counts)


def _publication(citation: str) -> str:
    """A citation without the entry of a table that it names.

    >>> _publication("Regulation, Annex VI, table 3, index 005-007-00-2")
    'Regulation, Annex VI, table 3'
    """
    return citation.partition(", index ")[0]


Rests = tuple[str, str]


def _count(value: Any, rests: Rests | None, counts: Counter[Rests]) -> None:
    if isinstance(value, Record):
        below = _rests(value, rests)
        for name, own in _keys(type(value)):
            _count(getattr(value, name), _of_key(getattr(value, own) if own else None, below), counts)
    elif isinstance(value, tuple):
        for item in value:
            _count(item, rests, counts)
    elif rests is not None and value is not None and value is not False and value != "":
        counts[rests] += 1


@cache
def _keys(kind: type[Record]) -> tuple[tuple[str, str], ...]:
    """The keys of a kind of record that hold values, each with the key of a certainty of its own, or nothing."""
    names = [name for name in kind.model_fields if name not in NO_VALUES and not name.endswith("_certainty")]
    return tuple((name, own if (own := f"{name}_certainty") in kind.model_fields else "") for name in names)


def _rests(record: Record, around: Rests | None) -> Rests | None:
    """What the values of a record rest on: its own source, else its own certainty, else what is around it."""
    source = getattr(record, "source", None)
    if isinstance(source, Source):
        return (source.citation or "", source.certainty)
    certainty, citation = getattr(record, "certainty", None), getattr(record, "citation", None)
    if not isinstance(certainty, str):
        return around
    # Common practice and the like have no publication, whatever the record around them names.
    named = around[0] if around and certainty in {"published", "from memory"} else ""
    return (citation or named, certainty)


def _of_key(own: str | None, below: Rests | None) -> Rests | None:
    """A key may be surer or less sure than its record: ``time_certainty`` beside ``time``."""
    return (below[0], own) if below is not None and own is not None else below
