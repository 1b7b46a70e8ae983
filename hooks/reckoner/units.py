"""Amounts as authors write them, and the one Pint registry that converts them.

Pint never sees an author's text: it reads ``2,5 g`` as 25 g and ``gr`` as grains. The text goes through the patterns
and the short list of spellings below; only the resulting number and unit name reach the registry.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import NewType

import pint

from reckoner.digits import misread, with_digits
from reckoner.problems import ValueFault, closest

REGISTRY: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)

#: A part of a whole as a plain number, 0.05 for 5 %: the one kind of number that pages turn into per cent.
Proportion = NewType("Proportion", Decimal)
#: What a bath takes for a litre of it, in g or mL as its unit says.
PerLitre = NewType("PerLitre", Decimal)
Litres = NewType("Litres", Decimal)
#: Film counted in the trade's rolls of 80 square inches, and what a litre of bath does of it.
Rolls = NewType("Rolls", Decimal)
RollsPerLitre = NewType("RollsPerLitre", Decimal)
#: mL, or mm3 over mm2 and mm: the base unit of volume in a litre.
LITRE = Decimal(1000)
ONE_LITRE = Litres(Decimal(1))

#: Spelling in the data -> (dimension, name in Pint). Base units of the core: g, mL, °C, s, mm2.
UNITS: dict[str, tuple[str, str]] = {
    "mg": ("mass", "milligram"),
    "g": ("mass", "gram"),
    "kg": ("mass", "kilogram"),
    "grain": ("mass", "grain"),
    "dram_avdp": ("mass", "dram"),
    "oz_avdp": ("mass", "ounce"),
    "lb_avdp": ("mass", "pound"),
    "scruple_apoth": ("mass", "scruple"),
    "dram_apoth": ("mass", "apothecary_dram"),
    "oz_troy": ("mass", "troy_ounce"),
    "lb_troy": ("mass", "troy_pound"),
    "mL": ("volume", "milliliter"),
    "L": ("volume", "liter"),
    "US_minim": ("volume", "minim"),
    "US_fl_dram": ("volume", "fluid_dram"),
    "US_fl_oz": ("volume", "fluid_ounce"),
    "US_pt": ("volume", "pint"),
    "US_qt": ("volume", "quart"),
    "US_gal": ("volume", "gallon"),
    "imp_minim": ("volume", "imperial_minim"),
    "imp_fl_drachm": ("volume", "imperial_fluid_drachm"),
    "imp_fl_oz": ("volume", "imperial_fluid_ounce"),
    "imp_pt": ("volume", "imperial_pint"),
    "imp_gal": ("volume", "imperial_gallon"),
    "ft": ("length", "foot"),
    "mm": ("length", "millimeter"),
    "m": ("length", "meter"),
    "in": ("length", "inch"),
    "m2": ("area", "meter ** 2"),
    "sq_in": ("area", "inch ** 2"),
}
BASE = {"mass": "gram", "volume": "milliliter", "length": "millimeter", "area": "millimeter ** 2"}

_SPOONS = "g for a solid, mL for a liquid: weigh or measure what goes in"
#: Spellings that mean two things, or something else than an author would think; each with what to write.
AMBIGUOUS: dict[str, str] = {
    "oz": "oz_avdp, oz_troy, US_fl_oz or imp_fl_oz",
    "fl oz": "US_fl_oz or imp_fl_oz",
    "floz": "US_fl_oz or imp_fl_oz",
    "fl_oz": "US_fl_oz or imp_fl_oz",
    "gr": "grain for 64.8 mg, g for a gram",
    "gm": "g",
    "gms": "g",
    "gram": "g",
    "grams": "g",
    "grains": "grain",
    "pt": "US_pt or imp_pt",
    "pint": "US_pt or imp_pt",
    "qt": "US_qt",
    "quart": "US_qt",
    "gal": "US_gal or imp_gal",
    "dr": "dram_avdp, dram_apoth, US_fl_dram or imp_fl_drachm",
    "dram": "dram_avdp, dram_apoth or US_fl_dram",
    "drachm": "dram_apoth or imp_fl_drachm",
    "minim": "US_minim or imp_minim",
    "lb": "lb_avdp or lb_troy",
    "lbs": "lb_avdp or lb_troy",
    "%": "% w/v, % w/w or % v/v where a strength is asked for, g or mL where an amount is",
    "cc": "mL",
    "c.c.": "mL",
    "cm3": "mL",
    "ml": "mL",
    "ML": "mL",
    "l": "L",
    "ltr": "L",
    "litre": "L",
    "liter": "L",
    "G": "g",
    "Kg": "kg",
    "KG": "kg",
    "M": "an amount in g or mL",
    **dict.fromkeys(("mol", "mols", "mole", "moles", "mmol"), "g: moles times the molar mass on the chemical's page"),
    **dict.fromkeys(("tsp", "teaspoon", "teaspoons"), _SPOONS),
    **dict.fromkeys(("tbsp", "tbs", "tablespoon", "tablespoons", "cup", "cups", "drop", "drops", "pinch"), _SPOONS),
    **dict.fromkeys(("ounce", "ounces", "oz."), "oz_avdp, oz_troy, US_fl_oz or imp_fl_oz"),
    **dict.fromkeys(("fl. oz.", "fl.oz.", "fluid ounce", "fluid ounces"), "US_fl_oz or imp_fl_oz"),
    **dict.fromkeys(("pound", "pounds", "lb."), "lb_avdp or lb_troy"),
    **dict.fromkeys(("gramme", "grammes", "g.", "gms.", "gm."), "g"),
    **dict.fromkeys(("kilo", "kilos", "kilogram", "kilograms", "kgs"), "kg"),
    **dict.fromkeys(("milligram", "milligrams", "mgs"), "mg"),
    **dict.fromkeys(("millilitre", "millilitres", "milliliter", "milliliters", "mls", "ccm"), "mL"),
    **dict.fromkeys(("litres", "liters", "ltrs", "lt"), "L"),
    **dict.fromkeys(("pints",), "US_pt or imp_pt"),
    **dict.fromkeys(("quarts",), "US_qt"),
    **dict.fromkeys(("gallon", "gallons"), "US_gal or imp_gal"),
    **dict.fromkeys(("cl", "dl"), "mL"),
    **dict.fromkeys(("µg", "ug", "mcg"), "mg"),
}
_LOWER_CASE = {unit.lower(): hint for unit, hint in AMBIGUOUS.items()}

#: Beyond this no bench figure is meant: 10 tonnes or 10,000 litres.
ABSURD = Decimal("1e7")
#: Below this no balance or pipette reaches: a tenth of a microgram, a tenth of a nanolitre.
VANISHING = Decimal("1e-7")
_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?\Z")
_AMOUNT = re.compile(r"(?P<number>\S+)\s+(?P<unit>\S.*)\Z")
#: ``1``, ``1.5``, ``1/4`` or ``1 1/2``, then the unit; the space keeps ``11/2`` from being read as 1 1/2.
_PART = re.compile(
    r"(?:(?P<number>[0-9]+(?:\.[0-9]+)?)|(?:(?P<whole>[0-9]+)\s+)?(?P<frac>[0-9]+/[0-9]+))\s*(?P<unit>[A-Za-z_]+)\Z"
)


@dataclass(frozen=True)
class Amount:
    """A number with a unit from ``UNITS``.

    Attributes:
        number: above zero, as written.
        unit: spelling as in the data.
    """

    number: Decimal
    unit: str

    @property
    def dimension(self) -> str:
        """``mass``, ``volume``, ``length`` or ``area``."""
        return UNITS[self.unit][0]

    @property
    def base(self) -> Decimal:
        """The amount in g, mL, mm or mm2."""
        return self.number * factor(self.unit)

    @property
    def litres(self) -> Litres:
        """A volume in litres."""
        return Litres(self.base / LITRE)

    def __str__(self) -> str:
        return f"{self.number} {self.unit}"


@cache
def factor(unit: str) -> Decimal:
    """Base units (g, mL, mm, mm2) in one ``unit``; exact by the definitions in Pint's registry."""
    dimension, name = UNITS[unit]
    quantity = REGISTRY.Quantity(Decimal(1), name).to(BASE[dimension])
    # Pint divides on the way and leaves noise in the 28th digit; every definition ends before the 16th
    # place but that of the imperial minim (1/480 of 28.4130625 mL), which is cut there.
    return Decimal(quantity.magnitude).quantize(Decimal("1e-16")).normalize()


