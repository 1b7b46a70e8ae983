"""Money and exchange rates: Decimal and a currency code, never a Pint unit."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from typing import NewType

from reckoner.problems import ValueFault
from reckoner.rounding import round_half_up
from reckoner.units import parse_number

_MONEY = re.compile(r"(?P<number>\S+)\s+(?P<currency>[A-Z]{3})\Z")
#: ISO 4217 codes whose minor unit is not a hundredth, from memory: whole units, and thousandths.
_WHOLE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
_THOUSANDTHS = "BHD IQD JOD KWD LYD OMR TND"
#: Digits of the minor unit; all other currencies have two.
MINOR_DIGITS = {code: digits for digits, codes in ((0, _WHOLE), (3, _THOUSANDTHS)) for code in codes.split()}

#: Money inside a sum of many steps, where only numbers are quick: whole minor units, and exact ones. What leaves such a
#: sum is ``Money``.
Minor = NewType("Minor", int)
ExactMinor = NewType("ExactMinor", Decimal)
NO_MONEY = ExactMinor(Decimal(0))


@dataclass(frozen=True)
class Money:
    """An exact sum in one currency (ISO 4217 code)."""

    number: Decimal
    currency: str

    def __add__(self, other: Money) -> Money:
        if self.currency != other.currency:
            raise ValueError(f"cannot add {self.currency} to {other.currency}")
        return Money(self.number + other.number, self.currency)

    def __sub__(self, other: Money) -> Money:
        return self + Money(-other.number, other.currency)

    def __mul__(self, factor: Decimal | int) -> Money:
        return Money(self.number * factor, self.currency)

    def __truediv__(self, divisor: Decimal | int) -> Money:
        return Money(self.number / divisor, self.currency)

    @property
    def step(self) -> Decimal:
        """The currency's minor unit, as 0.01."""
        return Decimal(1).scaleb(-MINOR_DIGITS.get(self.currency, 2))

    @property
    def rounded(self) -> Decimal:
        """The sum to the currency's minor unit, half up."""
        return round_half_up(self.number, self.step)

    @property
    def whole(self) -> Money:
        """The sum in whole minor units, half up."""
        return Money(self.rounded, self.currency)

    @property
    def paid(self) -> Money:
        """The price of a pack as it is paid: in whole minor units, one at least."""
        return Money(max(self.rounded, self.step), self.currency)

    @property
    def minor(self) -> Minor:
        """The rounded sum counted in minor units: cents."""
        return Minor(int(self.rounded / self.step))

    @property
    def exact_minor(self) -> ExactMinor:
        """The sum counted in minor units, not rounded."""
        return ExactMinor(self.number / self.step)

    def __str__(self) -> str:
        return f"{self.number} {self.currency}"


def parse_money(text: str) -> Money:
    """Read ``8.90 EUR``.

    Raises:
        ValueFault: no currency, a sign or symbol, a decimal comma, zero or a negative price.

    >>> parse_money("8.90 EUR")
    Money(number=Decimal('8.90'), currency='EUR')
    """
    match = _MONEY.match(text.strip())
    if not match:
        raise ValueFault(f"'{text}' is no price (write number, space and currency code, as 8.90 EUR)")
    number = parse_number(match["number"])
    if number == 0:
        raise ValueFault(f"'{text}' is a price of zero (write the price paid, or leave the offer out)")
    if number > Decimal("1e7"):
        raise ValueFault(f"'{text}' is more than any pack costs (check the number)")
    money = Money(number, match["currency"])
    if money.minor == 0:
        raise ValueFault(f"'{text}' rounds to nothing in {money.currency} (write the price of a whole pack)")
    return money


def in_currency(minor: int | Decimal, currency: str) -> Money:
    """Minor units as money.

    >>> str(in_currency(1234, "EUR"))
    '12.34 EUR'
    """
    return Money(Money(Decimal(0), currency).step * minor, currency)


def nothing(currency: str) -> Money:
    """No money."""
    return Money(Decimal(0), currency)


def sum_money(sums: Iterable[Money], currency: str) -> Money:
    """Add sums of one currency."""
    return sum(sums, nothing(currency))


