"""Metric and avoirdupois pairs of old publications, through the formulas that carry them."""

from __future__ import annotations

from decimal import Decimal

import pytest

from outside import decimals
from reckoner.calc.scaling import published_difference
from reckoner.records.catalogue import Catalogue
from reckoner.units import factor, parse_published

D = Decimal


def per_litre(old: str, volume: str) -> Decimal:
    """An old amount in an old volume, as g or mL in a litre."""
    amount = sum((part.base for part in parse_published(old)), D(0))
    made = sum((part.base for part in parse_published(volume)), D(0))
    return amount / made * 1000


#: Kodak Limited (UK), Formulary W.1 (1940s), text read: amounts for 80 imperial fl oz beside those for 1000 c.c.
#: (old amount, printed g or c.c. in a litre, what the print's own rounding allows)
W1 = [
    ("175 grain", "5.0", "0.05"),
    ("350 grain", "10.0", "0.05"),
    ("260 grain", "7.5", "0.1"),
    ("185 grain", "5.3", "0.05"),
    ("6 oz_avdp", "75.0", "0.5"),
    ("1 imp_fl_oz 135 imp_minim", "16.0", "0.05"),
    ("38 oz_avdp", "480", "6.5"),
]


@pytest.mark.parametrize(("old", "printed", "within"), W1)
def test_imperial_pairs(old: str, printed: str, within: str) -> None:
    assert abs(per_litre(old, "80 imp_fl_oz") - D(printed)) <= D(within)


#: "Processing Chemicals and Formulas", Publication J-1 family, from memory: 32 US fl oz beside one litre.
J1 = [
    ("bw-mq-borax", "metol", "29 grain", "2.0"),
    ("bw-mq-borax", "sodium-sulfite", "3 oz_avdp 145 grain", "100"),
    ("bw-mq-borax", "hydroquinone", "73 grain", "5.0"),
    ("bw-metol-sulfite", "metol", "1/4 oz_avdp", "7.5"),
    ("paper-mq-stock", "metol", "45 grain", "3.1"),
    ("paper-mq-stock", "sodium-sulfite", "1 1/2 oz_avdp", "45"),
    ("paper-mq-stock", "hydroquinone", "175 grain", "12"),
    ("paper-mq-stock", "sodium-carbonate", "2 1/4 oz_avdp", "67.5"),
    ("paper-mq-stock", "potassium-bromide", "27 grain", "1.9"),
    ("fixer-acid-hardening", "sodium-thiosulfate", "8 oz_avdp", "240"),
    ("fixer-acid-hardening", "sodium-sulfite", "1/2 oz_avdp", "15"),
    ("fixer-acid-hardening", "boric-acid", "1/4 oz_avdp", "7.5"),
    ("fixer-acid", "sodium-sulfite", "145 grain", "10"),
    ("fixer-acid", "sodium-bisulfite", "365 grain", "25"),
]


@pytest.mark.parametrize(("formula", "chemical", "old", "metric"), J1)
def test_us_pairs_of_the_formulas(demo: Catalogue, formula: str, chemical: str, old: str, metric: str) -> None:
    """The formula carries both amounts, and 32 US fl oz against a litre agrees to 3 %: the metric column is rounded."""
    ingredient = next(i for i in demo.formulas[formula].ingredients if i.chemical == chemical)
    assert ingredient.as_published == parse_published(old)
    assert ingredient.amount.base == D(metric)
    difference = published_difference(demo.formulas[formula], ingredient)
    assert difference is not None
    assert abs(difference) < 3
    assert abs(per_litre(old, "32 US_fl_oz") / D(metric) - 1) < D("0.03")


#: The Wellington Photographic Handbook, p. 130, text read: 20 imperial fl oz beside 500 c.c. (the formula is doubled to
#: a litre). Hand-rounded pairs, up to 14 % apart.
WELLINGTON = [
    ("metol", "20 grain", "14.0"),
    ("hydroquinone", "50 grain", "14.0"),
    ("sodium-sulfite", "200 grain", "14.0"),
]


@pytest.mark.parametrize(("chemical", "old", "percent"), WELLINGTON)
def test_loose_historic_pairs_are_shown_with_their_difference(
    demo: Catalogue, chemical: str, old: str, percent: str
) -> None:
    formula = demo.formulas["bw-mq-borax-historic"]
    ingredient = next(i for i in formula.ingredients if i.chemical == chemical)
    assert ingredient.as_published == parse_published(old)
    difference = published_difference(formula, ingredient)
    assert difference is not None
    # 20 oz is 568 mL, 500 c.c. are its pair: 12 % of it is that, the rest the rounding of the grains.
    assert abs(difference) <= D(percent) + D("0.5")


def test_grains_of_one_fluid_ounce_taken_as_two_grams_a_litre() -> None:
    """1 grain in an imperial fl oz is 2.28 g/L; the old rule says 2."""
    assert decimals(per_litre("1 grain", "1 imp_fl_oz"), 2) == D("2.28")
    assert factor("grain") < factor("g")
