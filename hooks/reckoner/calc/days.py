"""Spans of time in days."""

from __future__ import annotations

from decimal import Decimal

from reckoner.records.values import Range

#: Days in a unit of a limit; months and years by the Gregorian mean, so that a limit is one number of days.
DAYS = {
    "minutes": 1 / Decimal(1440),
    "hours": 1 / Decimal(24),
    "days": Decimal(1),
    "weeks": Decimal(7),
    "months": Decimal("30.436875"),
    "years": Decimal("365.2425"),
}


def limit_days(limit: Range) -> int:
    """The limit in whole days, rounded down.

    >>> limit_days(Range(Decimal(6), Decimal(6), "months"))
    182
    """
    return int(limit.high * DAYS[limit.unit])
