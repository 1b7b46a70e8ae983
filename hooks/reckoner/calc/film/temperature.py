"""Temperatures in the other scale. The source's own scale comes first: cine tables are in °F and their °C rounded."""

from __future__ import annotations

from decimal import Decimal

from reckoner.records.values import Range
from reckoner.rounding import round_half_up

TENTH = Decimal("0.1")


def to_fahrenheit(celsius: Decimal) -> Decimal:
    """°C to °F, exact.

    >>> to_fahrenheit(Decimal("37.0"))
    Decimal('98.6')
    """
    return celsius * 9 / 5 + 32


def to_celsius(fahrenheit: Decimal) -> Decimal:
    """°F to °C, exact.

    >>> to_celsius(Decimal(50))
    Decimal('10')
    """
    return (fahrenheit - 32) * 5 / 9


def celsius(value: Decimal, unit: str) -> Decimal:
    """A temperature in °C, whatever scale it is written in."""
    return value if unit == "°C" else to_celsius(value)


def other_scale(value: Range, tolerance: Range | None) -> tuple[Range, Range | None]:
    """A temperature and its tolerance in the other scale, to 0.1 degree; a tolerance is a difference."""
    metric = value.unit == "°C"
    convert = to_fahrenheit if metric else to_celsius
    ratio, unit = (Decimal(9) / 5, "°F") if metric else (Decimal(5) / 9, "°C")
    ends = [round_half_up(convert(end), TENTH) for end in (value.low, value.high)]
    other = Range(ends[0], ends[1], unit)
    if tolerance is None:
        return other, None
    spread = max(round_half_up(tolerance.high * ratio, TENTH), TENTH)
    return other, Range(spread, spread, unit)
