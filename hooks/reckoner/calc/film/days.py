"""Spans of time in days."""

from __future__ import annotations

from decimal import Decimal

from reckoner.records.values import Range
from reckoner.rounding import down

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


def limit_days(limit: Range) -> int:
    """The limit in whole days, rounded down.

    >>> limit_days(Range(Decimal(6), Decimal(6), "months"))
    182
    """
    return down(in_days(limit.high, limit.unit))
