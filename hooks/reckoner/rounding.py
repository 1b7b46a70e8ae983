"""The one rounding policy: half up, once, to a stated step.

Published mixing tables round halves up (8.75 mL to 8.8 mL, 71.25 to 71.3: technical sheet TI2443, Process E-6
single-use mixing table), not to even as Decimal's formatting does.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

#: Amounts per litre leave the core quantised to this many g or mL, so that Python and a browser scale from one string.
PER_LITRE_STEP = Decimal("1e-9")
CENT = Decimal("0.01")


def round_half_up(value: Decimal, step: Decimal) -> Decimal:
    """Round ``value`` to a multiple of ``step``, halves away from zero.

    >>> round_half_up(Decimal("8.75"), Decimal("0.1"))
    Decimal('8.8')
    >>> round_half_up(Decimal("12.3"), Decimal("5"))
    Decimal('10')
    """
    if step <= 0:
        raise ValueError("a rounding step is above zero")
    multiples = (value / step).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return multiples * step


def whole(value: Decimal) -> Decimal:
    """Round half up to a whole number, as minor units are.

    >>> whole(Decimal("2.5"))
    Decimal('3')
    """
    return value.to_integral_value(rounding=ROUND_HALF_UP)


def significant(value: Decimal, figures: int) -> Decimal:
    """Round half up to ``figures`` significant figures.

    >>> significant(Decimal("2.36111"), 3)
    Decimal('2.36')
    >>> significant(Decimal("9.995"), 3)
    Decimal('10.0')
    """
    if value == 0:
        return Decimal(0)
    rounded = _to_figures(value, figures)
    # 9.995 rounds up to a number with one digit more before the point, so one fewer is left behind it.
    return _to_figures(rounded, figures)


def up(value: Decimal) -> int:
    """Rounded up to a whole number: packs, batches and sessions are whole."""
    return int(value.to_integral_value(rounding=ROUND_CEILING))


def down(value: Decimal) -> int:
    """Rounded down to a whole number: a part of a film or a load is none."""
    return int(value.to_integral_value(rounding=ROUND_FLOOR))


def _to_figures(value: Decimal, figures: int) -> Decimal:
    return value.quantize(Decimal(1).scaleb(value.adjusted() - figures + 1), rounding=ROUND_HALF_UP)
