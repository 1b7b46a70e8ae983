"""Areas of film. The trade's unit of 80 square inches is a convention beside them, never a dimension."""

from __future__ import annotations

from decimal import Decimal

from reckoner.records.settings import FilmFormat
from reckoner.units import factor

#: One roll 135-36, one roll 120, four sheets 4x5 or one 8x10 in the trade's counting; common practice.
TRADE_UNIT_SQ_IN = Decimal(80)


def area_mm2(film: FilmFormat) -> Decimal:
    """Real area in square millimetres: length times width, exact."""
    return film.length.base * film.width.base


def area_m2(film: FilmFormat) -> Decimal:
    """Real area in square metres."""
    return area_mm2(film) / factor("m2")


def area_sq_in(film: FilmFormat) -> Decimal:
    """Real area in square inches."""
    return area_mm2(film) / factor("sq_in")


def trade_units(film: FilmFormat) -> Decimal:
    """How many of the trade's 80-square-inch units the real area is."""
    return area_sq_in(film) / TRADE_UNIT_SQ_IN
