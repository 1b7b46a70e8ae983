"""That a formula does not work as written, as every page, label and list says it."""

from __future__ import annotations

from reckoner.calc.not_working import faulty_baths
from reckoner.pages.shared.parts import Link, PageWriter, source_line
from reckoner.records.process import Process, Step

#: Stands wherever the formula does, and is never folded.
DOES_NOT_WORK = "Does not work as written: do not process film in it."


def in_short(formula_id: str, writer: PageWriter) -> str:
    """The bare statement, for a label, a list and each weighing table; nothing for a sound formula."""
    return DOES_NOT_WORK if formula_id in writer.results.not_working else ""


def with_reasons(formula_id: str, writer: PageWriter) -> str:
    """The statement with every reason, those of solutions inside it by their names; nothing for a sound formula."""
    reasons = [_reason(faulty, formula_id, writer) for faulty in writer.results.not_working.get(formula_id, ())]
    return " ".join((DOES_NOT_WORK, *reasons)) if reasons else ""


def before(formula_id: str, text: str, writer: PageWriter) -> str:
    """A remark of a list, after the statement where there is one."""
    return " ".join(filter(None, (in_short(formula_id, writer), text)))


def baths_of(process: Process, writer: PageWriter) -> tuple[tuple[Link, str], ...]:
    """The baths of a process that do not work as written, with the statement and its reasons."""
    faulty = faulty_baths(process, writer.results.not_working)
    return tuple((writer.formula(bath), with_reasons(bath, writer)) for bath in faulty)


def at_step(step: Step, writer: PageWriter) -> tuple[str, ...]:
    """The baths of one step that do not work as written, each named."""
    faulty = (bath.formula for bath in step.baths if bath.formula in writer.results.not_working)
    return tuple(f"{writer.formula(bath).text}: {in_short(bath, writer)}" for bath in faulty)


def process_in_short(process: Process, writer: PageWriter) -> str:
    """What a list of processes says of one that names such a bath."""
    named = ", ".join(link.text for link, _ in baths_of(process, writer))
    return f"Baths that do not work as written, do not process film in them: {named}." if named else ""


def _reason(faulty: str, formula_id: str, writer: PageWriter) -> str:
    entry = writer.results.catalogue.formulas[faulty].does_not_work
    assert entry is not None, "only such formulas are collected"
    inside = "" if faulty == formula_id else f"It is made with {writer.formula(faulty).text}: "
    return f"{inside}{entry.why.rstrip('.')} ({source_line(entry.certainty, entry.citation)})."
