"""Can this balance weigh that amount? If not, a stock solution that can be measured instead.

Tolerances follow common practice: 1 % for colour developing agents, 2 % for developing agents, restrainers, the alkali
that sets the pH and everything in a colour developer, 5 % for fixers, stops, bleaches and the rest.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from reckoner.calc.mixing.instruments import Measured, measure
from reckoner.records.chemical import Chemical, Form
from reckoner.records.formula import DEVELOPERS, Formula
from reckoner.records.settings import Settings
from reckoner.units import LITRE, PerLitre, Proportion

CRITICAL = DEVELOPERS | {"reversal"}
COLOUR = frozenset({"colour developer", "colour first developer"})
#: Fraction of the recorded solubility that a proposed stock may reach: our own margin for a cool cupboard.
SOLUBILITY_MARGIN = Decimal("0.5")
STOCK_STRENGTHS = tuple(Decimal(s) for s in ("20", "10", "5", "2", "1", "0.5", "0.2", "0.1"))
STOCK_VOLUMES = tuple(Decimal(v) for v in ("100", "250", "500", "1000"))
#: Developing agents oxidise in water without sulfite, and weak sulfite by itself (common practice): weighed fresh.
NOT_IN_STOCK = frozenset({"colour developing agent", "developing agent", "preservative"})
#: Why no stock solution is proposed.
OXIDISES = "it does not keep dissolved by itself: weigh it on a finer balance or mix a larger batch"
NOT_RECORDED = "its solubility is not recorded, so no stock solution is proposed: use a finer balance"
NO_STOCK_FITS = "no stock solution fits this batch and these cylinders: use a finer balance or mix a larger batch"
FINER_MEASURE = "measure it with a finer syringe or pipette"


@dataclass(frozen=True)
class Tolerance:
    """Largest acceptable error as a fraction, and why."""

    fraction: Proportion
    reason: str


@dataclass(frozen=True)
class StockAdvice:
    """A stock solution to measure instead of weighing.

    Attributes:
        percent: strength, % w/v.
        weigh: grams to dissolve and make up to ``volume`` mL.
        measure: mL of stock for the batch, as measured.
    """

    percent: Decimal
    weigh: Measured
    volume: Decimal
    exact: Decimal
    measure: Measured


@dataclass(frozen=True)
class Weighability:
    """What one row's instrument error means.

    Attributes:
        error: instrument error over the amount, unlike that of a measured amount, which is in g or mL.
        within: whether that is inside the tolerance.
        smallest_batch: mL of batch from which the amount can be weighed within tolerance.
        advice: stock proposed, or None.
        no_advice: why none is proposed, where the row is not within.
    """

    tolerance: Tolerance
    error: Proportion
    within: bool
    smallest_batch: Decimal
    advice: StockAdvice | None = None
    no_advice: str | None = None


Rule = Callable[[Formula, Chemical | None], Tolerance | None]


def _colour_agent(formula: Formula, chemical: Chemical | None) -> Tolerance | None:
    if chemical and chemical.role == "colour developing agent":
        return Tolerance(Proportion(Decimal("0.01")), "colour developing agent")
    return None


def _colour_developer(formula: Formula, chemical: Chemical | None) -> Tolerance | None:
    return Tolerance(Proportion(Decimal("0.02")), "part of a colour developer") if formula.purpose in COLOUR else None


def _active_in_developer(formula: Formula, chemical: Chemical | None) -> Tolerance | None:
    exact_roles = {"developing agent", "restrainer", "alkali"}
    if chemical and chemical.role in exact_roles and formula.purpose in CRITICAL:
        return Tolerance(Proportion(Decimal("0.02")), f"{chemical.role} of a developer")
    return None


def _anything_else(formula: Formula, chemical: Chemical | None) -> Tolerance | None:
    return Tolerance(Proportion(Decimal("0.05")), "not critical")


#: First rule that answers decides.
TOLERANCE_RULES: tuple[Rule, ...] = (_colour_agent, _colour_developer, _active_in_developer, _anything_else)


def tolerance_for(formula: Formula, chemical: Chemical | None) -> Tolerance:
    """The tolerance of one ingredient of a formula."""
    return next(tolerance for rule in TOLERANCE_RULES if (tolerance := rule(formula, chemical)))


@dataclass(frozen=True)
class Weighed:
    """What is put on the balance: an amount of a form, for a batch and for one litre."""

    chemical: Chemical | None
    form: Form | None
    exact: Decimal
    per_litre: PerLitre
    measured: Measured


def judge(weighed: Weighed, formula: Formula, room: Decimal, settings: Settings) -> Weighability:
    """Judge one amount of a weighing table.

    Args:
        room: mL of water in the batch that a stock solution may take the place of.
    """
    tolerance = tolerance_for(formula, weighed.chemical)
    error = Proportion(weighed.measured.error / weighed.exact)
    smallest = LITRE * weighed.measured.error / (tolerance.fraction * weighed.per_litre)
    if error <= tolerance.fraction:
        return Weighability(tolerance, error, True, smallest)
    # Upwards, so that the batch named is large enough; two figures are all that a cylinder shows.
    smallest = smallest.quantize(Decimal(1).scaleb(smallest.adjusted() - 1), ROUND_CEILING)
    if weighed.measured.unit != "g":
        return Weighability(tolerance, error, False, smallest, None, FINER_MEASURE)
    advice, reason = _advise(weighed, tolerance, room, settings)
    return Weighability(tolerance, error, False, smallest, advice, reason)


def no_stock(chemical: Chemical | None, form: Form | None) -> str | None:
    """Why a chemical is never proposed as a stock solution, whatever the batch; None where it may be."""
    if chemical and chemical.role in NOT_IN_STOCK:
        return OXIDISES
    return None if form is not None and form.solubility else NOT_RECORDED


def dissolves(form: Form) -> Decimal:
    """g/L that dissolve at the least favourable of the recorded temperatures."""
    return min(s.grams_per_litre for s in form.solubility)


def _advise(
    weighed: Weighed, tolerance: Tolerance, room: Decimal, settings: Settings
) -> tuple[StockAdvice | None, str | None]:
    reason = no_stock(weighed.chemical, weighed.form)
    if reason or weighed.form is None:
        return None, reason
    most = dissolves(weighed.form)
    for percent in STOCK_STRENGTHS:
        if percent * 10 > most * SOLUBILITY_MARGIN:
            continue
        advice = _stock(weighed.exact, percent, tolerance, room, settings)
        if advice:
            return advice, None
    return None, NO_STOCK_FITS


def _stock(
    grams: Decimal, percent: Decimal, tolerance: Tolerance, room: Decimal, settings: Settings
) -> StockAdvice | None:
    exact = grams * 100 / percent
    measured = measure(exact, "mL", settings)
    if exact > room:
        return None
    for volume in STOCK_VOLUMES:
        weigh = measure(percent * volume / 100, "g", settings)
        error = weigh.error / (percent * volume / 100) + measured.error / exact
        if error <= tolerance.fraction and measured.portions == 1:
            return StockAdvice(percent, weigh, volume, exact, measured)
    return None
