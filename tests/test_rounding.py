"""Rounding: half up, once, to the step of an instrument or to figures."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reckoner.rounding import round_half_up, significant

#: The first three are printed in technical sheet TI2443 (revised 01-00), Process E-6 single-use mixing table, text
#: read; rounding to the even digit would make 71.2 and 16.4 of them. The rest is the rule spelt out.
HALF_UP = [
    ("8.75", "0.1", "8.8"),
    ("71.25", "0.1", "71.3"),
    ("16.45", "0.1", "16.5"),
    ("2.5", "1", "3"),
    ("8.7499999999", "0.1", "8.7"),
    ("0.04", "0.1", "0.0"),
    ("0.05", "0.1", "0.1"),
    ("12.3", "5", "10"),
    ("12.5", "5", "15"),
    ("0.30", "0.2", "0.4"),
    ("-8.75", "0.1", "-8.8"),
]

#: (value, figures, as printed); 9.995 and its like carry into a place more, which must not leave a figure too many.
FIGURES = [
    ("2.36111", 3, "2.36"),
    ("41.25", 2, "41"),
    ("4200.24", 3, "4.20E+3"),
    ("0.00012345", 2, "0.00012"),
    ("9.995", 3, "10.0"),
    ("0.9996", 3, "1.00"),
    ("999.6", 3, "1.00E+3"),
    ("-2.365", 3, "-2.37"),
    ("0", 3, "0"),
]


@pytest.mark.parametrize(("value", "step", "rounded"), HALF_UP)
def test_to_a_step(value: str, step: str, rounded: str) -> None:
    assert str(round_half_up(Decimal(value), Decimal(step))) == rounded


@pytest.mark.parametrize("step", ["0", "-0.1"])
def test_a_step_is_above_zero(step: str) -> None:
    with pytest.raises(ValueError, match="a rounding step is above zero"):
        round_half_up(Decimal(1), Decimal(step))


@pytest.mark.parametrize(("value", "figures", "rounded"), FIGURES)
def test_to_figures(value: str, figures: int, rounded: str) -> None:
    """Compared as text: 10.0 and 10.00 are equal numbers, but the second claims a figure more."""
    assert str(significant(Decimal(value), figures)) == rounded


@given(st.decimals("-99999", "99999", places=6), st.integers(1, 6))
def test_figures_of_figures_are_the_same(value: Decimal, figures: int) -> None:
    rounded = significant(value, figures)
    assert str(significant(rounded, figures)) == str(rounded)
    assert len(rounded.as_tuple().digits) == (figures if value else 1)
