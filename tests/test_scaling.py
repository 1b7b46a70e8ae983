"""Weighing tables: linear in volume, in mixing order, on the finest instrument that holds the amount."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reckoner.calc.mixing import scaling
from reckoner.calc.mixing.instruments import measure
from reckoner.calc.mixing.scaling import litre_list, scale
from reckoner.calc.results import work_out
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula, Item
from reckoner.records.values import parse_dilution
from reckoner.units import Amount, parse_amount
from small import chemical, formula, load

D = Decimal
PARTS = (
    "[{chemical: salt, form: solid, amount: 142.5 g}, {chemical: acid, form: liquid, amount: 25 mL}, "
    "{chemical: salt, form: solid, amount: 0.2 g, or: [{chemical: acid, form: liquid, amount: 1 mL}]}]"
)


def bath(ingredients: str = PARTS, more: str = "") -> Catalogue:
    return load(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "chemicals/acid.yml": chemical("acid", "[{id: liquid, name: liquid, state: liquid}]"),
            "solutions/a/bath.yml": formula("bath", ingredients, more=more),
        }
    )


def test_rows_keep_the_mixing_order_and_alternatives_follow_what_they_replace() -> None:
    catalogue = bath()
    table = scale(litre_list(catalogue.formulas["bath"], catalogue.chemicals), parse_amount("1 L"), catalogue.settings)
    rows = [(row.line.chemical, row.line.index, row.line.alternative) for row in table.rows]
    assert rows == [("salt", 0, 0), ("acid", 1, 0), ("salt", 2, 0), ("acid", 2, 1)]


#: Technical sheet TI2443 (revised 01-00), Process E-6 single-use mixing table, text read: 600.0 mL of water to start
#: with for a litre, 210.0 for 350 mL.
@pytest.mark.parametrize(("batch", "printed"), [("350 mL", "210.0"), ("1 L", "600.0")])
def test_starting_water_of_the_published_mixing_table(batch: str, printed: str) -> None:
    catalogue = bath(more="start_water: 600 mL\n")
    table = scale(litre_list(catalogue.formulas["bath"], catalogue.chemicals), parse_amount(batch), catalogue.settings)
    assert table.start_water == D(printed)


#: On the small handbook's tools: balances 0.01 g to 50 g and 0.1 g to 500 g; a syringe 0.1 mL to 10 mL, cylinders 1 mL
#: to 100 mL and 10 mL to 1 L. (exact, unit, rounded, instrument, fillings)
MEASURED = [
    ("49.995", "g", "50.00", "fine", 1),
    ("50", "g", "50.00", "fine", 1),
    ("50.01", "g", "50.0", "coarse", 1),
    ("500.1", "g", "500.1", "coarse", 2),
    ("0.004", "g", "0.00", "fine", 1),
    ("8.75", "mL", "8.8", "syringe", 1),
    ("10.5", "mL", "11", "small", 1),
    ("104.9", "mL", "100", "large", 1),
    ("2345", "mL", "2350", "large", 3),
]


@pytest.mark.parametrize(("exact", "unit", "rounded", "instrument", "fillings"), MEASURED)
def test_the_finest_instrument_that_holds_it(
    exact: str, unit: str, rounded: str, instrument: str, fillings: int
) -> None:
    found = measure(D(exact), unit, bath().settings)
    assert (str(found.rounded), found.instrument, found.portions) == (rounded, instrument, fillings)
    assert found.error == found.step * fillings


VOLUMES = ("30", "80.5", "250", "332.5", "999", "5000")


@pytest.mark.parametrize("volume", VOLUMES)
def test_measured_parts_of_a_dilution_add_up(volume: str, demo: Catalogue) -> None:
    """Two parts of 250 mL in steps of 2 mL were 126 and 126 mL; each stays within a step of what it should be."""
    diluted = [diluted_bath for diluted_bath in demo.formulas.values() if diluted_bath.dilution]
    assert len(diluted) > 5
    for working in diluted:
        table = scale(litre_list(working, demo.chemicals), Amount(D(volume), "mL"), demo.settings)
        parts = [(row.exact, row.measured) for row in table.rows]
        if table.start_water is not None and table.start_measured is not None:
            parts.append((table.start_water, table.start_measured))
        assert sum(measured.rounded for _, measured in parts) == D(volume), working.id
        for exact, measured in parts:
            assert abs(measured.rounded - exact) <= sum(other.error for _, other in parts), working.id


def test_two_equal_parts_of_250_ml(demo: Catalogue) -> None:
    table = scale(litre_list(demo.formulas["bw-mq-borax-1-1"], demo.chemicals), Amount(D(250), "mL"), demo.settings)
    assert table.start_measured is not None
    assert (table.rows[0].measured.rounded, table.start_measured.rounded) == (126, 124)


def test_a_dilution_is_scaled_with_its_water() -> None:
    """1+1+100 of two stock solutions: 9.804 mL of each and 980.392 mL of water in a litre (computed)."""
    catalogue = bath("[{chemical: salt, form: solid, amount: 1 g}]")
    other = catalogue.formulas["bath"]
    diluted = other.model_copy(
        update={"ingredients": (), "dilution": parse_dilution("1+1+100"), "of": ("bath", "bath")}
    )
    table = scale(litre_list(diluted, catalogue.chemicals), parse_amount("1 L"), catalogue.settings)
    assert [row.exact.quantize(D("0.001")) for row in table.rows] == [D("9.804"), D("9.804")]
    assert table.start_water is not None
    assert table.start_water.quantize(D("0.001")) == D("980.392")
    total = sum(row.exact for row in table.rows) + table.start_water
    assert abs(total - 1000) < D("1e-8")


def test_reducer_of_the_demonstration_is_30_and_120_made_to_a_litre(demo: Catalogue) -> None:
    """Formula R-4a (from memory of Publication J-1): 30 mL of A, 120 mL of B, so at most 850 mL of water."""
    working = demo.formulas["reducer-ferricyanide"]
    assert [line.per_litre for line in litre_list(working, demo.chemicals).lines] == [30, 120]
    assert litre_list(working, demo.chemicals).water == 850


@settings(max_examples=40)
@given(st.decimals("0.001", "9999", places=3), st.decimals("0.05", "50", places=2))
def test_a_batch_written_as_a_formula_scales_back_to_the_first(grams: Decimal, litres: Decimal) -> None:
    catalogue = bath(f"[{{chemical: salt, form: solid, amount: {grams} g}}]")
    first = catalogue.formulas["bath"]
    row = scale(litre_list(first, catalogue.chemicals), Amount(litres, "L"), catalogue.settings).rows[0]
    item = first.ingredients[0].model_copy(update={"amount": Amount(row.exact, "g")})
    batch = first.model_copy(update={"makes": Amount(litres, "L"), "ingredients": (item,)})
    back = scale(litre_list(batch, catalogue.chemicals), first.makes, catalogue.settings).rows[0]
    assert back.exact == grams


def test_each_ingredient_is_worked_out_once(demo: Catalogue, monkeypatch: pytest.MonkeyPatch) -> None:
    """Batches, costs, plans, kits and their history all read the same list for a litre."""
    asked: Counter[tuple[str, int, int]] = Counter()

    def counted(formula: Formula, item: Item, index: int, *rest: Any) -> scaling.Line:
        line = line_of(formula, item, index, *rest)
        asked[formula.id, index, line.alternative] += 1
        return line

    line_of = scaling.line_of
    monkeypatch.setattr(scaling, "line_of", counted)
    work_out(demo)
    assert asked and set(asked.values()) == {1}
