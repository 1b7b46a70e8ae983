"""How long a formula's bath keeps, how it is used again, and where it goes in the end."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.pages.formula.use_view import UseView, use_view
from reckoner.pages.safety.apart_view import DisposalView, formula_disposal
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.use import Keeping


@dataclass(frozen=True)
class KeepingView:
    """From the bottle to the drain or the collection; ``label`` is the address of its labels."""

    times: tuple[str, ...]
    cautions: tuple[str, ...]
    reuse: UseView
    disposal: DisposalView
    label: str


def keeping_view(result: FormulaResult, writer: PageWriter) -> KeepingView:
    """Put keeping, use and disposal into words."""
    formula = result.formula
    return KeepingView(
        times=tuple(_keeping(keeping, writer) for keeping in formula.keeping),
        cautions=tuple(caution.text for caution in result.cautions.keeping),
        reuse=use_view(formula, writer),
        disposal=formula_disposal(result, writer),
        label=writer.links.path(f"labels/{formula.id}"),
    )


def _keeping(keeping: Keeping, writer: PageWriter) -> str:
    words = [writer.show.range(keeping.time)] if keeping.time else []
    words += [keeping.note] if keeping.note else []
    return f"{keeping.state.capitalize()}: {'; '.join(words)} ({keeping.certainty})"