def parse_number(text: str) -> Decimal:
    """Read a plain decimal number.

    Raises:
        ValueFault: for anything but digits with an optional decimal point.
    """
    if _NUMBER.match(text):
        return Decimal(text)
    if re.match(r"[1-9][0-9]{0,2},[0-9]{3}\Z", text):
        plain = text.replace(",", "")
        raise ValueFault(f"'{text}' can mean two things (write {text.replace(',', '.')} or {plain})")
    if re.match(r"[0-9]+,[0-9]+\Z", text):
        raise ValueFault(f"'{text}' has a decimal comma (write {text.replace(',', '.')})")
    if text.startswith("-"):
        raise ValueFault(f"'{text}' is negative (write a number above zero)")
    if text.strip("+.").lower() in {"nan", "inf", "infinity"}:
        raise ValueFault(f"'{text}' is no usable number (write digits, as 2.5)")
    mended, letters = with_digits(text)
    if letters and _NUMBER.match(mended):
        raise ValueFault(misread(text, mended, letters))
    raise ValueFault(f"'{text}' is no plain number (write digits with a point, as 2.5)")


def parse_amount(text: str, dimensions: tuple[str, ...] = ("mass", "volume")) -> Amount:
    """Read one amount such as ``2.5 g``.

    Raises:
        ValueFault: unknown or ambiguous unit, decimal comma, zero, negative, absurd, or the wrong dimension.

    >>> parse_amount("2.5 g")
    Amount(number=Decimal('2.5'), unit='g')
    """
    parts = _AMOUNT.match(text.strip())
    if not parts:
        _refuse_without_unit(text.strip(), dimensions)
        raise ValueFault(f"'{text}' is no amount (write a number, a space and a unit, as 2.5 g)")
    number = parse_number(parts["number"])
    unit = _unit(parts["unit"].strip(), text)
    amount = Amount(number, unit)
    _check_size(amount, text)
    if amount.dimension not in dimensions:
        wanted = " or ".join(dimensions)
        example = {"mass": "2.5 g", "volume": "850 mL", "length": "100 ft", "area": "0.5 m2"}[dimensions[0]]
        it_is = "an area" if amount.dimension == "area" else f"a {amount.dimension}"
        raise ValueFault(f"'{text}' is {it_is} where a {wanted} is needed (write a {wanted}, as {example})")
    return amount


