"""What must be kept apart, and where used baths go."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.incompatible import Meeting, Neighbours, apart_from
from reckoner.pages.shared.parts import Link, PageWriter, SourceView, source_line
from reckoner.pages.trust.dates_view import DatedView, dates_view, disposed
from reckoner.records.formula import DRAINED
from reckoner.records.incompatibility import EVERYWHERE, Pair, SubstanceGroup

COLLECT = "Collect it, always."
#: What each class of waste needs everywhere, before the local rule, and where it may go; common practice. The second
#: sentence gives way where a bath is collected whatever its class: never two that contradict each other.
WASTE: dict[str, tuple[str, str]] = {
    "alkaline developer": (
        "Keep it apart from acid baths and used fixer: with acid its sulfite gives off sulfur dioxide.",
        "Small amounts go down a drain only where the water company allows it, never into a septic tank. A caustic "
        "one, above pH 11, is collected.",
    ),
    "silver-bearing": (
        "It holds silver. Keep it apart from acids, bleach, ammonia and caustic alkali; never treat it with sulfide at "
        "home.",
        COLLECT,
    ),
    "hexavalent chromium": ("Chromium(VI) is hazardous waste everywhere.", COLLECT),
    "acid": (
        "Keep apart from everything else, ferricyanide and chlorine bleach above all.",
        "Bring it to pH 6 to 9, slowly and cold, before it goes anywhere.",
    ),
    "ferricyanide": ("It is a complex cyanide. No acid and no chlorine bleach near it.", COLLECT),
    "formaldehyde": ("In a closed vessel.", COLLECT),
    "oxidiser": (
        "Keep off everything organic. Each bath has a jar of its own, with a cap that vents: two of them together, or "
        "one with chloride and acid, give off oxygen or chlorine and can burst a shut jar.",
        "Reduce it with sulfite, in small portions, outdoors or with extraction, until permanganate is colourless, or "
        "potassium iodide and starch paper stays white in peroxide or persulfate: from an acid bath sulfur dioxide "
        "comes off, which chokes and sets off asthma. Then bring it to pH 6 to 9.",
    ),
    "sulfide": (
        "With acid it gives off hydrogen sulfide, a deadly gas: no acid, no used fixer and no metal salt near it, in a "
        "jar of its own.",
        COLLECT,
    ),
    "general": ("", "Small amounts go down a drain only where the local rule allows it."),
}
#: Statements of a bath that harms water life: it is collected, whatever its class allows.
WATER_LIFE = {"H400", "H410", "H411", "H412", "H413"}


#: Before what a bath holds, or is joined with, on purpose.
BEYOND = "Beyond what it holds or its own step joins it with, never with"
#: Names that a label gives at least, before the others are left to the page.
NAMED = 2


@dataclass(frozen=True)
class PairView:
    """Two things that must not meet."""

    left: str
    right: str
    result: str
    danger: bool
    states: str
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


def pairs_view(meetings: Iterable[Meeting], writer: PageWriter) -> tuple[PairView, ...]:
    """Meetings in words."""
    return tuple(
        PairView(
            left=", ".join(_name(side, writer) for side in meeting.left),
            right=", ".join(_name(side, writer) for side in meeting.right),
            result=f"By design: ventilate. {meeting.by_design}." if meeting.by_design else meeting.pair.result,
            danger=meeting.danger,
            states=_states(meeting.pair, design=not meeting.purpose),
            source=source_line(meeting.pair.certainty, meeting.pair.citation),
        )
        for meeting in meetings
    )


def never_together(groups: Iterable[SubstanceGroup]) -> str:
    """What a jar must never meet, in one line; empty where nothing is recorded."""
    named = "; ".join(group.name for group in groups)
    return f"Never together with: {named}." if named else ""


def bath_never_together(result: FormulaResult, writer: PageWriter) -> str:
    """The same of a bath; what it holds or is joined with on purpose is forbidden beyond that, as in jars and waste."""
    never, designed = _apart(result, writer)
    more = "; ".join(group.name for group in designed)
    beyond = f"{BEYOND}, nor with their jars or waste: {more}." if more else ""
    return " ".join(filter(None, (never_together(never), beyond)))


def never_with_in_short(result: FormulaResult, writer: PageWriter) -> str:
    """The same for a label: groups by their short words, two by their names where those are wanting."""
    never, designed = _apart(result, writer)
    words = list(dict.fromkeys(group.short for group in never if group.short))
    unnamed = [group.name for group in never if group.short is None]
    full = unnamed[: max(NAMED - len(words), 0)]
    words += [*full, *(["others (see its page)"] if len(unnamed) > len(full) else [])]
    more = ", ".join(dict.fromkeys(group.short or group.name for group in designed))
    beyond = f"{BEYOND}: {more}." if more else ""
    return " ".join(filter(None, (f"Never with {', '.join(words)}." if words else "", beyond)))


def _apart(result: FormulaResult, writer: PageWriter) -> tuple[tuple[SubstanceGroup, ...], tuple[SubstanceGroup, ...]]:
    """Groups apart from a bath wholly, and beyond what it holds or what the formulas that it is part of hold."""
    formulas = writer.results.formulas
    whole = (result, *(formulas[i] for i in writer.results.part_of.get(result.formula.id, ())))
    together = (substance.chemical for other in whole for substance in other.hazards.composition.substances)
    return apart_from(result.never_with, together)


def neighbours_view(pairs: Iterable[Neighbours], writer: PageWriter) -> tuple[NeighbourView, ...]:
    """Neighbouring baths in words, the dangerous first."""
    views = (
        NeighbourView(
            writer.formula(neighbours.first),
            writer.formula(neighbours.second),
            pairs_view(neighbours.meetings, writer),
            neighbours.danger,
        )
        for neighbours in pairs
    )
    return tuple(sorted(views, key=lambda view: not view.danger))


def formula_disposal(result: FormulaResult, writer: PageWriter) -> DisposalView:
    """Where a formula's bath goes: of its class, its own record and its computed hazards the strictest holds."""
    formula = result.formula
    harms = bool(WATER_LIFE & {finding.h for finding in result.hazards.findings})
    why = ["The bath is classed as harmful to water life."] if harms and formula.disposal in DRAINED else []
    why += [formula.disposal_note] if formula.disposal_note else []
    return disposal_view(formula.disposal, " ".join(why), harms or formula.disposal_collect, writer)


