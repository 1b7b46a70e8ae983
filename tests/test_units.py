"""Amounts as authors write them: what is read, and what is refused with which advice."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reckoner.money import MINOR_DIGITS, Money, Rate, parse_money, rate_in_force
from reckoner.problems import ValueFault
from reckoner.records.values import (
    parse_clock,
    parse_day,
    parse_density,
    parse_flag,
    parse_id,
    parse_ph,
    parse_strength,
    parse_tax,
    parse_temperature,
)
from reckoner.units import REGISTRY, UNITS, factor, parse_amount, parse_published

REFUSED = [
    ("2,5 g", "'2,5' has a decimal comma (write 2.5)"),
    ("5 oz", "unit 'oz' in '5 oz' is not clear (write oz_avdp, oz_troy, US_fl_oz or imp_fl_oz)"),
    ("5 gr", "unit 'gr' in '5 gr' is not clear (write grain for 64.8 mg, g for a gram)"),
    ("5", "'5' has no unit (write 5 g or 5 mL)"),
    ("2.5g", "'2.5g' needs a space between number and unit (write 2.5 g)"),
    ("-1 g", "'-1' is negative (write a number above zero)"),
    ("0 g", "'0 g' is zero (write an amount above zero, or leave the ingredient out)"),
    ("NaN g", "'NaN' is no usable number (write digits, as 2.5)"),
    ("inf g", "'inf' is no usable number (write digits, as 2.5)"),
    ("1e3 g", "'1e3' is no plain number (write digits with a point, as 2.5)"),
    ("99999999 g", "'99999999 g' is more than any darkroom holds (check the number and the unit)"),
    ("0.000000001 g", "'0.000000001 g' is less than anyone can measure (check the number and the unit)"),
    ("5 kgs", "unknown unit 'kgs' in '5 kgs' (did you mean kg?)"),
    ("100 ft", "'100 ft' is a length where a mass or volume is needed (write it as 2.5 g)"),
]


@pytest.mark.parametrize(("text", "message"), REFUSED)
def test_refused_amounts_say_what_to_write(text: str, message: str) -> None:
    with pytest.raises(ValueFault) as fault:
        parse_amount(text)
    assert str(fault.value) == message


@pytest.mark.parametrize("text", ["% g", "5 %", "5 fl oz", "5 pt", "5 M", "5 G", "5 ml", "1+9", "", "g", "5  "])
def test_what_pint_would_have_misread_is_refused(text: str) -> None:
    """Pint itself reads '2,5 g' as 25 g, '1+9' as 10 and an empty text as 1."""
    with pytest.raises(ValueFault):
        parse_amount(text)


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_accepted_unit_converts_there_and_back(unit: str) -> None:
    number = Decimal("3.7")
    quantity = REGISTRY.Quantity(number * factor(unit), UNITS_BASE[UNITS[unit][0]]).to(UNITS[unit][1])
    assert abs(quantity.magnitude - number) < Decimal("1e-9")


UNITS_BASE = {"mass": "gram", "volume": "milliliter", "length": "millimeter", "area": "millimeter ** 2"}


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("3 oz_avdp 145 grain", ["3 oz_avdp", "145 grain"]),
        ("1 1/2 US_fl_oz", ["1.5 US_fl_oz"]),
        ("1/4 oz_avdp", ["0.25 oz_avdp"]),
        ("2.5 g", ["2.5 g"]),
    ],
)
def test_published_amounts(text: str, parts: list[str]) -> None:
    assert [str(amount) for amount in parse_published(text)] == parts


@pytest.mark.parametrize(
    "text", ["145 grain 3 oz_avdp", "3 oz_avdp 1 US_fl_oz", "1/0 oz_avdp", "3 oz 145 gr", "soon", ""]
)
def test_published_amounts_that_are_refused(text: str) -> None:
    with pytest.raises(ValueFault):
        parse_published(text)


@pytest.mark.parametrize(
    ("parse", "text"),
    [
        (parse_money, "8,90 EUR"),
        (parse_money, "€8.90"),
        (parse_money, "0 EUR"),
        (parse_money, "8.90"),
        (parse_day, "25.11.2026"),
        (parse_day, "2026-13-40"),
        (parse_flag, "maybe"),
        (parse_id, "Sodium Sulfite"),
        (parse_strength, "60 %"),
        (parse_strength, "120 % w/w"),
        (parse_tax, "20"),
        (parse_density, "1.33"),
        (parse_density, "1330 g/mL"),
        (parse_clock, "3.15"),
        (parse_clock, "1:00-0:30"),
        (parse_ph, "15"),
        (parse_temperature, "38"),
        (parse_temperature, "38-21 °C"),
    ],
)
def test_other_values_are_refused_with_advice(parse, text: str) -> None:
    with pytest.raises(ValueFault, match=r"\(.+\)"):
        parse(text)


def test_money_of_two_currencies_is_not_added() -> None:
    with pytest.raises(ValueError, match="cannot add"):
        Money(Decimal(1), "EUR") + Money(Decimal(1), "GBP")


def test_money_rounds_to_the_currencys_own_minor_unit() -> None:
    """ISO 4217: two decimals for most, none for the yen, three for the dinar."""
    assert Money(Decimal("1.005"), "EUR").rounded == Decimal("1.01")
    assert Money(Decimal("10.5"), "JPY").rounded == 11
    assert MINOR_DIGITS["KWD"] == 3


def test_a_rate_is_turned_round_where_only_the_other_is_published() -> None:
    day = parse_day("2026-11-01")
    exchange = rate_in_force([Rate("EUR", "GBP", Decimal("0.8"), day)], "GBP", "EUR", day)
    assert exchange is not None
    assert exchange.convert(Money(Decimal(8), "GBP")) == Money(Decimal(10), "EUR")


def test_a_rate_of_tomorrow_is_not_used() -> None:
    rates = [Rate("GBP", "EUR", Decimal("1.2"), parse_day("2026-11-26"))]
    assert rate_in_force(rates, "GBP", "EUR", parse_day("2026-11-25")) is None
