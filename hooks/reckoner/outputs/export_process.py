"""A process in ``data/handbook.json``."""

from __future__ import annotations

from collections.abc import Iterable

from reckoner.calc.film.schedule import WetTime, varied_time, wet_time
from reckoner.calc.mixing.working import plain, plain_if_known
from reckoner.calc.not_working import faulty_baths
from reckoner.calc.results import Results
from reckoner.outputs.export_changes import changed_out
from reckoner.outputs.export_fields import ChangedOut, CostOut, Fields, figure
from reckoner.records.practice import Remark, Variation
from reckoner.records.process import Process, Step
from reckoner.records.values import Range


class SpanOut(Fields):
    """A value or a span, in the unit of its source."""

    low: str = figure("least")
    high: str = figure("most; the same as low for one value")
    unit: str


class StepOut(Fields):
    """One step of a process; times in seconds. ``backing`` is what the film must have for the step to be done."""

    number: int
    name: str
    kind: str
    baths: list[str]
    time: SpanOut | None
    time_note: str | None
    time_certainty: str | None
    temperature: SpanOut | None
    tolerance: SpanOut | None
    temperature_certainty: str | None
    agitation: str | None
    agitation_certainty: str | None
    light: str
    backing: str | None
    only_for: str | None
    optional: bool
    certainty: str
    citation: str | None


class RemarkOut(Fields):
    """One thing that is said, and how sure it is."""

    text: str
    certainty: str
    citation: str | None


class VariationOut(Fields):
    """A step pushed, pulled or at another temperature; the time in seconds."""

    name: str
    step: str
    time: SpanOut
    temperature: SpanOut | None
    note: str | None
    certainty: str
    citation: str | None


class WetTimeOut(Fields):
    """Seconds in baths and water, with the numbers of steps that have no time or may be left out."""

    low: str = figure("seconds, steps that are always done")
    high: str = figure("seconds, steps that are always done")
    untimed: list[int]
    optional_low: str = figure("seconds on top, steps that may be left out")
    optional_high: str = figure("seconds on top, steps that may be left out")
    optional: list[int]


class ProcessOut(Fields):
    """One process: its schedule, the baths of a set, how many sets the packs make, what ends them.

    ``wet_time`` is for film with backing, ``wet_time_without_backing`` null where no step depends on one.
    """

    id: str
    name: str
    changed: list[ChangedOut]
    kind: str
    adapts: str | None
    steps: list[StepOut]
    wet_time: WetTimeOut
    wet_time_without_backing: WetTimeOut | None
    gives_out_first: str | None
    rolls_cautious: str | None
    rolls_generous: str | None
    variations: list[VariationOut]
    backing_removal: list[RemarkOut]
    faults: list[RemarkOut]
    baths: list[str]
    baths_that_do_not_work: list[str]
    complete_sets: int | None
    ends_with: str | None
    restock_cost: str | None
    cost: CostOut


def process_out(process: Process, results: Results, cost: CostOut) -> ProcessOut:
    """The schedule, the sets and the cost of one process."""
    sets, capacity = results.processes[process.id], results.tanks[process.id].capacity
    backed = any(step.backing for step in process.steps)
    return ProcessOut(
        id=process.id,
        name=process.name,
        changed=changed_out("process", process.id, results),
        kind=process.kind,
        adapts=process.adapts,
        steps=[_step(number, step) for number, step in enumerate(process.steps, 1)],
        wet_time=_wet(wet_time(process)),
        wet_time_without_backing=_wet(wet_time(process, backing=False)) if backed else None,
        gives_out_first=capacity.first_out,
        rolls_cautious=plain_if_known(capacity.cautious),
        rolls_generous=plain_if_known(capacity.generous),
        variations=[_variation(process, variation) for variation in process.variations],
        backing_removal=_remarks(process.backing_removal),
        faults=_remarks(process.faults),
        baths=list(sets.baths),
        baths_that_do_not_work=list(faulty_baths(process, results.not_working)),
        complete_sets=sets.made,
        ends_with=sets.ends_with,
        restock_cost=None if sets.restock_cost is None else plain(sets.restock_cost.number, 12),
        cost=cost,
    )


def _step(number: int, step: Step) -> StepOut:
    timed = step.time is not None or step.time_note is not None
    return StepOut(
        number=number,
        name=step.name,
        kind=step.kind,
        baths=[bath.formula for bath in step.baths],
        time=_span(step.time),
        time_note=step.time_note,
        time_certainty=(step.time_certainty or step.certainty) if timed else None,
        temperature=_span(step.temperature),
        tolerance=_span(step.tolerance),
        temperature_certainty=(step.temperature_certainty or step.certainty) if step.temperature else None,
        agitation=step.agitation,
        agitation_certainty=(step.agitation_certainty or step.certainty) if step.agitation else None,
        light=step.light,
        backing=step.backing,
        only_for=step.only_for,
        optional=step.optional,
        certainty=step.certainty,
        citation=step.citation,
    )


def _wet(time: WetTime) -> WetTimeOut:
    return WetTimeOut(
        low=plain(time.low),
        high=plain(time.high),
        untimed=list(time.untimed),
        optional_low=plain(time.maybe_low),
        optional_high=plain(time.maybe_high),
        optional=list(time.maybe),
    )


def _variation(process: Process, variation: Variation) -> VariationOut:
    time = varied_time(process, variation)
    return VariationOut(
        name=variation.name,
        step=variation.step,
        time=SpanOut(low=plain(time.low), high=plain(time.high), unit=time.unit),
        temperature=_span(variation.temperature),
        note=variation.note,
        certainty=variation.certainty,
        citation=variation.citation,
    )


def _remarks(remarks: Iterable[Remark]) -> list[RemarkOut]:
    return [RemarkOut(text=remark.text, certainty=remark.certainty, citation=remark.citation) for remark in remarks]


def _span(value: Range | None) -> SpanOut | None:
    return None if value is None else SpanOut(low=plain(value.low), high=plain(value.high), unit=value.unit)
