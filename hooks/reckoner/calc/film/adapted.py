"""A published process and its home adaptation, step beside step."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import SequenceMatcher

from reckoner.records.formula import Formula
from reckoner.records.process import Process, Step

#: Numbers of the two steps, counted from 1; None where one side has no such step.
StepPair = tuple[int | None, int | None]


def step_pairs(published: Process, home: Process, formulas: Mapping[str, Formula]) -> tuple[StepPair, ...]:
    """Steps that do the same, in order: the same kind, and for baths the same purpose."""
    ours, theirs = ([_deed(step, formulas) for step in process.steps] for process in (published, home))
    pairs: list[StepPair] = []
    for tag, a, a_end, b, b_end in SequenceMatcher(None, ours, theirs, autojunk=False).get_opcodes():
        if tag == "equal":
            pairs += zip(range(a + 1, a_end + 1), range(b + 1, b_end + 1), strict=True)
        else:
            pairs += [(number, None) for number in range(a + 1, a_end + 1)]
            pairs += [(None, number) for number in range(b + 1, b_end + 1)]
    return tuple(pairs)


def _deed(step: Step, formulas: Mapping[str, Formula]) -> tuple[str, str]:
    return step.kind, formulas[step.baths[0].formula].purpose if step.baths else ""
