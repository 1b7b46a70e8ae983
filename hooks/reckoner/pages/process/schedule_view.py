"""The schedule of a process in words: each step with its figures, and what to know before the first of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from reckoner.calc.film.schedule import WET, Warmth, WetTime, light_spans, numbered, varied_time, warmths, wet_time
from reckoner.pages.safety.not_working_view import at_step
from reckoner.pages.shared.parts import Link, PageWriter, source_line
from reckoner.records.caution import Caution
from reckoner.records.process import FILM_KINDS, AcceptedBath, Process, Step
from reckoner.records.values import Range

LOADING = (
    "Load the film in total darkness, with the phone out of the room: its screen fogs film, dimmed or red as well."
)
#: Common practice.
UNKNOWN_BACKING = (
    "Rem-jet is a matt black layer on the base side that comes off on a cloth wetted with alkaline water (common "
    "practice). Until you have seen that it is not there, treat the film as one with rem-jet, and never put it in a "
    "shared machine."
)
NO_REMOVAL = "No step of this process takes it off: never put such film in as it is, and never in a shared machine."
LIGHT_WORDS = {"tank shut, room light": "tank shut, in room light"}


@dataclass(frozen=True)
class FigureView:
    """A figure in its scales, the source's first, with what belongs to it and how sure it is."""

    figures: tuple[str, ...]
    note: str
    certainty: str


@dataclass(frozen=True)
class BathView:
    """One acceptable bath of a step."""

    name: Link
    figures: tuple[str, ...]
    facts: tuple[str, ...]


@dataclass(frozen=True)
class StepView:
    """One line of the schedule."""

    number: int
    name: str
    baths: tuple[BathView, ...]
    figures: tuple[FigureView, ...]
    agitation: str
    light: str
    condition: str
    note: str
    certainty: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class WarmView:
    """What is brought to one temperature."""

    temperatures: tuple[str, ...]
    baths: tuple[str, ...]


@dataclass(frozen=True)
class BeginView:
    """What to know before the first step."""

    loading: str
    light: str
    cases: tuple[tuple[str, str], ...]
    warm: tuple[WarmView, ...]
    unwarmed: str


@dataclass(frozen=True)
class VariationView:
    """A step done otherwise."""

    name: str
    step: str
    time: str
    temperature: str
    note: str


def steps_view(process: Process, writer: PageWriter) -> tuple[StepView, ...]:
    """Every step, those for some film only marked."""
    cautions = writer.results.step_cautions[process.id]
    pairs = zip(process.steps, cautions, strict=True)
    return tuple(_step(step, step_cautions, number, writer) for number, (step, step_cautions) in enumerate(pairs, 1))


def begin_view(process: Process, writer: PageWriter) -> BeginView:
    """Light, total time by film, and what to bring to temperature."""
    warm = warmths(process)
    warmed = {number for warmth in warm for number in (*warmth.baths, *warmth.water)}
    rest = [(n, step) for n, step in numbered(process) if step.kind in WET and n not in warmed]
    return BeginView(
        loading=LOADING if process.kind in FILM_KINDS else "",
        light=_light(process),
        cases=tuple(_cases(process, writer)),
        warm=tuple(
            WarmView(writer.show.two_scales(warmth.temperature, warmth.tolerance), _to_warm(warmth, process, writer))
            for warmth in warm
        ),
        unwarmed=_and((n for n, _ in rest), process) if rest else "",
    )


def variations_view(process: Process, writer: PageWriter) -> tuple[VariationView, ...]:
    """Push, pull and other temperatures, in the order of the record."""
    views = []
    for variation in process.variations:
        step = next(step for step in process.steps if step.name == variation.step)
        temperature = variation.temperature or step.temperature
        changes = [(variation.longer, "longer"), (variation.shorter, "shorter")]
        words = [f"{writer.show.range(by)} {word}" for by, word in changes if by is not None]
        words += [variation.note.rstrip(".")] if variation.note else []
        views.append(
            VariationView(
                name=variation.name,
                step=variation.step,
                time=writer.show.range(varied_time(process, variation)),
                temperature=writer.show.both_scales(temperature) if temperature else "",
                note="; ".join((*words, source_line(variation.certainty, variation.citation))),
            )
        )
    return tuple(views)


def step_figures(step: Step, writer: PageWriter) -> Iterator[FigureView]:
    """Time and temperature, each as sure as it is."""
    if step.time or step.time_note:
        time = (writer.show.range(step.time),) if step.time else ()
        yield FigureView(time, step.time_note or "", step.time_certainty or step.certainty)
    if step.temperature:
        yield FigureView(
            writer.show.two_scales(step.temperature, step.tolerance), "", step.temperature_certainty or step.certainty
        )


