"""What must be kept apart, and where used baths go."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.incompatible import Meeting, Neighbours
from reckoner.pages.dates_view import DatedView, dates_view, disposed
from reckoner.pages.parts import Link, Shower, SourceView, source_line
from reckoner.records.incompatibility import SubstanceGroup

#: What each class of waste needs everywhere, before the local rule; common practice.
WASTE = {
    "alkaline developer": "Keep apart from acids. Small amounts go down a drain only where the water company allows "
    "it, never into a septic tank; neutralise a caustic one first.",
    "silver-bearing": "Collect it: silver. Keep it apart from acids and bleach; never treat it with sulfide at home.",
    "hexavalent chromium": "Collect it, always: chromium(VI) is hazardous waste everywhere.",
    "acid": "Keep apart from everything else; bring to pH 6 to 9, slowly and cold, before it goes anywhere.",
    "ferricyanide": "Collect it where complex cyanides are regulated. No acid and no chlorine bleach near it.",
    "formaldehyde": "Collect it, closed.",
    "oxidiser": "Keep off everything organic. Reduce it with sulfite until it is colourless, then neutralise.",
    "general": "Small amounts down a drain where the local rule allows it.",
}


@dataclass(frozen=True)
class PairView:
    """Two things that must not meet."""

    left: str
    right: str
    result: str
    danger: bool
    source: str


@dataclass(frozen=True)
class NeighbourView:
    """Two baths without a wash between them."""

    first: Link
    second: Link
    pairs: tuple[PairView, ...]
    danger: bool


@dataclass(frozen=True)
class DisposalView:
    """Where a used bath goes."""

    kind: str
    everywhere: str
    local: str
    authority: str
    link: str


@dataclass(frozen=True)
class ApartView:
    """The context of ``apart.md.jinja``: every pair, and every class of waste."""

    title: str
    summary: str
    pairs: tuple[PairView, ...]
    waste: tuple[DisposalView, ...]
    source: SourceView | None
    dates: tuple[DatedView, ...]


def pairs_view(meetings: Iterable[Meeting], shower: Shower) -> tuple[PairView, ...]:
    """Meetings in words."""
    return tuple(
        PairView(
            left=", ".join(_name(one, shower) for one in meeting.left),
            right=", ".join(_name(one, shower) for one in meeting.right),
            result=meeting.pair.result,
            danger=meeting.pair.severity == "danger",
            source=source_line(meeting.pair.certainty, meeting.pair.citation),
        )
        for meeting in meetings
    )


def neighbours_view(found: Iterable[Neighbours], shower: Shower) -> tuple[NeighbourView, ...]:
    """Neighbouring baths in words, the dangerous first."""
    views = (
        NeighbourView(
            shower.formula(one.first), shower.formula(one.second), pairs_view(one.meetings, shower), one.danger
        )
        for one in found
    )
    return tuple(sorted(views, key=lambda view: not view.danger))


def disposal_view(kind: str, note: str, shower: Shower) -> DisposalView:
    """A class of waste: what holds everywhere, and what the owner's authority says."""
    local = shower.results.catalogue.settings.disposal
    everywhere = f"{WASTE[kind]} {note}".strip()
    if local is None:
        return DisposalView(kind, everywhere, "No local rule is recorded: ask your authority.", "", "")
    old = shower.old_record("disposal rules", local.authority)
    read = f"read {shower.show.day(local.checked)}" + (", past its limit: ask again" if old else "")
    rule = next((rule.text for rule in local.rules if rule.kind == kind), "No rule recorded for this class: ask.")
    return DisposalView(kind, everywhere, f"{rule} ({read})", local.authority, local.link)


def apart_view(shower: Shower) -> ApartView:
    """The page of everything that must be kept apart."""
    table = shower.results.catalogue.incompatibilities
    pairs: tuple[PairView, ...] = ()
    if table is not None:
        pairs = tuple(
            PairView(
                _group(table.group(pair.groups[0]), shower),
                _group(table.group(pair.groups[1]), shower),
                pair.result,
                pair.severity == "danger",
                source_line(pair.certainty, pair.citation),
            )
            for pair in sorted(table.pairs, key=lambda pair: (pair.severity != "danger", pair.groups))
        )
    return ApartView(
        title="What to keep apart",
        summary="Pairs that must not meet, on a shelf, in a bath, between baths or in a waste jar",
        pairs=pairs,
        waste=tuple(disposal_view(kind, "", shower) for kind in WASTE),
        source=shower.source(table.source) if table else None,
        dates=dates_view(disposed(shower), shower),
    )


def _group(group: SubstanceGroup, shower: Shower) -> str:
    names = [shower.short_name(chemical) for chemical in group.chemicals] + list(group.also)
    return f"{group.name} ({', '.join(names)})"


def _name(one: str, shower: Shower) -> str:
    return shower.short_name(one) if one in shower.results.catalogue.chemicals else one
