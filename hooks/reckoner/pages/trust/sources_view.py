"""Every publication that the data name, with how many values rest on it and how sure they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from reckoner.pages.shared.parts import PageWriter
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
    """The context of ``sources.md.jinja``."""

    title: str
    summary: str
    together: tuple[tuple[str, str], ...]
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
        named=tuple(SourceLine(name, _counts(named[name])) for name in order),
        unnamed=_counts(counted.by_citation.get("", {})),
        about=writer.links.path("about"),
    )


def _counts(counts: Mapping[str, int]) -> str:
    return ", ".join(f"{counts[word]} {word}" for word in CERTAINTIES if word in counts)
