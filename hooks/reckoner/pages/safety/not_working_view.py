"""That a formula does not work as written, as every page, label and list says it."""

from __future__ import annotations

from collections.abc import Iterable

from reckoner.calc.not_working import faulty_baths
from reckoner.pages.shared.parts import Link, PageWriter, source_line
from reckoner.records.process import Process, Step

#: Stands wherever the formula does, and is never folded.
DOES_NOT_WORK = "Does not work as written: do not process film in it."
#: The same beside a title that a search finds: of a formula or its bottle, and of a process or a plan.
IN_A_TITLE = "does not work as written"
BATHS_IN_A_TITLE = "has baths that do not work as written"


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
    """What a list of processes, the shelf, a comparison and the clock say of one that names such a bath."""
    return baths_in_short((bath.formula for step in process.steps for bath in step.baths), writer)


def plan_in_short(plan_id: str, writer: PageWriter) -> str:
    """What a plan says of the baths that it buys for."""
    return baths_in_short((bath.formula for bath in writer.results.plans[plan_id].bought.baths), writer)


def baths_in_short(formulas: Iterable[str], writer: PageWriter) -> str:
    """Those of some formulas that do not work as written, each once; nothing where all are sound."""
    faulty = dict.fromkeys(formula_id for formula_id in formulas if formula_id in writer.results.not_working)
    named = ", ".join(writer.formula(formula_id).text for formula_id in faulty)
    return f"Baths that do not work as written, do not process film in them: {named}." if named else ""


def beside_title(kind: str, record_id: str, writer: PageWriter) -> str:
    """What stands beside the title of a record's page in a search result; nothing for a sound one."""
    results = writer.results
    if kind == "process":
        return BATHS_IN_A_TITLE if process_in_short(results.catalogue.processes[record_id], writer) else ""
    if kind == "plan":
        return BATHS_IN_A_TITLE if plan_in_short(record_id, writer) else ""
    formula_id = results.bottles[record_id].bottle.formula if kind == "bottle" else record_id
    return IN_A_TITLE if formula_id in results.not_working else ""


def _reason(faulty: str, formula_id: str, writer: PageWriter) -> str:
    entry = writer.results.catalogue.formulas[faulty].does_not_work
    assert entry is not None, "only such formulas are collected"
    inside = "" if faulty == formula_id else f"It is made with {writer.formula(faulty).text}: "
    return f"{inside}{entry.why.rstrip('.')} ({source_line(entry.certainty, entry.citation)})."
