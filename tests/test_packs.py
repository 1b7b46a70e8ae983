"""How far packs go, whole packs bought, and sums that are what their rows add up to."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reckoner.calc.mixing.rollup import Need
from reckoner.calc.mixing.scaling import litre_lists
from reckoner.calc.prices.costing import Cost, CostRow, Market, cost_of
from reckoner.calc.prices.offers import priced_offers
from reckoner.calc.results import Results
from small import chemical, load, supplier

D = Decimal


def bought(grams: str, pack: str, price: str, litres: str = "1", second: str = "") -> Cost:
    """The cost of a bath with so much of one salt in a litre, bought in packs; ``second`` is another salt's amount."""
    names = ["salt", "other"] if second else ["salt"]
    offers = "\n".join(f"  - {{chemical: {n}, form: solid, pack: {pack} g, price: {price} EUR}}" for n in names)
    catalogue = load(
        {
            **{f"chemicals/{n}.yml": chemical(n, "[{id: solid, name: solid, formula: NaCl}]") for n in names},
            "prices/one/supplier.yml": supplier(),
            "prices/one/2026-11-01.yml": f"date: 2026-11-01\noffers:\n{offers}\n",
        }
    )
    market = Market(
        priced_offers(catalogue), litre_lists(catalogue.formulas, catalogue.chemicals), catalogue.chemicals, "EUR"
    )
    amounts = zip(names, (grams, second), strict=False)
    return cost_of([Need(name, "solid", D(amount), "g") for name, amount in amounts], market, D(litres))


#: Common practice, no source: (what, g/L, pack in g, litres that the pack makes, places).
PACKS = [
    ("a developing agent", "2", "250", "125", 0),
    ("potassium bromide", "1.4", "100", "71.4", 1),
    ("ferricyanide", "40", "250", "6.25", 2),
]


@pytest.mark.parametrize(("what", "per_litre", "pack", "litres", "places"), PACKS)
def test_litres_of_one_pack(what: str, per_litre: str, pack: str, litres: str, places: int) -> None:
    row = bought(per_litre, pack, "10").rows[0]
    assert row.litres_per_pack is not None
    assert round(row.litres_per_pack, places) == D(litres), what


#: (g/L, pack in g, batch in L, packs): a pack that is just enough is one, a gram more is two.
WHOLE = [("40", "250", "6.25", 1), ("40", "250", "6.26", 2), ("250", "250", "1", 1), ("251", "250", "1", 2)]


@pytest.mark.parametrize(("per_litre", "pack", "batch", "packs"), WHOLE)
def test_only_whole_packs_are_bought(per_litre: str, pack: str, batch: str, packs: int) -> None:
    cost = bought(per_litre, pack, "10", batch)
    assert cost.rows[0].packs == packs
    assert cost.to_start is not None
    assert cost.to_start.number == 10 * packs


def test_the_salt_that_the_bath_takes_most_of_runs_out_first() -> None:
    cost = bought("2", "250", "10", second="40")
    assert (cost.first_out, cost.first_out_litres) == ("other", D("6.25"))


@settings(max_examples=60)
@given(
    st.decimals("0.01", "900", places=2),
    st.decimals("0.01", "900", places=2),
    st.sampled_from(["25", "100", "250", "1000"]),
    st.decimals("0.50", "90", places=2),
    st.decimals("0.25", "20", places=2),
)
def test_sums_are_their_rows_and_packs_are_enough_but_not_one_too_many(
    grams: Decimal, more: Decimal, pack: str, price: Decimal, litres: Decimal
) -> None:
    cost = bought(str(grams), pack, str(price), str(litres), str(more))
    assert cost.used_per_litre is not None
    assert cost.to_start is not None
    # By hand: every gram costs the pack's price over its content, whichever salt it is.
    assert abs(cost.used_per_litre.number - (grams + more) * price / D(pack)) < D("1e-18")
    assert cost.to_start.number == sum(row.packs for row in cost.rows if row.packs) * price
    for row, amount in zip(cost.rows, (grams, more), strict=True):
        assert row.packs is not None
        assert (row.packs - 1) * D(pack) < amount * litres <= row.packs * D(pack)


def test_every_cost_of_the_demonstration_adds_up(demo_results: Results) -> None:
    priced = [result.cost for result in demo_results.formulas.values() if not result.cost.missing]
    assert len(priced) > 10
    for cost in priced:
        assert cost.used_per_litre is not None
        assert cost.to_start is not None
        assert abs(cost.used_per_litre.number - sum(_of_the_pack(row) for row in cost.rows)) < D("1e-18")
        assert cost.to_start.number == sum(_at_the_till(row, cost.batch_litres) for row in cost.rows)


def _of_the_pack(row: CostRow) -> Decimal:
    """A litre's part of a pack's price; tap water has no pack, so its own figure is taken."""
    assert row.used is not None
    assert row.per_litre is not None
    return row.offer.price.number * row.per_litre / row.offer.amount if row.offer else row.used.number


def _at_the_till(row: CostRow, litres: Decimal) -> Decimal:
    assert row.used is not None
    if row.offer is None:
        return row.used.number * litres
    return sum((row.offer.price.number for _ in range(row.packs or 0)), D(0))
