"""The section "how these figures were worked out": every rule used on a page, with its inputs."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.calc.explain import explain
from reckoner.pages.shared.parts import PageWriter


@dataclass(frozen=True)
class WorkingView:
    """One calculation in words."""

    figure: str
    rule: str
    inputs: tuple[str, ...]
    result: str
    source: str


def workings(result: FormulaResult, writer: PageWriter) -> tuple[WorkingView, ...]:
    """All workings of a formula's page."""
    return tuple(
        WorkingView(
            figure=working.figure,
            rule=working.rule,
            inputs=tuple(f"{name}: {value}" for name, value in working.inputs),
            result=working.result,
            source=working.source,
        )
        for working in explain(result, writer.results.catalogue)
    )
