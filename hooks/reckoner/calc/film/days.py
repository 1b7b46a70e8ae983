"""Spans of time in days."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from reckoner.records.values import Range
from reckoner.rounding import down

#: Which end of the recorded capacities and keeping times counts.
Figure = Literal["cautious", "generous"]
#: Minutes of a day.
MINUTES = Decimal(1440)
#: Minutes in a unit of time; months and years by the Gregorian mean, so that a limit is one number of days. Whole
#: numbers, as a day's 1440th part does not end and 1440 of them are less than a day.
IN_MINUTES = {
    "minutes": Decimal(1),
    "hours": Decimal(60),
    "days": MINUTES,
    "weeks": 7 * MINUTES,
    "months": Decimal("30.436875") * MINUTES,
    "years": Decimal("365.2425") * MINUTES,
}
#: Days in a month.
MONTH = IN_MINUTES["months"] / MINUTES


def in_days(number: Decimal, unit: str) -> Decimal:
    """So many minutes, hours, … or years in days.

    Raises:
        ValueError: a unit that is none of time: it counts as nothing in its place.

    >>> in_days(Decimal(1440), "minutes")
    Decimal('1')
    """
    if unit not in IN_MINUTES:
        raise ValueError(f"'{unit}' is no unit of time")
    return number * IN_MINUTES[unit] / MINUTES


def shortest(span: Range) -> Decimal:
    """The shorter end of a span in days."""
    return in_days(span.low, span.unit)


def longest(span: Range) -> Decimal:
    """The longer end of a span in days."""
    return in_days(span.high, span.unit)


def days_of(span: Range | None, figure: Figure) -> Decimal | None:
    """A keeping time in days, its shorter or longer end; None where nothing is recorded.

    >>> days_of(Range(Decimal(2), Decimal(4), "weeks"), "cautious")
    Decimal('14')
    """
    if span is None:
        return None
    return shortest(span) if figure == "cautious" else longest(span)


def limit_days(limit: Range) -> int:
    """The limit in whole days, rounded down.

    >>> limit_days(Range(Decimal(6), Decimal(6), "months"))
    182
    """
    return down(longest(limit))
