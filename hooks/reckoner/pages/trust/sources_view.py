"""Every publication that the data name, with how many values rest on it and how sure they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.records.source import Certainty

#: What each word means is told on "About".
CERTAINTIES: tuple[str, ...] = get_args(Certainty)


@dataclass(frozen=True)
class SourceLine:
    """One publication; ``counts`` says how many values of each certainty."""

    name: str
    counts: str


@dataclass(frozen=True)
class SourcesView:
    """The context of ``sources.md.jinja``.

    Attributes:
        layers: how many records are the library's, and how many are not; nothing where there is no library.
        changed: records that stand over one of the library.
    """

    title: str
    summary: str
    together: tuple[tuple[str, str], ...]
    layers: tuple[tuple[str, str], ...]
    changed: tuple[Link, ...]
    named: tuple[SourceLine, ...]
    unnamed: str
    about: str


def sources_view(writer: PageWriter) -> SourcesView:
    """Publications with the most values first."""
    counted = writer.results.rests_on
    named = {name: counts for name, counts in counted.by_citation.items() if name}
    order = sorted(named, key=lambda name: (-sum(named[name].values()), name.lower()))
    return SourcesView(
        title="Sources",
        summary=f"{len(named)} publications, with what rests on each",
        together=tuple((word, str(counted.by_certainty[word])) for word in CERTAINTIES if word in counted.by_certainty),
        layers=_layers(writer),
        changed=tuple(_link(kind, record_id, writer) for kind, record_id in writer.results.own_changes),
        named=tuple(SourceLine(name, _counts(named[name])) for name in order),
        unnamed=_counts(counted.by_citation.get("", {})),
        about=writer.links.path("about"),
    )


def _layers(writer: PageWriter) -> tuple[tuple[str, str], ...]:
    catalogue = writer.results.catalogue
    if not catalogue.library_files:
        return ()
    keys = [
        *(("chemical", i) for i in catalogue.chemicals),
        *(("formula", i) for i in catalogue.formulas),
        *(("process", i) for i in catalogue.processes),
    ]
    over = writer.results.own_changes
    own = sum(key not in catalogue.shipped and key not in over for key in keys)
    whole = sum(changes.whole for changes in over.values())
    counts = (
        ("the library's", len(keys) - own - len(over)),
        ("the library's, with single keys changed here", len(over) - whole),
        ("this handbook's own, in place of the library's", whole),
        ("this handbook's own", own),
    )
    return tuple((words, str(count)) for words, count in counts if count)


def _link(kind: str, record_id: str, writer: PageWriter) -> Link:
    to = {"chemical": writer.chemical, "formula": writer.formula, "process": writer.process}
    return to[kind](record_id)


def _counts(counts: Mapping[str, int]) -> str:
    return ", ".join(f"{counts[word]} {word}" for word in CERTAINTIES if word in counts)
