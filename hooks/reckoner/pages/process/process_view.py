"""What a process's page shows: the schedule, its baths, and complete sets from the packs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from markupsafe import Markup

from reckoner.calc.prices.complete_sets import Sets
from reckoner.pages.compare.kit_view import KitLine, kit_lines
from reckoner.pages.prices.cost_view import CostView, process_cost
from reckoner.pages.prices.history_view import HistoryView, history_view
from reckoner.pages.process.adapted_view import AdaptedView, adapted_views
from reckoner.pages.process.control_view import ControlView, controls_view
from reckoner.pages.process.schedule_data import schedule_data
from reckoner.pages.process.schedule_view import (
    BeginView,
    StepView,
    VariationView,
    begin_view,
    steps_view,
    variations_view,
)
from reckoner.pages.process.tank_view import TanksView, tanks_view
from reckoner.pages.safety.apart_view import NeighbourView, neighbours_view
from reckoner.pages.safety.not_working_view import baths_of
from reckoner.pages.shared.parts import Link, PageWriter, SourceView, source_line, unproven_words
from reckoner.pages.trust.dates_view import DatedView, costed, dates_view
from reckoner.pages.trust.own_change_view import OwnChangeView, milder_jars, own_change_view
from reckoner.records.practice import Remark
from reckoner.records.process import FILM_KINDS, Process


@dataclass(frozen=True)
class SetsView:
    """Complete sets from whole packs."""

    one_set: str
    baths: tuple[Link, ...]
    made: str
    ends_with: str
    restock: tuple[str, ...]
    restock_cost: str


UNVARIED = "No time for push, pull or another temperature is recorded for this process."


@dataclass(frozen=True)
class ProcessView:
    """The context of ``process.md.jinja``."""

    title: str
    summary: str
    also: tuple[str, ...]
    aliases: tuple[str, ...]
    darkness: str
    not_working: tuple[tuple[Link, str], ...]
    unproven: str
    accident: str
    cautions: tuple[str, ...]
    begin: BeginView
    steps: tuple[StepView, ...]
    variations: tuple[VariationView, ...]
    unvaried: str
    removal: tuple[tuple[str, str], ...]
    tanks: TanksView | None
    schedule: Markup
    scripts: tuple[str, ...]
    adapted: tuple[AdaptedView, ...]
    faults: tuple[tuple[str, str], ...]
    controls: tuple[ControlView, ...]
    notes: tuple[str, ...]
    neighbours: tuple[NeighbourView, ...]
    sets: SetsView
    cost: CostView
    history: HistoryView
    kit_or_own: tuple[KitLine, ...]
    source: SourceView
    whose: str
    own_change: OwnChangeView | None
    old_record: str
    dates: tuple[DatedView, ...]


def process_view(process: Process, sets: Sets, writer: PageWriter) -> ProcessView:
    """Put one process into words."""
    certain = process.source.certainty == "published"
    return ProcessView(
        title=process.name,
        summary=process.kind.capitalize(),
        also=process.also_published_as,
        aliases=process.aliases,
        darkness=process.darkness,
        not_working=baths_of(process, writer),
        unproven="" if certain else unproven_words(process.source.certainty),
        accident=writer.links.path("accident"),
        cautions=(*process.cautions, *milder_jars(_inside(process, writer), writer)),
        begin=begin_view(process, writer),
        steps=steps_view(process, writer),
        variations=variations_view(process, writer),
        unvaried=UNVARIED if process.kind in FILM_KINDS and not process.variations else "",
        removal=_remarks(process.backing_removal),
        schedule=schedule_data(process, writer),
        scripts=tuple(writer.links.file(f"assets/{name}.js") for name in ("signal", "run")),
        tanks=tanks_view(writer.results.tanks[process.id], writer) if process.kind in FILM_KINDS else None,
        adapted=adapted_views(process, writer),
        faults=_remarks(process.faults),
        controls=controls_view(_purposes(process, writer), writer),
        notes=process.notes,
        neighbours=neighbours_view(writer.results.neighbours.get(process.id, ()), writer),
        sets=_sets(sets, writer),
        cost=process_cost(process.id, sets, writer),
        history=history_view(writer.results.history.processes[process.id], "A litre of each bath", writer),
        kit_or_own=kit_lines(process.id, writer),
        source=writer.source(process.source),
        whose=writer.whose("process", process.id),
        own_change=own_change_view("process", process.id, writer),
        old_record=writer.old_record("process", process.id),
        dates=dates_view((("process", process.id, None), *costed(sets.cost)), writer),
    )


def _inside(process: Process, writer: PageWriter) -> Iterator[str]:
    """The chemicals of all its baths."""
    for bath in (bath for step in process.steps for bath in step.baths):
        yield from (s.chemical for s in writer.results.formulas[bath.formula].hazards.composition.substances)


def _remarks(remarks: Iterable[Remark]) -> tuple[tuple[str, str], ...]:
    return tuple((remark.text, source_line(remark.certainty, remark.citation)) for remark in remarks)


def _purposes(process: Process, writer: PageWriter) -> set[str]:
    formulas = writer.results.catalogue.formulas
    return {formulas[bath.formula].purpose for step in process.steps for bath in step.baths}


def _sets(sets: Sets, writer: PageWriter) -> SetsView:
    return SetsView(
        one_set=writer.show.exactish(sets.cost.batch_litres, "L"),
        baths=tuple(writer.formula(f) for f in sets.baths),
        made="" if sets.made is None else str(sets.made),
        ends_with=writer.short_name(sets.ends_with) if sets.ends_with else "",
        restock=tuple(f"{packs} × {writer.short_name(c)}" for c, packs in sets.restock),
        restock_cost="" if sets.restock_cost is None else writer.show.money(sets.restock_cost),
    )
