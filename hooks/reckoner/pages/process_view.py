"""What a process's page shows: the schedule, its baths, and complete sets from the packs."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.sets import Sets
from reckoner.calc.temperature import other_scale
from reckoner.pages.apart_view import NeighbourView, neighbours_view
from reckoner.pages.cost_view import CostView, process_cost
from reckoner.pages.dates_view import DatedView, costed, dates_view
from reckoner.pages.history_view import HistoryView, history_view
from reckoner.pages.kit_view import KitLine, kit_lines
from reckoner.pages.parts import UNPROVEN, Link, Shower, SourceView
from reckoner.records.caution import Caution
from reckoner.records.process import AcceptedBath, Process, Step
from reckoner.records.values import Range


@dataclass(frozen=True)
class BathView:
    """One acceptable bath of a step."""

    name: Link
    facts: tuple[str, ...]


@dataclass(frozen=True)
class StepView:
    """One line of the schedule."""

    number: int
    name: str
    kind: str
    baths: tuple[BathView, ...]
    time: str
    temperature: str
    agitation: str
    light: str
    condition: str
    note: str
    certainty: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class SetsView:
    """Complete sets from whole packs."""

    one_set: str
    baths: tuple[Link, ...]
    made: str
    ends_with: str
    restock: tuple[str, ...]
    restock_cost: str


@dataclass(frozen=True)
class ProcessView:
    """The context of ``process.md.jinja``."""

    title: str
    summary: str
    also: tuple[str, ...]
    aliases: tuple[str, ...]
    kind: str
    darkness: str
    unproven: str
    cautions: tuple[str, ...]
    steps: tuple[StepView, ...]
    faults: tuple[str, ...]
    notes: tuple[str, ...]
    neighbours: tuple[NeighbourView, ...]
    sets: SetsView
    cost: CostView
    history: HistoryView
    kit_or_own: tuple[KitLine, ...]
    source: SourceView
    old_record: str
    dates: tuple[DatedView, ...]


def process_view(process: Process, sets: Sets, shower: Shower) -> ProcessView:
    """Put one process into words."""
    certain = process.source.certainty == "published"
    opening = "Common practice" if process.source.certainty == "common practice" else "From memory"
    return ProcessView(
        title=process.name,
        summary=process.kind.capitalize(),
        also=process.also_published_as,
        aliases=process.aliases,
        kind=process.kind,
        darkness=process.darkness,
        unproven="" if certain else f"{opening}: {UNPROVEN}",
        cautions=process.cautions,
        steps=_steps(process, shower),
        faults=process.faults,
        notes=process.notes,
        neighbours=neighbours_view(shower.results.neighbours.get(process.id, ()), shower),
        sets=_sets(sets, shower),
        cost=process_cost(process.id, sets, shower),
        history=history_view(shower.results.history.processes[process.id], "A litre of each bath", shower),
        kit_or_own=kit_lines(process.id, shower),
        source=shower.source(process.source),
        old_record=shower.old_record("process", process.id),
        dates=dates_view((("process", process.id, None), *costed(sets.cost)), shower),
    )


def _steps(process: Process, shower: Shower) -> tuple[StepView, ...]:
    cautions = shower.results.step_cautions[process.id]
    pairs = zip(process.steps, cautions, strict=True)
    return tuple(_step(step, said, number, shower) for number, (step, said) in enumerate(pairs, 1))


def _step(step: Step, cautions: tuple[Caution, ...], number: int, shower: Shower) -> StepView:
    time = shower.show.range(step.time) if step.time else ""
    if step.time_note:
        time = f"{time} ({step.time_note})" if time else step.time_note
    conditions = [step.only_for] if step.only_for else []
    conditions += ["optional"] if step.optional else []
    return StepView(
        number=number,
        name=step.name,
        kind=step.kind,
        baths=tuple(_bath(bath, shower) for bath in step.baths),
        time=time,
        temperature=_temperature(step, shower),
        agitation=step.agitation or "",
        light=step.light,
        condition="; ".join(conditions),
        note=step.note or "",
        certainty=step.certainty,
        cautions=tuple(caution.text for caution in cautions),
    )


def _bath(bath: AcceptedBath, shower: Shower) -> BathView:
    facts = []
    if bath.time:
        facts.append(shower.show.range(bath.time))
    if bath.temperature:
        facts.append(both_scales(bath.temperature, None, shower))
    if bath.note:
        facts.append(bath.note.rstrip("."))
    return BathView(shower.formula(bath.formula), (*facts, bath.certainty))


def _temperature(step: Step, shower: Shower) -> str:
    return both_scales(step.temperature, step.tolerance, shower) if step.temperature else ""


def both_scales(value: Range, tolerance: Range | None, shower: Shower) -> str:
    """A temperature in the source's scale first, the other in brackets."""
    other, other_tolerance = other_scale(value, tolerance)
    return f"{_scale(value, tolerance, shower)} ({_scale(other, other_tolerance, shower)})"


def _scale(value: Range, tolerance: Range | None, shower: Shower) -> str:
    if tolerance is None:
        return shower.show.range(value)
    number, unit = shower.show.range(value).split("\u00a0")
    return f"{number}\u00a0±\u00a0{shower.show.number(tolerance.high)}\u00a0{unit}"


def _sets(sets: Sets, shower: Shower) -> SetsView:
    return SetsView(
        one_set=shower.show.exactish(sets.cost.batch_litres, "L"),
        baths=tuple(shower.formula(f) for f in sets.baths),
        made="" if sets.made is None else str(sets.made),
        ends_with=shower.short_name(sets.ends_with) if sets.ends_with else "",
        restock=tuple(f"{packs} × {shower.short_name(c)}" for c, packs in sets.restock),
        restock_cost="" if sets.restock_cost is None else shower.show.money(sets.restock_cost),
    )