def disposal_view(kind: str, note: str, collect: bool, writer: PageWriter) -> DisposalView:
    """A class of waste: what holds everywhere, and what the owner's authority says."""
    local = writer.results.catalogue.settings.disposal
    care, otherwise = WASTE[kind]
    end = COLLECT if collect and kind in DRAINED else otherwise
    everywhere = " ".join(words for words in (care, end, note) if words)
    if local is None:
        return DisposalView(kind, everywhere, "No local rule is recorded: ask your authority.", "", "")
    old = writer.old_record("disposal rules", local.authority)
    read = f"read {writer.show.day(local.checked)}" + (", out of date: ask again" if old else "")
    rule = next((rule.text for rule in local.rules if rule.kind == kind), "No rule recorded for this class: ask.")
    return DisposalView(kind, everywhere, f"{rule} ({read})", local.authority, local.link)


def apart_view(writer: PageWriter) -> ApartView:
    """The page of everything that must be kept apart."""
    table = writer.results.catalogue.incompatibilities
    pairs: tuple[PairView, ...] = ()
    if table is not None:
        pairs = tuple(
            PairView(
                _group(table.group(pair.groups[0]), writer),
                _group(table.group(pair.groups[1]), writer),
                pair.result,
                pair.severity == "danger",
                _states(pair, design=True),
                source_line(pair.certainty, pair.citation),
            )
            for pair in sorted(table.pairs, key=lambda pair: (pair.severity != "danger", pair.groups))
        )
    return ApartView(
        title="What to keep apart",
        summary="Pairs that must not meet, on a shelf, in a bath, between baths or in a waste jar",
        pairs=pairs,
        waste=tuple(disposal_view(kind, "", False, writer) for kind in WASTE),
        source=writer.source(table.source) if table else None,
        dates=dates_view(disposed(writer), writer),
    )


def _states(pair: Pair, design: bool = False) -> str:
    """Where a pair holds, where that is not everywhere; for the table itself, which baths hold it by design."""
    where = "" if pair.states == EVERYWHERE else ", ".join(pair.states)
    named = f"by design in a {' or '.join(pair.by_design.purposes)}: ventilate" if pair.by_design and design else ""
    return "; ".join(filter(None, (where, named)))


def _group(group: SubstanceGroup, writer: PageWriter) -> str:
    names = [writer.short_name(chemical) for chemical in group.chemicals] + list(group.also)
    return f"{group.name} ({', '.join(names)})"


def _name(side: str, writer: PageWriter) -> str:
    return writer.short_name(side) if side in writer.results.catalogue.known_chemicals else side