def _step(step: Step, cautions: tuple[Caution, ...], number: int, writer: PageWriter) -> StepView:
    conditions = [f"only film with {step.backing} backing"] if step.backing else []
    conditions += [step.only_for] if step.only_for else []
    conditions += ["optional"] if step.optional else []
    agitation = f"{step.agitation} ({step.agitation_certainty or step.certainty})" if step.agitation else ""
    figures = tuple(step_figures(step, writer))
    published = "published" in {step.certainty, *(figure.certainty for figure in figures)}
    notes = [step.note] if step.note else []
    notes += [f"Published in: {step.citation}."] if step.citation and published else []
    return StepView(
        number=number,
        name=step.name,
        baths=tuple(_bath(bath, writer) for bath in step.baths),
        figures=figures,
        agitation=agitation,
        light=step.light,
        condition="; ".join(conditions),
        note=" ".join(notes),
        certainty="" if figures else step.certainty,
        cautions=(*at_step(step, writer), *(caution.text for caution in cautions)),
    )


def _bath(bath: AcceptedBath, writer: PageWriter) -> BathView:
    figures = [writer.show.range(bath.time)] if bath.time else []
    figures += [writer.show.both_scales(bath.temperature)] if bath.temperature else []
    facts = [bath.note.rstrip(".")] if bath.note else []
    return BathView(writer.formula(bath.formula), tuple(figures), (*facts, bath.certainty))


def _light(process: Process) -> str:
    """From the steps' own light: until when it is dark, and from when not."""
    spans: list[str] = []
    for span in light_spans(process):
        words = LIGHT_WORDS.get(span.light, span.light)
        if not spans:
            last = process.steps[span.last - 1].name
            spans.append(f"{words.capitalize()}, until the end of step {span.last}, {last}")
        else:
            spans.append(f"from step {span.first}, {process.steps[span.first - 1].name}: {words}")
    return "; ".join(spans) + "."


def _cases(process: Process, writer: PageWriter) -> Iterator[tuple[str, str]]:
    """Which steps a film gets by its backing, with the time that they take."""
    only = [number for number, step in enumerate(process.steps, 1) if step.backing is not None]
    total = _total(wet_time(process), process, writer)
    if not only:
        yield "Total wet time", f"{total}."
        if process.kind in FILM_KINDS:
            yield "Film with rem-jet backing", NO_REMOVAL
            yield "You do not know whether it has one", UNKNOWN_BACKING
        return
    without = _total(wet_time(process, backing=False), process, writer)
    yield "Film with rem-jet backing", f"all steps; total wet time {total}."
    yield "Film without", f"leave out {_numbers(only)}; total wet time {without}."
    yield "You do not know", UNKNOWN_BACKING


def _total(time: WetTime, process: Process, writer: PageWriter) -> str:
    words = [
        writer.show.range(Range(time.low, time.high, "min:sec")) + " (computed, with the bath named first at each step)"
    ]
    if time.maybe:
        more = writer.show.range(Range(time.maybe_low, time.maybe_high, "min:sec"))
        words.append(f"{more} more with {_and(time.maybe, process)}")
    if time.untimed:
        words.append(f"besides {_and(time.untimed, process)}, without a set time")
    return "; ".join(words)


def _and(numbers: Iterable[int], process: Process) -> str:
    *first, last = (f"{process.steps[number - 1].name} (step {number})" for number in numbers)
    return f"{', '.join(first)} and {last}" if first else last


def _numbers(numbers: list[int]) -> str:
    *first, last = (str(number) for number in numbers)
    return f"steps {', '.join(first)} and {last}" if first else f"step {last}"


def _to_warm(warmth: Warmth, process: Process, writer: PageWriter) -> tuple[str, ...]:
    """Baths by step with the volumes of the owner's tanks, then the water."""
    volumes = {tank.volume.base: writer.show.amount(tank.volume) for tank in writer.results.catalogue.settings.tanks}
    by_size = [volumes[size] for size in sorted(volumes)] if process.kind in FILM_KINDS else []
    *fewer, most = by_size or ["one set"]
    fill = f"{', '.join(fewer)} or {most} by tank" if fewer else most
    each = " each" if len(warmth.baths) > 1 else ""
    lines = [f"{_and(warmth.baths, process)}: {fill}{each}"] if warmth.baths else []
    if warmth.water:
        lines.append(f"Water for {_and(warmth.water, process)}: one tankful per change")
    return tuple(lines)
