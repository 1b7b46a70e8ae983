"""Formulas that do not work as written, and everything that is made with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reckoner.calc.mixing.rollup import uses
from reckoner.records.formula import Formula
from reckoner.records.process import Process


def not_working(formulas: Mapping[str, Formula]) -> dict[str, tuple[str, ...]]:
    """Formula id to the ids of the formulas in it that do not work as written, itself first; sound ones are left out.

    What may be taken instead of an ingredient counts: whoever takes it has the bath that does not work.
    """
    faulty_inside = {i: tuple(j for j in _inside(i, formulas) if formulas[j].does_not_work) for i in formulas}
    return {formula_id: faulty for formula_id, faulty in faulty_inside.items() if faulty}


def faulty_baths(process: Process, faulty: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Ids of a process's baths that do not work as written, in the order of its steps, each once."""
    named = (bath.formula for step in process.steps for bath in step.baths)
    return tuple(dict.fromkeys(formula_id for formula_id in named if formula_id in faulty))


def _inside(formula_id: str, formulas: Mapping[str, Formula]) -> Iterator[str]:
    """A formula and the solutions in it, however deep; a checked catalogue has no cycles."""
    seen: dict[str, None] = {}
    waiting = [formula_id]
    while waiting:
        current = waiting.pop(0)
        if current not in seen:
            seen[current] = None
            waiting.extend(uses(formulas[current]))
    yield from seen
