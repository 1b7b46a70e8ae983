"""Arithmetic that must hold whatever the figures: scaling, rounding, conversion, sums."""

from __future__ import annotations

from decimal import Decimal
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from reckoner.calc.mixing.substitution import Jar, convert
from reckoner.calc.results import Results
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.rounding import round_half_up

AMOUNTS = st.decimals("0.001", "9999", places=3)
STEPS = st.sampled_from([Decimal(s) for s in ("0.001", "0.01", "0.1", "0.2", "1", "5", "10")])


@given(AMOUNTS, STEPS)
def test_rounding_again_changes_nothing_and_is_at_most_half_a_step_off(value: Decimal, step: Decimal) -> None:
    rounded = round_half_up(value, step)
    assert round_half_up(rounded, step) == rounded
    assert abs(rounded - value) * 2 <= step
    assert rounded % step == 0


def test_converting_there_and_back_is_one(demo: Catalogue) -> None:
    """Over every two forms of the catalogue, of one chemical or of two that supply the same ion."""
    jars = [Jar(one, form) for one in demo.chemicals.values() for form in one.forms]
    pairs = []
    for left, right in combinations(jars, 2):
        try:
            there, back = convert(left, right).factor, convert(right, left).factor
        except ValueFault:
            continue
        assert abs(there * back - 1) < Decimal("1e-20")
        pairs.append(left.chemical.id == right.chemical.id)
    assert pairs.count(True) > 40
    assert pairs.count(False) > 20


def test_needs_are_never_lost_on_the_way_to_the_cost(demo_results: Results) -> None:
    """Every need of every formula is filled by exactly one row."""
    for result in demo_results.formulas.values():
        asked = [need for row in result.cost.rows for need in row.asked]
        assert len(asked) == len(result.needs)
        assert set(asked) == set(result.needs)
