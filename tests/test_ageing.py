"""What is past its limit on a given day, and that the clock is an input."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from reckoner.build import day_of
from reckoner.calc.ageing import aged
from reckoner.calc.film.days import limit_days
from reckoner.pages.kinds import pages
from reckoner.problems import HandbookError, Severity
from reckoner.records.values import Range
from reckoner.warn import acceptance_warnings, old_warnings
from small import SETTINGS, SOURCE, chemical, load, results, supplier

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
        "formulas/prices/one/2026-03-01.yml:1:1: price list one of 2026-03-01 is out of date since 2026-08-30 "
        "(check it again and write the new date)"
    ]


def test_an_old_rate_is_told_with_its_pair_and_only_the_newest_counts() -> None:
    """Two months, from the settings of the test: 1 September is past on 1 November, 1 October is not on 25 November."""
    rates = "rates:\n" + "".join(
        f"  - {{base: {base}, quote: EUR, rate: 1.20, date: {day}}}\n"
        for base, day in (("GBP", "2026-09-01"), ("GBP", "2026-10-01"), ("USD", "2026-09-01"))
    )
    found = [str(problem) for problem in old_warnings(results({"exchange_rates.yml": f"{rates}{SOURCE}\n"}))]
    assert found == [
        "formulas/exchange_rates.yml:1:1: exchange rate USD to EUR of 2026-09-01 is out of date since 2026-10-31 "
        "(check it again and write the new date)"
    ]


def test_old_rules_of_disposal_are_told_with_the_authority() -> None:
    """Two years, from the settings of the test."""
    rules = "disposal: {authority: Town works, link: https://waste.invalid/, rules: [], checked: 2024-01-01}\n"
    found = [str(problem) for problem in old_warnings(results({"settings.yml": SETTINGS + rules}))]
    assert found == [
        "formulas/settings.yml:1:1: disposal rules Town works of 2024-01-01 is out of date since 2025-12-31 "
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
        "formulas/chemicals/salt.yml:1:1: hazard record salt of 2023-11-25 is out of date since 2025-11-24 "
        "(check it again and write the new date)"
    ]


def accepting(*entries: str) -> dict[str, str]:
    """The old list above, and settings that accept something."""
    return {**FILES, "settings.yml": SETTINGS + f"accept_old: [{', '.join(entries)}]\n"}


@pytest.mark.parametrize("until", ["2026-11-25", "2027-01-31"])
def test_what_is_accepted_is_a_note_with_its_reason(until: str) -> None:
    found = results(accepting(f"{{kind: price list, reason: the shop is moving, until: {until}}}"))
    (note,) = old_warnings(found)
    assert note.severity is Severity.NOTE
    assert str(note) == (
        "formulas/prices/one/2026-03-01.yml:1:1: price list one of 2026-03-01 is out of date since 2026-08-30, "
        f"accepted until {until}: the shop is moving (check it again before that day)"
    )
    assert acceptance_warnings(found) == ()
    page = next(page.markdown for page in pages(found) if page.path == "out-of-date.md")
    assert "the shop is moving" in page
    assert "Nothing is out of date" not in page


def test_after_its_day_it_is_a_warning_with_its_place_and_so_is_the_old_list() -> None:
    found = results(accepting("{kind: price list, reason: the shop is moving, until: 2026-11-24}"))
    (old,) = old_warnings(found)
    assert old.severity is Severity.WARNING
    (over,) = acceptance_warnings(found)
    assert over.severity is Severity.WARNING
    assert "accepted until 2026-11-24 is over" in str(over)
    where = found.catalogue.place("settings", "", "accept_old", 0, "until")
    assert over.at == where
    assert where.column > 60


def test_another_kind_is_not_accepted_with_it() -> None:
    (old,) = old_warnings(results(accepting("{kind: kit price, reason: a test, until: 2027-01-31}")))
    assert old.severity is Severity.WARNING


def test_accepting_for_good_or_twice_is_refused() -> None:
    twice = "{kind: formula, reason: a test, until: 2027-01-31}"
    with pytest.raises(HandbookError, match="'formula' is accepted twice"):
        load(accepting(twice, twice))
    with pytest.raises(HandbookError, match="more than a year from 2026-11-25"):
        load(accepting("{kind: formula, reason: a test, until: 2028-01-01}"))


def test_today_is_handed_in() -> None:
    assert day_of("1795608000", date(1999, 1, 1)) == date(2026, 11, 25)
    assert day_of(None, date(1999, 1, 1)) == date(1999, 1, 1)
    with pytest.raises(ValueError):
        day_of("yesterday", date(1999, 1, 1))
