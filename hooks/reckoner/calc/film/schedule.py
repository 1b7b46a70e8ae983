"""A process by the clock: how long it stays wet, when darkness ends, what to bring to temperature.

Steps are numbered from 1, as they are on the page. The usual bath is the first that a step names.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.temperature import celsius
from reckoner.problems import ValueFault
from reckoner.records.practice import Variation
from reckoner.records.process import Process, Step
from reckoner.records.values import Range

WET = ("bath", "wash", "rinse")
Numbered = tuple[int, Step]


@dataclass(frozen=True)
class WetTime:
    """Seconds in baths and water.

    Attributes:
        low, high: of the steps that are always done.
        untimed: numbers of wet steps without a time, which come on top.
        maybe_low, maybe_high: of the steps that may be left out, together.
        maybe: numbers of these.
    """

    low: Decimal
    high: Decimal
    untimed: tuple[int, ...]
    maybe_low: Decimal
    maybe_high: Decimal
    maybe: tuple[int, ...]


@dataclass(frozen=True)
class LightSpan:
    """Steps one after the other under the same light, the first and the last included."""

    first: int
    last: int
    light: str


@dataclass(frozen=True)
class Warmth:
    """What is brought to one temperature.

    Attributes:
        baths: numbers of the bath steps; ``water`` of the washes and rinses.
    """

    temperature: Range
    tolerance: Range | None
    baths: tuple[int, ...]
    water: tuple[int, ...]


def numbered(process: Process, backing: bool = True) -> tuple[Numbered, ...]:
    """The steps with their numbers; those for film with backing only where it has one."""
    return tuple((n, step) for n, step in enumerate(process.steps, 1) if backing or step.backing is None)


def usual_time(step: Step) -> Range | None:
    """The time of a step in its usual bath."""
    own = step.baths[0].time if step.baths else None
    return own or step.time


def wet_time(process: Process, backing: bool = True) -> WetTime:
    """Time in baths and water, with the usual bath of each step."""
    wet = [(n, step) for n, step in numbered(process, backing) if step.kind in WET]
    maybe = [(n, step) for n, step in wet if step.optional or step.only_for is not None]
    sure = [step for step in wet if step not in maybe]
    low, high = _sum(sure)
    maybe_low, maybe_high = _sum(maybe)
    untimed = tuple(n for n, step in sure if usual_time(step) is None)
    return WetTime(low, high, untimed, maybe_low, maybe_high, tuple(n for n, _ in maybe))


def _sum(steps: Iterable[Numbered]) -> tuple[Decimal, Decimal]:
    times = [time for _, step in steps if (time := usual_time(step)) is not None]
    zero = Decimal(0)
    return sum((time.low for time in times), zero), sum((time.high for time in times), zero)


def light_spans(process: Process) -> Iterator[LightSpan]:
    """The light from step to step."""
    first = 1
    for number, step in enumerate(process.steps, 1):
        following = process.steps[number].light if number < len(process.steps) else None
        if following != step.light:
            yield LightSpan(first, number, step.light)
            first = number + 1


def warmths(process: Process) -> tuple[Warmth, ...]:
    """Everything that has a temperature, by the least that it asks for, the hottest first."""
    by_warmth: dict[tuple[Range, Range | None], list[Numbered]] = {}
    for number, step in enumerate(process.steps, 1):
        own = step.baths[0].temperature if step.baths else None
        temperature = own or step.temperature
        if step.kind in WET and temperature is not None:
            tolerance = step.tolerance if temperature == step.temperature else None
            by_warmth.setdefault((temperature, tolerance), []).append((number, step))
    made = (
        Warmth(
            temperature,
            tolerance,
            tuple(n for n, step in steps if step.kind == "bath"),
            tuple(n for n, step in steps if step.kind != "bath"),
        )
        for (temperature, tolerance), steps in by_warmth.items()
    )
    return tuple(sorted(made, key=_heat))


def _heat(warmth: Warmth) -> tuple[Decimal, Decimal]:
    high, low = (celsius(end, warmth.temperature.unit) for end in (warmth.temperature.high, warmth.temperature.low))
    return -low, high


def varied_time(process: Process, variation: Variation) -> Range:
    """The new time of the step that a variation changes.

    Raises:
        ValueFault: there is no such step, or no time that could be longer or shorter.
    """
    step = next((step for step in process.steps if step.name == variation.step), None)
    if step is None:
        names = ", ".join(dict.fromkeys(step.name for step in process.steps))
        raise ValueFault(f"no step is called '{variation.step}' (write one of: {names})", "step")
    if variation.time is not None:
        return variation.time
    usual = usual_time(step)
    if usual is None:
        raise ValueFault(f"{step.name} has no time that could change (write the whole time)", "step")
    if variation.longer is not None:
        return Range(usual.low + variation.longer.low, usual.high + variation.longer.high, usual.unit)
    assert variation.shorter is not None, "the record asks for one change"
    low, high = usual.low - variation.shorter.high, usual.high - variation.shorter.low
    if low <= 0:
        raise ValueFault(f"{step.name} takes {usual.low} s, and nothing is left of it (check shorter)", "shorter")
    return Range(low, high, usual.unit)
