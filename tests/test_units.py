"""Amounts as authors write them: what is read, and what is refused with which advice."""

from __future__ import annotations

from decimal import Decimal

import pytest

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
from reckoner.units import AMBIGUOUS, REGISTRY, UNITS, factor, parse_amount, parse_published

REFUSED = [
    ("2,5 g", "'2,5' has a decimal comma (write 2.5)"),
    ("2,5g", "'2,5' has a decimal comma (write 2.5)"),
    ("0,125 g", "'0,125' has a decimal comma (write 0.125)"),
    ("1,000 g", "'1,000' can mean two things (write 1.000 or 1000)"),
    ("1.000,5 g", "'1.000,5' is no plain number (write digits with a point, as 2.5)"),
    ("1/2 g", "'1/2' is no plain number (write digits with a point, as 2.5)"),
    ("٢ g", "'٢' is no plain number (write digits with a point, as 2.5)"),
    (".5 g", "'.5' is no plain number (write digits with a point, as 2.5)"),
    ("+2 g", "'+2' is no plain number (write digits with a point, as 2.5)"),
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
    ("5 kgx", "unknown unit 'kgx' in '5 kgx' (did you mean kg?)"),
    ("5 xyz", "unknown unit 'xyz' in '5 xyz' (write one of mg, g, kg, mL, L)"),
    ("NaN", "'NaN' is no usable number (write an amount as 2.5 g)"),
    ("", "'' is no amount (write a number, a space and a unit, as 2.5 g)"),
    ("g", "'g' is no amount (write a number, a space and a unit, as 2.5 g)"),
    ("0.5 m2", "'0.5 m2' is an area where a mass or volume is needed (write a mass or volume, as 2.5 g)"),
    ("100 ft", "'100 ft' is a length where a mass or volume is needed (write a mass or volume, as 2.5 g)"),
]


@pytest.mark.parametrize(("text", "message"), REFUSED)
def test_refused_amounts_say_what_to_write(text: str, message: str) -> None:
    with pytest.raises(ValueFault) as fault:
        parse_amount(text)
    assert str(fault.value) == message


#: Every spelling that is refused as unclear, and what is offered for it.
OUNCE = "oz_avdp, oz_troy, US_fl_oz or imp_fl_oz"
FLUID_OUNCE = "US_fl_oz or imp_fl_oz"
PER_CENT = "% w/v, % w/w or % v/v where a strength is asked for, g or mL where an amount is"
MILLILITRES = ["millilitre", "millilitres", "milliliter", "milliliters"]
SPOONS = [
    "tsp",
    "teaspoon",
    "teaspoons",
    "tbsp",
    "tbs",
    "tablespoon",
    "tablespoons",
    "cup",
    "cups",
    "drop",
    "drops",
    "pinch",
]
UNCLEAR = {
    OUNCE: ["oz", "oz.", "ounce", "ounces"],
    FLUID_OUNCE: ["fl oz", "floz", "fl_oz", "fl. oz.", "fl.oz.", "fluid ounce", "fluid ounces"],
    "grain for 64.8 mg, g for a gram": ["gr"],
    "grain": ["grains"],
    "g": ["gm", "gms", "gram", "grams", "G", "gramme", "grammes", "g.", "gms.", "gm."],
    "mg": ["milligram", "milligrams", "mgs", "µg", "ug", "mcg"],
    "kg": ["Kg", "KG", "kilo", "kilos", "kilogram", "kilograms", "kgs"],
    "mL": ["cc", "c.c.", "cm3", "ml", "ML", *MILLILITRES, "mls", "ccm", "cl", "dl"],
    "L": ["l", "ltr", "litre", "liter", "litres", "liters", "ltrs", "lt"],
    "US_pt or imp_pt": ["pt", "pint", "pints"],
    "US_qt": ["qt", "quart", "quarts"],
    "US_gal or imp_gal": ["gal", "gallon", "gallons"],
    "dram_avdp, dram_apoth, US_fl_dram or imp_fl_drachm": ["dr"],
    "dram_avdp, dram_apoth or US_fl_dram": ["dram"],
    "dram_apoth or imp_fl_drachm": ["drachm"],
    "US_minim or imp_minim": ["minim"],
    "lb_avdp or lb_troy": ["lb", "lbs", "lb.", "pound", "pounds"],
    PER_CENT: ["%"],
    "an amount in g or mL": ["M"],
    "g: moles times the molar mass on the chemical's page": ["mol", "mols", "mole", "moles", "mmol"],
    "g for a solid, mL for a liquid: weigh or measure what goes in": SPOONS,
}


@pytest.mark.parametrize(("offered", "unit"), [(offered, unit) for offered, units in UNCLEAR.items() for unit in units])
def test_unclear_units_offer_the_clear_ones(offered: str, unit: str) -> None:
    with pytest.raises(ValueFault) as fault:
        parse_amount(f"5 {unit}")
    assert str(fault.value) == f"unit '{unit}' in '5 {unit}' is not clear (write {offered})"


def test_no_unclear_unit_is_left_out_here_and_none_is_accepted() -> None:
    listed = {unit for units in UNCLEAR.values() for unit in units}
    assert listed == set(AMBIGUOUS)
    assert not listed & set(UNITS)


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
        ("11/2 oz_avdp", ["5.5 oz_avdp"]),
        ("1 imp_fl_oz 135 imp_minim", ["1 imp_fl_oz", "135 imp_minim"]),
    ],
)
def test_published_amounts(text: str, parts: list[str]) -> None:
    assert [str(amount) for amount in parse_published(text)] == parts


BACKWARDS = "does not go from the larger unit to the smaller (write it as 3 oz_avdp 145 grain)"
NOT_PUBLISHED = "is no published amount (write it as 3 oz_avdp 145 grain)"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("145 grain 3 oz_avdp", f"'145 grain 3 oz_avdp' {BACKWARDS}"),
        ("3 oz_avdp 3 oz_avdp", f"'3 oz_avdp 3 oz_avdp' {BACKWARDS}"),
        ("3 oz_avdp 1 US_fl_oz", "'3 oz_avdp 1 US_fl_oz' adds a mass to a volume (write one or the other)"),
        ("1/0 oz_avdp", "'1/0 oz_avdp' divides by zero (write a simple fraction as 1/4)"),
        ("3 oz 145 gr", f"unit 'oz' in '3 oz 145 gr' is not clear (write {OUNCE})"),
        ("1.5 1/2 g", "'1.5 1/2 g' in '1.5 1/2 g' is no amount (write it as 1 1/2 oz_avdp)"),
        ("0 grain", "'0 grain' is zero (write an amount above zero, or leave the ingredient out)"),
        ("-1 g", "'-1 g' in '-1 g' is no amount (write it as 1 1/2 oz_avdp)"),
        ("3", f"'3' {NOT_PUBLISHED}"),
        ("soon", f"'soon' {NOT_PUBLISHED}"),
        ("", f"'' {NOT_PUBLISHED}"),
    ],
)
def test_published_amounts_that_are_refused(text: str, message: str) -> None:
    with pytest.raises(ValueFault) as fault:
        parse_published(text)
    assert str(fault.value) == message


@pytest.mark.parametrize(
    ("parse", "text"),
    [
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
