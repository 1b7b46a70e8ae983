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
    found = []
    for other in processes.values():
        if process.adapts == other.id:
            found.append(AdaptedView(writer.process(other.id), True, _rows(other, process, writer)))
        if other.adapts == process.id:
            found.append(AdaptedView(writer.process(other.id), False, _rows(process, other, writer)))
    return tuple(found)


def _rows(published: Process, home: Process, writer: PageWriter) -> tuple[PairedView, ...]:
    found = []
    for one, other in step_pairs(published, home, writer.results.catalogue.formulas):
        name = published.steps[one - 1].name if one else home.steps[(other or 1) - 1].name
        found.append(PairedView(name, _side(published, one, name, writer), _side(home, other, name, writer)))
    return tuple(found)


def _side(process: Process, number: int | None, name: str, writer: PageWriter) -> SideView | None:
    if number is None:
        return None
    step = process.steps[number - 1]
    return SideView(number, "" if step.name == name else step.name, tuple(step_figures(step, writer)))