def money_shares(total: Money, parts: Sequence[Money]) -> tuple[Money, ...]:
    """Sums in whole minor units that add up to the rounded total: the method of the largest remainder, as ``shares``.

    >>> [str(part) for part in money_shares(Money(Decimal(1), "EUR"), [Money(Decimal(1) / 3, "EUR")] * 3)]
    ['0.34 EUR', '0.33 EUR', '0.33 EUR']
    """
    whole = shares(total.minor, [part.exact_minor for part in parts])
    return tuple(in_currency(part, total.currency) for part in whole)


def shares(total: int, parts: Sequence[Decimal]) -> tuple[int, ...]:
    """Whole numbers that add up to ``total``, each within one of its exact part: the method of the largest remainder.

    Every part is rounded down, and what is left of the total goes, one each, to those that lost most; of two that lost
    the same, to the earlier. Parts and total may be negative, as in a difference of two rounded sums.

    Raises:
        ValueError: the parts add up to something else, by more than the rounding of each can make good.

    By hand: 3.4 + 3.3 + 3.3 down to 3 + 3 + 3 leaves 1, and the first lost most (0.4).

    >>> shares(10, [Decimal("3.4"), Decimal("3.3"), Decimal("3.3")])
    (4, 3, 3)
    >>> shares(1, [Decimal("-2.5"), Decimal("3.6")])
    (-3, 4)
    """
    down = [int(part.to_integral_value(rounding=ROUND_FLOOR)) for part in parts]
    left = total - sum(down)
    if not 0 <= left <= len(parts):
        raise ValueError(f"parts of {sum(parts, Decimal(0))} are no shares of {total}")
    by_loss = sorted(range(len(parts)), key=lambda i: (down[i] - parts[i], i))
    raised = set(by_loss[:left])
    return tuple(whole + (i in raised) for i, whole in enumerate(down))


def shares_of_rows(total: int, rows: Sequence[Sequence[Decimal]]) -> tuple[tuple[int, ...], ...]:
    """Whole numbers for a table whose rows add up to ``total`` with their columns: what is nothing stays nothing.

    Rows are shares of the total. Inside them, what is left of a row goes to the cell that lost most and is no zero, but
    first to a column that is still owed by its own share; so columns stay within one for each row of their exact sum,
    and what a table shows below them is the sum of what it shows above.

    >>> shares_of_rows(3, [[Decimal("0.6"), Decimal("0.9")], [Decimal("0.6"), Decimal("0.9")]])
    ((1, 1), (0, 1))
    """
    sums = shares(total, [sum(row, Decimal(0)) for row in rows])
    columns = shares(total, [sum(column, Decimal(0)) for column in zip(*rows, strict=True)]) if rows else ()
    floors = [[int(cell.to_integral_value(rounding=ROUND_FLOOR)) for cell in row] for row in rows]
    owed = [whole - sum(row[at] for row in floors) for at, whole in enumerate(columns)]
    for exact, row, whole in zip(rows, floors, sums, strict=True):
        open_cells = [at for at, cell in enumerate(exact) if cell]
        for _ in range(whole - sum(row)):
            at = max(open_cells, key=lambda at: (exact[at] > row[at], owed[at] > 0, exact[at] - row[at], -at))
            row[at] += 1
            owed[at] -= 1
    return tuple(tuple(row) for row in floors)


@dataclass(frozen=True)
class ExchangeRate:
    """One published rate: 1 ``base`` costs ``rate`` of ``quote`` on ``day``."""

    base: str
    quote: str
    rate: Decimal
    day: date


@dataclass(frozen=True)
class Exchange:
    """A rate as used: multiply a sum in ``base`` by ``factor`` to get ``quote``."""

    base: str
    quote: str
    factor: Decimal
    day: date | None
    published: ExchangeRate | None

    def convert(self, money: Money) -> Money:
        """Convert a sum; the caller has made sure that the currency is ``base``."""
        if money.currency != self.base:
            raise ValueError(f"this rate converts {self.base}, not {money.currency}")
        return Money(money.number * self.factor, self.quote)


def rate_in_force(rates: Iterable[ExchangeRate], base: str, quote: str, today: date) -> Exchange | None:
    """The newest rate not after today between two currencies, turned round where only the other way is published."""
    if base == quote:
        return Exchange(base, quote, Decimal(1), None, None)
    usable = [r for r in rates if r.day <= today and {r.base, r.quote} == {base, quote}]
    if not usable:
        return None
    newest = max(usable, key=lambda r: (r.day, r.base == base))
    factor = newest.rate if newest.base == base else 1 / newest.rate
    return Exchange(base, quote, factor, newest.day, newest)
