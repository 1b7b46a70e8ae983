"""A published process and its adaptation for the home, step beside step."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.film.adapted import step_pairs
from reckoner.pages.process.schedule_view import FigureView, step_figures
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.records.process import Process


@dataclass(frozen=True)
class SideView:
    """One step of one of the two; ``name`` only where it is not that of the row."""

    number: int
    name: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True)
class PairedView:
    """Two steps that do the same; one of them may be missing."""

    name: str
    published: SideView | None
    home: SideView | None


@dataclass(frozen=True)
class AdaptedView:
    """Both processes, with a link to the page that this one is not."""

    other: Link
    here_is_home: bool
    rows: tuple[PairedView, ...]


def adapted_views(process: Process, writer: PageWriter) -> tuple[AdaptedView, ...]:
    """The published process that this one adapts, and those that adapt this one."""
    processes = writer.results.catalogue.processes
    views = []
    for twin in processes.values():
        if process.adapts == twin.id:
            views.append(AdaptedView(writer.process(twin.id), True, _rows(twin, process, writer)))
        if twin.adapts == process.id:
            views.append(AdaptedView(writer.process(twin.id), False, _rows(process, twin, writer)))
    return tuple(views)


def _rows(published: Process, home: Process, writer: PageWriter) -> tuple[PairedView, ...]:
    pairs = []
    for printed_step, home_step in step_pairs(published, home, writer.results.catalogue.formulas):
        name = published.steps[printed_step - 1].name if printed_step else home.steps[(home_step or 1) - 1].name
        pairs.append(
            PairedView(name, _side(published, printed_step, name, writer), _side(home, home_step, name, writer))
        )
    return tuple(pairs)


def _side(process: Process, number: int | None, name: str, writer: PageWriter) -> SideView | None:
    if number is None:
        return None
    step = process.steps[number - 1]
    return SideView(number, "" if step.name == name else step.name, tuple(step_figures(step, writer)))
