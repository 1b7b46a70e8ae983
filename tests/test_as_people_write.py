"""Units, strengths, times and names as people write them are refused, each with the right spelling offered."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.values import (
    Acidity,
    AnyAmount,
    Clock,
    Count,
    Day,
    Density,
    Duration,
    Parts,
    Percent,
    Price,
    Published,
    Temperature,
    Volume,
    parse_clock,
    parse_dilution,
    parse_strength,
    parse_temperature,
)
from reckoner.spelling import chemical_hint
from reckoner.units import parse_amount

ROWS: list[tuple[Callable[[str], object], str, str]] = [
    (parse_amount, "1 tsp", "write g for a solid, mL for a liquid"),
    (parse_amount, "2 cups", "write g for a solid, mL for a liquid"),
    (parse_amount, "5 gm", "write g)"),
    (parse_amount, "5gm", "write g)"),
    (parse_amount, "2 Grams", "write g)"),
    (parse_amount, "5 ml", "write mL)"),
    (parse_amount, "5 mls", "write mL)"),
    (parse_amount, "5 cc", "write mL)"),
    (parse_amount, "5 gr", "write grain for 64.8 mg, g for a gram"),
    (parse_amount, "1 oz", "write oz_avdp, oz_troy, US_fl_oz or imp_fl_oz"),
    (parse_amount, "1 Oz", "write oz_avdp, oz_troy, US_fl_oz or imp_fl_oz"),
    (parse_amount, "1 fl. oz.", "write US_fl_oz or imp_fl_oz"),
    (parse_amount, "5 Mol", "moles times the molar mass"),
    (parse_amount, "10 % solution", "is a strength, no amount (write mL of the solution"),
    (parse_amount, "10 µg", "write mg)"),
    (parse_dilution, "1:9", "write 1+9 for 1 part and 9 of water"),
    (parse_dilution, "1 in 10", "write 1+9 for 1 in 10 altogether, 1+10 for 1 and 10 of water"),
    (parse_dilution, "1/9", "1+9 for 1 and 9 of water"),
    (parse_strength, "5 % solution", "write 5 % w/w, % w/v or % v/v"),
    (parse_strength, "28% acetic", "write 28 % w/w, % w/v or % v/v"),
    (parse_temperature, "38C", "write 38 °C"),
    (parse_temperature, "68-70 deg F", "write 68-70 °F"),
    (parse_clock, "3 min 15 s", "write 3:15"),
    (parse_clock, "8'", "write 8:00"),
]


@pytest.mark.parametrize(("parse", "text", "offered"), ROWS, ids=[text for _, text, _ in ROWS])
def test_the_right_spelling_is_offered(parse: Callable[[str], object], text: str, offered: str) -> None:
    with pytest.raises(ValueFault) as fault:
        parse(text)
    assert offered in str(fault.value)
    assert f"'{text}'" in str(fault.value)


@pytest.mark.parametrize(
    ("word", "offered"),
    [
        ("hypo", "a name of 'sodium-thiosulfate', if that is what the jar holds"),
        ("sodium-sulphite", "a name of 'sodium-sulfite'"),
        ("washing-soda", "sold as 'sodium-carbonate' only if: the label says 100 % sodium carbonate"),
        ("baking-soda", "sold as 'sodium-bicarbonate' only if"),
        ("lye", "sold as 'sodium-hydroxide' only if"),
    ],
)
def test_trade_and_household_names_lead_to_the_chemical(word: str, offered: str, demo: Catalogue) -> None:
    assert offered in chemical_hint(word, demo)


def test_a_household_name_is_no_chemical_of_its_own(demo: Catalogue) -> None:
    """Borax is one: its id is its name."""
    assert "borax" in demo.chemicals
    assert "washing-soda" not in demo.chemicals


@pytest.mark.parametrize(
    ("kind", "written", "meant"),
    [
        (AnyAmount, "1OO g", "100 g"),
        (AnyAmount, "l.5 g", "1.5 g"),
        (AnyAmount, "I0 mL", "10 mL"),
        (AnyAmount, "1\u041e g", "10 g"),
        (AnyAmount, "|O mL", "10 mL"),
        (Duration, "1O months", "10 months"),
        (Duration, "l-2 weeks", "1-2 weeks"),
        (Temperature, "2O °C", "20 °C"),
        (Clock, "3:l5", "3:15"),
        (Day, "2O26-11-25", "2026-11-25"),
        (Price, "8.9O EUR", "8.90 EUR"),
        (Parts, "1+1O", "1+10"),
        (Percent, "6O % w/w", "60 % w/w"),
        (Volume, "l L", "1 L"),
        (Count, "1O", "10"),
        (Acidity, "8.S", "8.5"),
        (Density, "1.O3 g/mL", "1.03 g/mL"),
        (Published, "3 oz_avdp l45 grain", "3 oz_avdp 145 grain"),
    ],
)
def test_letters_that_look_like_digits_are_named(kind: Any, written: str, meant: str) -> None:
    with pytest.raises(ValidationError) as fault:
        TypeAdapter(kind).validate_python(written)
    assert f"where a digit belongs (write {meant})" in str(fault.value)


@pytest.mark.parametrize("text", ["5 oz", "2 l", "1l", "10 0z", "O", "film-1O", "1 Oz"])
def test_nothing_else_is_taken_for_a_digit(text: str) -> None:
    """Where the text says nothing with digits either, the fault is another."""
    with pytest.raises(ValueFault) as fault:
        parse_amount(text)
    assert "where a digit belongs" not in str(fault.value)


@pytest.mark.parametrize(
    ("written", "letters"),
    [
        ("1OO g", "the letter O"),
        ("lO g", "the letter l and the letter O"),
        ("1\u041e g", "the Cyrillic or Greek letter"),
    ],
)
def test_the_letters_are_named(written: str, letters: str) -> None:
    with pytest.raises(ValueFault, match=letters):
        parse_amount(written)
