"""What is past its limit on a given day, and that the clock is an input."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from reckoner.build import day_of
from reckoner.calc.ageing import aged
from reckoner.calc.days import limit_days
from reckoner.records.values import Range
from reckoner.warn import old_warnings
from small import chemical, results, supplier

LIMIT = Range(Decimal(6), Decimal(6), "months")
FILES = {
    "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
    "prices/one/supplier.yml": supplier(),
    "prices/one/2026-03-01.yml": (
        "date: 2026-03-01\noffers:\n  - {chemical: salt, form: solid, pack: 1 kg, price: 3 EUR}\n"
    ),
}


@pytest.mark.parametrize(
    ("limit", "days"), [("30 days", 30), ("2 weeks", 14), ("6 months", 182), ("1 years", 365), ("4 years", 1460)]
)
def test_limits_are_whole_days_of_the_gregorian_mean(limit: str, days: int) -> None:
    number, unit = limit.split()
    assert limit_days(Range(Decimal(number), Decimal(number), unit)) == days


def test_the_last_good_day_is_still_good() -> None:
    day = date(2026, 3, 1)
    assert not aged("price list", "one", "f", day, LIMIT, date(2026, 8, 30)).old
    assert aged("price list", "one", "f", day, LIMIT, date(2026, 8, 31)).old


def test_an_old_list_is_a_warning_with_its_file() -> None:
    found = [str(problem) for problem in old_warnings(results(FILES))]
    assert found == [
        "formulas/prices/one/2026-03-01.yml:1:1: price list one of 2026-03-01 is past its limit since 2026-08-30 "
        "(check it again and write the new date)"
    ]


def test_a_list_with_no_row_in_force_no_longer_counts() -> None:
    newer = FILES["prices/one/2026-03-01.yml"].replace("2026-03-01", "2026-11-01")
    assert old_warnings(results({**FILES, "prices/one/2026-11-01.yml": newer})) == ()


def test_an_old_classification_is_told_with_its_chemical() -> None:
    """A year's limit on a record of two years ago: on the list, with the file, and so in a strict build."""
    record = (
        "hazards:\n- {forms: [solid], not_classified: yes, jurisdiction: European Union, edition: a test, "
        "status: self-classification, source: {certainty: common practice, checked: 2023-11-25}}\n"
    )
    files = {"chemicals/salt.yml": FILES["chemicals/salt.yml"] + record}
    found = [str(problem) for problem in old_warnings(results(files))]
    assert found == [
        "formulas/chemicals/salt.yml:1:1: hazard record salt of 2023-11-25 is past its limit since 2025-11-24 "
        "(check it again and write the new date)"
    ]


def test_today_is_handed_in() -> None:
    assert day_of("1795608000", date(1999, 1, 1)) == date(2026, 11, 25)
    assert day_of(None, date(1999, 1, 1)) == date(1999, 1, 1)
    with pytest.raises(ValueError):
        day_of("yesterday", date(1999, 1, 1))
