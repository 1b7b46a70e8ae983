"""Tolerances by kind of ingredient, the balance's error, and the stock solution proposed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reckoner.pages.formula.batch_view import batch_view
from rescaled import writer_of
from small import SETTINGS, chemical, formula, results

#: 64 g/L, as recorded for potassium permanganate at 20 °C from memory in the catalogue.
SALT = (
    "[{id: solid, name: solid, formula: KBr, solubility: [{grams_per_litre: 64, at: 20 °C, certainty: from memory}]}]"
)


def judged(amount: str, role: str = "restrainer", purpose: str = "film developer", forms: str = SALT, batch: int = 1):
    files = {
        "chemicals/salt.yml": chemical("salt", forms, role),
        "solutions/a/dev.yml": formula("dev", f"[{{chemical: salt, form: solid, amount: {amount}}}]", purpose),
    }
    return results(files).formulas["dev"].batches[batch].rows[0]


@pytest.mark.parametrize(
    ("role", "purpose", "percent"),
    [
        ("colour developing agent", "colour developer", "0.01"),
        ("preservative", "colour developer", "0.02"),
        ("developing agent", "film developer", "0.02"),
        ("restrainer", "paper developer", "0.02"),
        ("alkali", "film developer", "0.02"),
        ("preservative", "film developer", "0.05"),
        ("restrainer", "bleach", "0.05"),
        ("fixing agent", "fixer", "0.05"),
    ],
)
def test_tolerances_are_those_of_common_practice(role: str, purpose: str, percent: str) -> None:
    """Common practice, no source: 1 % colour developing agents, 2 % developers, 5 % fixers, stops and bleaches."""
    assert judged("5 g", role, purpose).weighability.tolerance.fraction == Decimal(percent)


def test_exactly_at_the_tolerance_is_within() -> None:
    """0.01 g of 0.50 g is 2 %."""
    assert judged("0.50 g").weighability.within
    assert not judged("0.49 g").weighability.within


def test_stock_is_proposed_measured_and_inside_half_the_solubility() -> None:
    """0.1 g on a 0.01 g balance errs by 10 %. Half of 64 g/L is 3.2 %, so 2 % w/v is the strongest stock."""
    row = judged("0.1 g")
    advice = row.weighability.advice
    assert advice is not None
    assert advice.percent * 10 <= Decimal(32)
    assert advice.exact == Decimal("0.1") * 100 / advice.percent
    # 1 g of 100 mL on 0.01 g and 10 mL on 0.1 mL err by 1 % each, just what is allowed.
    assert (advice.percent, advice.volume, advice.measure.unit) == (1, 100, "mL")
    weighing = advice.weigh.error / (advice.percent * advice.volume / 100)
    assert weighing + advice.measure.error / advice.exact <= Decimal("0.02")


def test_smallest_batch_that_can_be_weighed_is_named() -> None:
    """0.1 g/L: 0.01 g is 2 % of 0.5 g, which is in 5 L."""
    assert judged("0.1 g").weighability.smallest_batch == 5000


def test_no_stock_of_what_oxidises() -> None:
    row = judged("0.1 g", "developing agent")
    assert row.weighability.advice is None
    assert "finer balance" in row.weighability.no_advice


def test_no_stock_without_recorded_solubility() -> None:
    row = judged("0.1 g", forms="[{id: solid, name: solid, formula: KBr}]")
    assert "solubility is not recorded" in row.weighability.no_advice


@pytest.mark.parametrize(
    ("amount", "tool", "rounded", "portions"),
    [("49.994 g", "fine", "49.99", 1), ("50.06 g", "coarse", "50.1", 1), ("1200 g", "coarse", "1200.0", 3)],
)
def test_the_finest_balance_that_holds_it(amount: str, tool: str, rounded: str, portions: int) -> None:
    measured = judged(amount).row.measured
    assert (measured.instrument, measured.rounded, measured.portions) == (tool, Decimal(rounded), portions)


def test_a_stated_accuracy_counts_instead_of_the_step() -> None:
    """A maker's ±0.03 g is worse than the 0.01 g that the display shows."""
    stated = SETTINGS.replace("{name: fine, step: 0.01 g,", "{name: fine, accuracy: 0.03 g, step: 0.01 g,")
    files = {
        "settings.yml": stated,
        "chemicals/salt.yml": chemical("salt", SALT, "restrainer"),
        "solutions/a/dev.yml": formula("dev", "[{chemical: salt, form: solid, amount: 1 g}]", "film developer"),
    }
    assert results(files).formulas["dev"].batches[1].rows[0].weighability.error == Decimal("0.03")


def of_solubility(grams: str) -> str:
    return SALT.replace("64", grams)


@pytest.mark.parametrize(("grams", "percent"), [("40", "2"), ("39.9", "1")])
def test_a_stock_holds_at_most_half_of_what_dissolves(grams: str, percent: str) -> None:
    """0.1 g within 5 %: 2 % w/v is the first that can be measured (5 mL); 20 g/L are half of 40 g/L and more than half
    of 39.9."""
    row = judged("0.1 g", "fixing agent", "fixer", of_solubility(grams))
    assert row.weighability.advice is not None
    assert row.weighability.advice.percent == Decimal(percent)


@pytest.mark.parametrize(("amount", "shown"), [("0.0049 g", "0.0049 g"), ("0.005 g", "0.01 g")])
def test_what_the_balance_would_show_as_nothing_is_told_exactly(amount: str, shown: str) -> None:
    """Below half a step of 0.01 g the rounded figure is nothing: weighing it would leave the ingredient out."""
    files = {
        "chemicals/salt.yml": chemical("salt", SALT, "restrainer"),
        "solutions/a/dev.yml": formula("dev", f"[{{chemical: salt, form: solid, amount: {amount}}}]", "film developer"),
    }
    found = results(files)
    rows = batch_view(found.formulas["dev"].batches[1], found.formulas["dev"], writer_of(found)).rows
    assert rows[0].asked.figure.replace("\u00a0", " ") == shown
