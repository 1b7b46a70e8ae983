"""Days on an axis of months: each month is as long as any other, and a whole number begins one."""

from __future__ import annotations

import calendar
from datetime import date
from decimal import Decimal

YEAR = 12


def months_since(day: date, first: date) -> Decimal:
    """Months from the beginning of the month of ``first`` to a day.

    >>> months_since(date(2027, 1, 1), date(2026, 11, 9))
    Decimal('2')
    >>> months_since(date(2026, 11, 16), date(2026, 11, 9))
    Decimal('0.5')
    """
    whole = (day.year - first.year) * YEAR + day.month - first.month
    return whole + Decimal(day.day - 1) / calendar.monthrange(day.year, day.month)[1]


def day_after(months: Decimal, first: date) -> date:
    """The day that many months after the beginning of the month of ``first``.

    >>> day_after(Decimal("2.5"), date(2026, 11, 9))
    datetime.date(2027, 1, 16)
    """
    whole = int(months)
    years, month = divmod(first.month - 1 + whole, YEAR)
    year = first.year + years
    return date(year, month + 1, 1 + int((months - whole) * calendar.monthrange(year, month + 1)[1]))
