"""Comparing a computed figure with a printed one, by the rounding its source used."""

from __future__ import annotations

from decimal import Decimal

from reckoner.rounding import round_half_up, significant


def figures(value: Decimal, count: int) -> Decimal:
    """To significant figures, as textbooks print."""
    return significant(value, count)


def decimals(value: Decimal, places: int) -> Decimal:
    """To decimal places, as tables print."""
    return round_half_up(value, Decimal(1).scaleb(-places))
