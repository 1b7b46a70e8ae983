"""Times at other temperatures that processes list for a bath: published or remembered, never calculated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.temperature import celsius
from reckoner.records.practice import Variation
from reckoner.records.process import Process
from reckoner.records.values import Range


@dataclass(frozen=True)
class ListedTime:
    """A variation of a process: its bath at another temperature than its step is printed with."""

    process: str
    variation: Variation


def listed_times(formula_id: str, processes: Iterable[Process]) -> Iterator[ListedTime]:
    """Every time at another temperature that some process lists for a bath."""
    for process in processes:
        steps = {step.name: step for step in process.steps if any(bath.formula == formula_id for bath in step.baths)}
        for variation in process.variations:
            step = steps.get(variation.step)
            if step is not None and _other(variation.temperature, step.temperature):
                yield ListedTime(process.id, variation)


def _other(span: Range | None, usual: Range | None) -> bool:
    """Whether a temperature is not the usual one, whatever its scale."""
    if span is None or usual is None:
        return span is not None
    return any(
        celsius(end, span.unit) != celsius(usual_end, usual.unit)
        for end, usual_end in zip(_ends(span), _ends(usual), strict=True)
    )


def _ends(span: Range) -> tuple[Decimal, Decimal]:
    return span.low, span.high
