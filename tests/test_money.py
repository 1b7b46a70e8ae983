"""Prices as suppliers' lists hold them, and exchange rates."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reckoner.money import ExchangeRate, Money, parse_money, rate_in_force
from reckoner.problems import ValueFault

TODAY = date(2026, 11, 25)
NO_PRICE = "is no price (write number, space and currency code, as 8.90 EUR)"
REFUSED = [
    ("8,90 EUR", "'8,90' has a decimal comma (write 8.90)"),
    ("1,250 EUR", "'1,250' can mean two things (write 1.250 or 1250)"),
    ("1.234,56 EUR", "'1.234,56' is no plain number (write digits with a point, as 2.5)"),
    ("8.90", f"'8.90' {NO_PRICE}"),
    ("€8.90", f"'€8.90' {NO_PRICE}"),
    ("8.90 €", f"'8.90 €' {NO_PRICE}"),
    ("8.90EUR", f"'8.90EUR' {NO_PRICE}"),
    ("8.90 eur", f"'8.90 eur' {NO_PRICE}"),
    ("EUR 8.90", f"'EUR 8.90' {NO_PRICE}"),
    ("", f"'' {NO_PRICE}"),
    ("0 EUR", "'0 EUR' is a price of zero (write the price paid, or leave the offer out)"),
    ("0.00 EUR", "'0.00 EUR' is a price of zero (write the price paid, or leave the offer out)"),
    ("-1 EUR", "'-1' is negative (write a number above zero)"),
    ("nan EUR", "'nan' is no usable number (write digits, as 2.5)"),
    ("1e3 EUR", "'1e3' is no plain number (write digits with a point, as 2.5)"),
    ("99999999 EUR", "'99999999 EUR' is more than any pack costs (check the number)"),
]


@pytest.mark.parametrize(("text", "message"), REFUSED)
def test_refused_prices_say_what_to_write(text: str, message: str) -> None:
    with pytest.raises(ValueFault) as fault:
        parse_money(text)
    assert str(fault.value) == message


def test_a_price_keeps_its_cents() -> None:
    assert str(parse_money(" 8.90  EUR ")) == "8.90 EUR"


#: ISO 4217 minor units (from memory): two decimals, none for the yen, three for the Kuwaiti dinar. Halves go up.
MINOR = [
    ("1.005", "EUR", "1.01"),
    ("1.0049", "EUR", "1.00"),
    ("10.5", "JPY", "11"),
    ("1234.5", "UGX", "1235"),
    ("1.0005", "KWD", "1.001"),
    ("1.2345", "OMR", "1.235"),
]


@pytest.mark.parametrize(("exact", "currency", "rounded"), MINOR)
def test_rounding_to_the_minor_unit(exact: str, currency: str, rounded: str) -> None:
    assert str(Money(Decimal(exact), currency).rounded) == rounded


def test_two_currencies_do_not_add() -> None:
    with pytest.raises(ValueError, match="cannot add EUR to GBP"):
        parse_money("1 EUR") + parse_money("1 GBP")


#: 1 GBP in EUR on three days; 1 EUR in GBP on two.
POUNDS = [
    ExchangeRate("GBP", "EUR", Decimal("1.10"), date(2026, 9, 1)),
    ExchangeRate("GBP", "EUR", Decimal("1.20"), date(2026, 11, 1)),
    ExchangeRate("GBP", "EUR", Decimal("9.99"), date(2026, 11, 26)),
    ExchangeRate("EUR", "GBP", Decimal("0.50"), date(2026, 10, 1)),
]


@pytest.mark.parametrize(
    ("today", "pounds", "euro"),
    [
        (date(2026, 9, 1), "10 GBP", "11.00 EUR"),  # the day itself counts
        (date(2026, 10, 31), "10 GBP", "20 EUR"),  # the newest is the other way round: 1 / 0.50
        (TODAY, "10 GBP", "12.00 EUR"),  # tomorrow's rate waits
    ],
)
def test_the_newest_rate_not_after_today(today: date, pounds: str, euro: str) -> None:
    exchange = rate_in_force(POUNDS, "GBP", "EUR", today)
    assert exchange is not None
    assert exchange.convert(parse_money(pounds)) == parse_money(euro)


def test_on_one_day_the_rate_as_published_goes_before_one_turned_round() -> None:
    both = [ExchangeRate("EUR", "GBP", Decimal("0.8"), TODAY), ExchangeRate("GBP", "EUR", Decimal("1.3"), TODAY)]
    for rates in (both, both[::-1]):
        exchange = rate_in_force(rates, "GBP", "EUR", TODAY)
        assert exchange is not None
        assert exchange.factor == Decimal("1.3")


def test_without_a_rate_there_is_none_and_none_is_guessed() -> None:
    assert rate_in_force(POUNDS, "GBP", "EUR", date(2026, 8, 31)) is None
    assert rate_in_force(POUNDS, "GBP", "USD", TODAY) is None


def test_a_rate_does_not_convert_another_currency() -> None:
    exchange = rate_in_force(POUNDS, "GBP", "EUR", TODAY)
    assert exchange is not None
    with pytest.raises(ValueError, match="this rate converts GBP, not EUR"):
        exchange.convert(parse_money("1 EUR"))


def test_the_own_currency_needs_no_rate() -> None:
    exchange = rate_in_force([], "EUR", "EUR", TODAY)
    assert exchange is not None
    assert exchange.convert(parse_money("8.90 EUR")) == parse_money("8.90 EUR")
    assert exchange.published is None


@given(st.decimals("0.01", "9999", places=2), st.decimals("0.001", "200", places=4))
def test_there_and_back_is_the_same_sum(price: Decimal, rate: Decimal) -> None:
    rates = [ExchangeRate("GBP", "EUR", rate, TODAY)]
    there, back = rate_in_force(rates, "GBP", "EUR", TODAY), rate_in_force(rates, "EUR", "GBP", TODAY)
    assert there is not None
    assert back is not None
    assert abs(back.convert(there.convert(Money(price, "GBP"))).number - price) < Decimal("1e-18")
