"""Film dimensions and areas against the standards."""

from __future__ import annotations

from decimal import Decimal

import pytest

from outside import decimals
from reckoner.calc.film.film import area_m2, area_sq_in, trade_units
from reckoner.records.catalogue import Catalogue
from reckoner.records.settings import FilmFormat
from reckoner.units import factor, parse_amount

D = Decimal


def film(catalogue: Catalogue, format_id: str) -> FilmFormat:
    assert catalogue.film_formats is not None
    return next(f for f in catalogue.film_formats.formats if f.id == format_id)


#: Inch and millimetre pairs of SMPTE 101-2003, 149-2004, 239-2004 and ST 119:2011, text read: (inch, mm, places).
PAIRS = [
    ("0.628", "15.95", 2),
    ("0.600", "15.24", 2),
    ("0.622", "15.80", 2),
    ("0.3140", "7.976", 3),
    ("0.1667", "4.234", 3),
    ("0.1664", "4.227", 3),
    ("0.0360", "0.914", 3),
    ("16.670", "423.42", 2),
    ("16.640", "422.66", 2),
    ("0.1500", "3.810", 3),
    ("0.1497", "3.802", 3),
    ("0.1870", "4.750", 3),
]


@pytest.mark.parametrize(("inch", "mm", "places"), PAIRS)
def test_inches_of_the_standards_in_millimetres(inch: str, mm: str, places: int) -> None:
    assert decimals(parse_amount(f"{inch} in", ("length",)).base, places) == D(mm)


def test_35_mm_is_deliberately_rounded_down() -> None:
    """SMPTE 102-2002 prints 34.975 mm for 1.377 in (34.976), to stay inside 35 mm."""
    exact = parse_amount("1.377 in", ("length",)).base
    assert D(0) < exact - D("34.975") < D("0.001")


def test_a_coarsely_rounded_dimension() -> None:
    """SMPTE 101-2003 prints 0.80 mm for 0.031 in, which is 0.787."""
    assert D(0) < D("0.80") - parse_amount("0.031 in", ("length",)).base < D("0.02")


#: Widths of the standards: (format, mm).
WIDTHS = [("35mm-100ft", "34.975"), ("16mm-100ft", "15.95"), ("super8-50ft", "7.976")]


@pytest.mark.parametrize(("format_id", "mm"), WIDTHS)
def test_widths_in_the_table(demo: Catalogue, format_id: str, mm: str) -> None:
    assert film(demo, format_id).width.base == D(mm)


#: Arithmetic on those widths with 1 ft = 304.8 mm: (format, m2, places).
AREAS = [("35mm-100ft", "1.066", 3), ("16mm-100ft", "0.486", 3), ("16mm-400ft", "1.945", 3)]


@pytest.mark.parametrize(("format_id", "area", "places"), AREAS)
def test_areas(demo: Catalogue, format_id: str, area: str, places: int) -> None:
    assert decimals(area_m2(film(demo, format_id)), places) == D(area)


def test_50_ft_of_super_8_in_square_inches(demo: Catalogue) -> None:
    assert decimals(area_sq_in(film(demo, "super8-50ft")), 1) == D("188.4")


#: Square inches of every format, computed from lengths and widths that are partly from memory (the table says which).
SQUARE_INCHES = {
    "super8-25ft": "94.20",
    "super8-50ft": "188.41",
    "super8-100ft": "376.82",
    "regular8-25ft-slit": "94.20",
    "regular8-50ft-slit": "188.41",
    "regular8-100ft-slit": "376.82",
    "double8-25ft": "188.39",
    "double-super8-100ft": "753.54",
    "16mm-1ft": "7.54",
    "16mm-100ft": "753.54",
    "16mm-200ft": "1507.09",
    "16mm-400ft": "3014.17",
    "35mm-1ft": "16.52",
    "35mm-100ft": "1652.36",
    "35mm-200ft": "3304.72",
    "35mm-400ft": "6609.45",
    "35mm-1000ft": "16523.62",
    "135-36": "88.36",
    "135-24": "63.64",
    "135-12": "38.92",
    "120": "78.17",
    "220": "156.33",
    "127": "42.78",
    "110-24": "18.35",
    "110-12": "10.79",
    "sheet-4x5in": "20.00",
    "sheet-5x7in": "35.00",
    "sheet-8x10in": "80.00",
    "sheet-9x12cm": "16.74",
    "sheet-6.5x9cm": "9.07",
    "sheet-13x18cm": "36.27",
    "paper-8x10in": "80.00",
}


def test_area_of_every_format(demo: Catalogue) -> None:
    assert demo.film_formats is not None
    found = {f.id: str(decimals(area_sq_in(f), 2)) for f in demo.film_formats.formats}
    assert found == SQUARE_INCHES


def test_100_ft_is_30_5_m() -> None:
    """Publication H-24.09, table 9-4, text read."""
    assert decimals(100 * factor("ft") / factor("m"), 1) == D("30.5")


def test_half_the_35_mm_rate_is_a_rule_and_not_the_area(demo: Catalogue) -> None:
    """Publication H-24.09: 16 mm rates are one half of the 35 mm rates; the areas are as 0.456 to 1."""
    ratio = area_m2(film(demo, "16mm-100ft")) / area_m2(film(demo, "35mm-100ft"))
    assert decimals(ratio, 3) == D("0.456")


def test_the_trade_unit_is_a_convention(demo: Catalogue) -> None:
    """A whole 135-36 is about 88 sq in and a 120 about 78; the trade calls each 80. A sheet 8x10 in is exactly one."""
    assert decimals(area_sq_in(film(demo, "135-36")), 0) == 88
    assert decimals(area_sq_in(film(demo, "120")), 0) == 78
    assert trade_units(film(demo, "sheet-8x10in")) == 1
    assert trade_units(film(demo, "sheet-4x5in")) * 4 == 1
    # A unit is 0.0516 m2; a whole 135-36 is a tenth more than the one roll it counts as.
    assert decimals(area_m2(film(demo, "sheet-8x10in")), 4) == D("0.0516")
    assert decimals(trade_units(film(demo, "135-36")), 2) == D("1.10")
