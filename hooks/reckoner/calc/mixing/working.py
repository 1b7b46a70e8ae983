"""How a figure was worked out: kept with every result, shown on the page and written to the JSON."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.rounding import round_half_up


@dataclass(frozen=True)
class Working:
    """One step of a calculation.

    Attributes:
        figure: what was worked out.
        rule: the rule in words.
        inputs: name and value of everything that went in; values are exact and unrounded.
        result: exact value with unit.
        source: where the rule or a factor is from.
    """

    figure: str
    rule: str
    inputs: tuple[tuple[str, str], ...]
    result: str
    source: str


def plain(value: Decimal, places: int = 9) -> str:
    """An exact figure as a plain decimal string, without exponent or trailing zeros; what does not end is cut half up.

    >>> plain(Decimal("1E+2")), plain(Decimal("2.500"))
    ('100', '2.5')
    >>> plain(Decimal("240.3846153845")), plain(Decimal("1E-7"))
    ('240.384615385', '0.0000001')
    """
    whole = value == value.to_integral_value()
    shown = value if whole else round_half_up(value, Decimal(1).scaleb(-places)).normalize()
    return format(shown.quantize(Decimal(1)) if shown == shown.to_integral_value() else shown, "f")


def plain_if_known(value: Decimal | None) -> str | None:
    """The same to twelve places; None where nothing is known."""
    return None if value is None else plain(value, 12)