def parse_published(text: str) -> tuple[Amount, ...]:
    """Read an amount as an old publication prints it: descending units and simple fractions.

    >>> [str(a) for a in parse_published("3 oz_avdp 145 grain")]
    ['3 oz_avdp', '145 grain']
    >>> parse_published("1 1/2 US_fl_oz")[0].number
    Decimal('1.5')
    """
    pieces = re.findall(r"[^A-Za-z_]+[A-Za-z_]+", text)
    if not pieces or "".join(pieces) != text:
        raise ValueFault(f"'{text}' is no published amount (write it as 3 oz_avdp 145 grain)")
    amounts = tuple(_published_part(piece.strip(), text) for piece in pieces)
    if len({amount.dimension for amount in amounts}) > 1:
        raise ValueFault(f"'{text}' adds a mass to a volume (write one or the other)")
    sizes = [factor(amount.unit) for amount in amounts]
    if sizes != sorted(sizes, reverse=True) or len(set(sizes)) != len(sizes):
        raise ValueFault(f"'{text}' does not go from the larger unit to the smaller (write it as 3 oz_avdp 145 grain)")
    return amounts


def _published_part(piece: str, text: str) -> Amount:
    match = _PART.match(piece)
    if not match:
        raise ValueFault(f"'{piece}' in '{text}' is no amount (write it as 1 1/2 oz_avdp)")
    number = Decimal(match["number"] or match["whole"] or 0)
    if match["frac"]:
        over, under = match["frac"].split("/")
        if int(under) == 0:
            raise ValueFault(f"'{text}' divides by zero (write a simple fraction as 1/4)")
        number += Decimal(over) / Decimal(under)
    amount = Amount(number, _unit(match["unit"], text))
    _check_size(amount, text)
    return amount


def _refuse_without_unit(text: str, dimensions: tuple[str, ...]) -> None:
    if _NUMBER.match(text):
        usual = {"mass": "g", "volume": "mL", "length": "mm", "area": "m2"}
        raise ValueFault(f"'{text}' has no unit (write {' or '.join(f'{text} {usual[d]}' for d in dimensions)})")
    glued = re.match(r"(-?[\d.,]+)\s*(\S+)\Z", text)
    if glued and glued[1] not in {".", ","}:
        right = f"{parse_number(glued[1])} {_unit(glued[2], text)}"
        raise ValueFault(f"'{text}' needs a space between number and unit (write {right})")
    if text.lower() in {"nan", "inf", "infinity", "-inf", ".inf", ".nan"}:
        raise ValueFault(f"'{text}' is no usable number (write an amount as 2.5 g)")


def _unit(unit: str, text: str) -> str:
    if unit in UNITS:
        return unit
    if unit in AMBIGUOUS:
        raise ValueFault(f"unit '{unit}' in '{text}' is not clear (write {AMBIGUOUS[unit]})")
    if unit.startswith("%"):
        message = f"'{text}' is a strength, no amount"
        raise ValueFault(f"{message} (write mL of the solution, and its strength where the form or stock formula is)")
    if unit.lower() in _LOWER_CASE and unit.lower() not in {"m", "g", "l"}:
        raise ValueFault(f"unit '{unit}' in '{text}' is not clear (write {_LOWER_CASE[unit.lower()]})")
    guess = closest(unit, UNITS)
    hint = f"did you mean {guess}?" if guess else "write one of " + ", ".join([*list(UNITS)[:3], "mL", "L"])
    raise ValueFault(f"unknown unit '{unit}' in '{text}' ({hint})")


def _check_size(amount: Amount, text: str) -> None:
    if amount.number == 0:
        raise ValueFault(f"'{text}' is zero (write an amount above zero, or leave the ingredient out)")
    if amount.base > ABSURD:
        raise ValueFault(f"'{text}' is more than any darkroom holds (check the number and the unit)")
    if amount.base < VANISHING:
        raise ValueFault(f"'{text}' is less than anyone can measure (check the number and the unit)")
