"""Spans of time in days: every unit that an author may write, exact where days are whole."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reckoner.calc.film.days import IN_MINUTES, days_of, in_days, limit_days
from reckoner.records.spans import DURATIONS, Range, parse_duration


@pytest.mark.parametrize(
    ("span", "days"),
    [
        ("1000 minutes", 0),
        ("24 hours", 1),
        ("23 hours", 0),
        ("72 hours", 3),
        ("1 days", 1),
        ("2-3 weeks", 21),
        ("12 months", 365),
        ("4 years", 1460),
    ],
)
def test_whole_days_are_whole(span: str, days: int) -> None:
    """A day has 24 hours of 60 minutes; a mean Gregorian year 365.2425 days."""
    assert limit_days(parse_duration(span)) == days


@pytest.mark.parametrize("hours", range(1, 24 * 7 + 1))
def test_hours_and_minutes_never_lose_a_day(hours: int) -> None:
    assert limit_days(parse_duration(f"{hours} hours")) == hours // 24
    if hours * 60 <= 1000:
        assert in_days(Decimal(hours * 60), "minutes") == in_days(Decimal(hours), "hours")


def test_a_day_of_minutes_is_a_day() -> None:
    """Longer than an author may write, and what the sums may still come to."""
    assert limit_days(Range(Decimal(1440), Decimal(1440), "minutes")) == 1
    assert limit_days(Range(Decimal(1439), Decimal(1439), "minutes")) == 0


def test_every_unit_of_a_duration_is_known_and_no_other_counts_as_days() -> None:
    assert set(IN_MINUTES) == set(DURATIONS)
    for unit in ("min:sec", "fortnights", "", "rolls"):
        with pytest.raises(ValueError, match="no unit of time"):
            in_days(Decimal(1), unit)


def test_the_shorter_and_the_longer_end() -> None:
    assert [days_of(parse_duration("36-48 hours"), end) for end in ("cautious", "generous")] == [Decimal("1.5"), 2]
