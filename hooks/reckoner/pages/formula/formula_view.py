"""What a formula's page shows, part by part; the template only lays it out."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.pages.formula.head_view import FormulaHead, formula_head
from reckoner.pages.formula.keeping_view import KeepingView, keeping_view
from reckoner.pages.formula.mixing_view import Mixing, mixing
from reckoner.pages.formula.protection_view import Protection, protection
from reckoner.pages.formula.weighing_view import Weighing, weighing
from reckoner.pages.prices.cost_view import CostView, formula_cost
from reckoner.pages.prices.history_view import HistoryView, history_view
from reckoner.pages.process.control_view import ControlView, controls_view
from reckoner.pages.safety.apart_view import PairView, pairs_view
from reckoner.pages.safety.hazard_view import HazardView, hazard_view
from reckoner.pages.shared.parts import Link, PageWriter, SourceView
from reckoner.pages.trust.dates_view import DatedView, classified, costed, dates_view, disposed
from reckoner.pages.trust.working_view import WorkingView, workings


@dataclass(frozen=True)
class Pairs:
    """What must not meet: the bath and things outside it, and things inside it."""

    keep_away: tuple[PairView, ...]
    within: tuple[PairView, ...]


@dataclass(frozen=True)
class UsedIn:
    """Where the formula is used."""

    processes: tuple[Link, ...]
    formulas: tuple[Link, ...]


@dataclass(frozen=True)
class Backing:
    """What the page rests on; ``csv`` is the address of its weighing lists as a table."""

    source: SourceView
    notes: tuple[str, ...]
    workings: tuple[WorkingView, ...]
    csv: str


@dataclass(frozen=True)
class FormulaView:
    """The context of ``formula.md.jinja``, in the order of the page."""

    title: str
    summary: str
    head: FormulaHead
    protection: Protection
    weighing: Weighing
    mixing: Mixing
    hazards: HazardView
    pairs: Pairs
    keeping: KeepingView
    controls: tuple[ControlView, ...]
    cost: CostView
    history: HistoryView
    used_in: UsedIn
    backing: Backing
    dates: tuple[DatedView, ...]


def formula_view(result: FormulaResult, writer: PageWriter) -> FormulaView:
    """Put one formula's results into words."""
    formula = result.formula
    return FormulaView(
        title=formula.name,
        summary=f"{formula.purpose.capitalize()}, {formula.strength}",
        head=formula_head(formula, writer),
        protection=protection(result, writer),
        weighing=weighing(result, writer),
        mixing=mixing(result, writer),
        hazards=hazard_view(result, writer),
        pairs=Pairs(pairs_view(result.keep_away, writer), pairs_view(result.within, writer)),
        keeping=keeping_view(result, writer),
        controls=controls_view((formula.purpose,), writer),
        cost=formula_cost(result, writer),
        history=history_view(writer.results.history.formulas[formula.id], "A litre", writer),
        used_in=_used_in(formula.id, writer),
        backing=Backing(
            source=writer.source(formula.source),
            notes=formula.notes,
            workings=workings(result, writer),
            csv=writer.links.file(f"data/formulas/{formula.id}.csv"),
        ),
        dates=_dates(result, writer),
    )


def _used_in(formula_id: str, writer: PageWriter) -> UsedIn:
    results = writer.results
    return UsedIn(
        processes=tuple(writer.process(process) for process in results.in_process.get(formula_id, ())),
        formulas=tuple(writer.formula(made) for made in results.part_of.get(formula_id, ())),
    )


def _dates(result: FormulaResult, writer: PageWriter) -> tuple[DatedView, ...]:
    """The dates of everything that the page relies on."""
    wanted = (
        ("formula", result.formula.id, None),
        *costed(result.cost),
        *classified(substance.chemical for substance in result.hazards.composition.substances),
        *(("restriction", chemical, None) for chemical in dict.fromkeys(chemical for chemical, _ in result.jars)),
        *disposed(writer),
    )
    return dates_view(wanted, writer)
