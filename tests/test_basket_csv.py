"""A plan's basket as CSV: read back by the csv module, its sums add up to what the basket costs."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest

from reckoner.calc.results import Results
from reckoner.outputs.export_plans import basket_table
from small import chemical, formula, results, supplier

D = Decimal
DELIVERY = "delivery: {{charge: 6.00 {0}, free_from: {1} {0}}}\n"
RATES = (
    "rates: [{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-01}]\nsource: {certainty: invented, checked: 2026-11-01}"
)


def handbook(seller: str, currency: str = "EUR", more: str = "", offer: str = "") -> Results:
    """Two litres of 100 g of salt: a pack of 250 g at 5.00."""
    pack = f"chemical: salt, form: solid, pack: 250 g, price: 5.00 {currency}{offer}"
    return results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/bath.yml": formula("bath", "[{chemical: salt, form: solid, amount: 100 g}]"),
            "exchange_rates.yml": RATES,
            "prices/shop/supplier.yml": seller,
            "prices/shop/2026-11-01.yml": f"date: 2026-11-01\noffers: [{{{pack}}}]\n",
            "plans/p.yml": f"id: p\nname: p\nover: 1 months\nwants: [{{formula: bath, litres: 2 L}}]\n{more}",
        }
    )


def rows(found: Results, plan: str = "p") -> list[dict[str, str]]:
    text = basket_table(found.plans[plan].bought, found).csv
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_listed_prices_and_delivery_stand_in_the_supplier_s_money() -> None:
    """5.00 GBP with 10 % duty and 20 % VAT at 1.20: 5 × 1.1 × 1.2 × 1.2 = 7.92 EUR; delivery 6.00 is 9.504, 9.50."""
    seller = supplier("GBP", "no") + DELIVERY.format("GBP", "20.00") + "duty: 10 %\n"
    goods, sent = rows(handbook(seller, "GBP"))
    assert (goods["price each"], goods["sum"], goods["currency"]) == ("7.92", "7.92", "EUR")
    assert (goods["listed each"], goods["listed in"]) == ("5.00", "GBP")
    assert goods["added to it"] == "10 % duty; 20 % VAT; 1 GBP = 1.2 EUR"
    assert (sent["supplier"], sent["chemical"], sent["sum"]) == (goods["supplier"], "delivery", "9.50")
    assert (sent["listed each"], sent["listed in"]) == ("6.00", "GBP")


@pytest.mark.parametrize(
    ("seller", "offer", "more", "note"),
    [
        (supplier() + DELIVERY.format("EUR", "4.00"), "", "", "free"),
        (supplier(), "", "", "no charge is recorded, so none is counted"),
        (
            supplier() + DELIVERY.format("EUR", "20.00"),
            ", handed_over: collection only",
            "collect: yes\n",
            "fetched from the shop",
        ),
    ],
)
def test_an_order_that_pays_no_delivery_says_why(seller: str, offer: str, more: str, note: str) -> None:
    goods, sent = rows(handbook(seller, "EUR", more, offer))
    assert (goods["sum"], goods["added to it"]) == ("5.00", "")
    assert (sent["sum"], sent["listed each"], sent["note"]) == ("0.00", "", note)


def test_the_sums_of_every_basket_add_up_to_its_total(demo_results: Results) -> None:
    paid = 0
    for plan_id, result in demo_results.plans.items():
        found = rows(demo_results, plan_id)
        assert sum(D(row["sum"]) for row in found) == result.bought.total.number
        goods = [row for row in found if row["chemical"] != "delivery"]
        assert all(D(row["price each"]) * int(row["packs"]) == D(row["sum"]) for row in goods)
        assert [row["supplier"] for row in found if row["chemical"] == "delivery"] == list(
            dict.fromkeys(row["supplier"] for row in goods)
        )
        paid += sum(D(row["sum"]) > 0 for row in found if row["chemical"] == "delivery")
    assert paid > 1
