"""Arithmetic that must hold whatever the figures: scaling, rounding, conversion, sums."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from outside import decimals
from reckoner.calc.costing import litres_per_pack
from reckoner.calc.results import work_out
from reckoner.calc.scaling import lines_of, scale
from reckoner.calc.substitution import Jar, convert
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.rounding import round_half_up
from reckoner.units import Amount
from small import chemical, formula, load

AMOUNTS = st.decimals("0.001", "9999", places=3)
STEPS = st.sampled_from([Decimal(s) for s in ("0.001", "0.01", "0.1", "0.2", "1", "5", "10")])
SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")


@given(AMOUNTS, STEPS)
def test_rounding_again_changes_nothing_and_is_at_most_half_a_step_off(value: Decimal, step: Decimal) -> None:
    rounded = round_half_up(value, step)
    assert round_half_up(rounded, step) == rounded
    assert abs(rounded - value) * 2 <= step
    assert rounded % step == 0


@pytest.mark.parametrize(
    ("value", "step", "rounded"), [("2.5", "1", "3"), ("8.75", "0.1", "8.8"), ("71.25", "0.1", "71.3")]
)
def test_halves_go_up(value: str, step: str, rounded: str) -> None:
    """Technical sheet TI2443: 8.75 mL is printed as 8.8 and 71.25 as 71.3."""
    assert round_half_up(Decimal(value), Decimal(step)) == Decimal(rounded)


@settings(max_examples=40, deadline=None)
@given(AMOUNTS, st.decimals("0.05", "50", places=2))
def test_a_batch_scaled_back_is_the_formula(grams: Decimal, litres: Decimal) -> None:
    catalogue = load(
        {
            "chemicals/salt.yml": SALT,
            "solutions/a/bath.yml": formula("bath", f"[{{chemical: salt, form: solid, amount: {grams} g}}]"),
        }
    )
    bath = catalogue.formulas["bath"]
    table = scale(bath, Amount(litres, "L"), catalogue.chemicals, catalogue.settings)
    assert abs(table.rows[0].exact / litres - lines_of(bath, catalogue.chemicals)[0].per_litre) < Decimal("1e-20")
    assert lines_of(bath, catalogue.chemicals)[0].per_litre == grams


def test_converting_there_and_back_is_one(demo: Catalogue) -> None:
    pairs = 0
    for one in demo.chemicals.values():
        for left in one.forms:
            for right in one.forms:
                try:
                    there, back = (convert(Jar(one, a), Jar(one, b)).factor for a, b in ((left, right), (right, left)))
                except ValueFault:
                    continue
                assert abs(there * back - 1) < Decimal("1e-20")
                pairs += 1
    assert pairs > 90


def test_needs_are_never_lost_on_the_way_to_the_cost(demo: Catalogue) -> None:
    """Every need of every formula is filled by exactly one row."""
    for result in work_out(demo).formulas.values():
        asked = [need for row in result.cost.rows for need in row.asked]
        assert len(asked) == len(result.needs)
        assert set(asked) == set(result.needs)


#: Common practice, no source: packs and the litres they make at so many g/L.
PACKS = [("250", "2", "125"), ("100", "1.4", "71.4"), ("250", "40", "6.25")]


@pytest.mark.parametrize(("pack", "per_litre", "litres"), PACKS)
def test_litres_that_a_pack_makes(pack: str, per_litre: str, litres: str) -> None:
    places = len(litres.partition(".")[2])
    assert decimals(litres_per_pack(Decimal(pack), Decimal(per_litre)), places) == Decimal(litres)
