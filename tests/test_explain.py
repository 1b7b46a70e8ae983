"""The working shown beside each figure: its inputs give its result, by hand."""

from __future__ import annotations

import re

from reckoner.calc.explain import explain, short
from small import SOURCE, chemical, formula, results, supplier

SULFITE = chemical(
    "sulfite",
    "[{id: anhydrous, name: anhydrous, formula: Na2SO3}, {id: heptahydrate, name: crystals, formula: Na2SO3.7H2O}]",
).replace("name: sulfite", "name: Sulfite (disodium sulfite)")
FILES = {
    "chemicals/sulfite.yml": SULFITE,
    "solutions/fix.yml": formula("fix", "[{chemical: sulfite, form: anhydrous, amount: 20 g}]"),
    "exchange_rates.yml": f"rates: [{{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-02}}]\n{SOURCE}\n",
    "prices/shop/supplier.yml": supplier("GBP", "no"),
    "prices/shop/2026-11-03.yml": (
        "date: 2026-11-03\noffers: [{chemical: sulfite, form: heptahydrate, pack: 500 g, price: 10 GBP}]\n"
    ),
}


def test_every_rule_of_a_formula_with_its_figures() -> None:
    """20 g of 126.037 g/mol are 40.01 g of 252.143: a factor of 2.0005. 10 GBP are 14.40 EUR with 20 % tax.

    14.40 x 40.01 / 500 = 1.1523. Of tap water a litre less 0 mL of liquids, 4 EUR for 1000 L.
    """
    found = results(FILES)
    told = {one.figure: one for one in explain(found.formulas["fix"], found.catalogue)}
    assert list(told) == [
        "amounts for a batch",
        "Sulfite from the jar",
        "water",
        "which offer is used",
        "cost of Sulfite",
    ]
    batch = told["amounts for a batch"]
    assert (batch.inputs, batch.source) == ((("the formula makes", "1000 mL"),), "arithmetic")
    assert "then rounded once, half up, to the step of the instrument" in batch.rule
    jar = told["Sulfite from the jar"]
    assert re.fullmatch(r"1 g asked is 2\.0005\d\d g from the jar \(crystals\)", jar.result), jar.result
    assert told["water"].result == "1000 mL for a litre, priced"
    choice = told["which offer is used"]
    assert (choice.inputs, choice.result) == ((("first batch", "1 L"),), "2 chemicals")
    assert choice.source == "rule of this handbook"
    cost = told["cost of Sulfite"]
    inputs = dict(cost.inputs)
    assert re.fullmatch(r"40\.01\d* g", inputs.pop("needed for a litre"))
    assert inputs == {
        "pack": "500 g for 10 GBP listed 2026-11-03",
        "tax added": "20 %",
        "rate": "1 GBP = 1.2 EUR of 2026-11-02",
    }
    assert re.fullmatch(r"used 1\.152[23]\d\d EUR a litre; first order 14\.4 EUR", cost.result), cost.result
    assert cost.source == "price list of shop, 2026-11-03"


def test_neither_tax_nor_rate_is_told_where_there_is_none() -> None:
    files = {**FILES, "prices/shop/supplier.yml": supplier(), "exchange_rates.yml": ""}
    files["prices/shop/2026-11-03.yml"] = files["prices/shop/2026-11-03.yml"].replace("GBP", "EUR")
    del files["exchange_rates.yml"]
    found = results(files)
    (cost,) = [one for one in explain(found.formulas["fix"], found.catalogue) if one.figure.startswith("cost of")]
    assert [name for name, _ in cost.inputs] == ["pack", "needed for a litre"]


def test_a_name_without_its_systematic_one() -> None:
    assert (short("Sulfite (disodium sulfite) (x)"), short("Borax")) == ("Sulfite", "Borax")
