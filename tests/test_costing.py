"""Cost used and to start, the offer chosen, what runs out first, and sums that are never too small."""

from __future__ import annotations

from decimal import Decimal

from reckoner.calc.prices.offers import rows_in_force
from reckoner.problems import HandbookError
from small import chemical, formula, load, process, results, supplier

SULFITE = chemical(
    "sulfite",
    "[{id: anhydrous, name: anhydrous, formula: Na2SO3}, {id: heptahydrate, name: crystals, formula: Na2SO3.7H2O}]",
)
BROMIDE = chemical("bromide-k", "[{id: solid, name: solid, formula: KBr}]", "restrainer", "{entity: bromide}")
BROMIDE_NA = chemical("bromide-na", "[{id: solid, name: solid, formula: NaBr}]", "restrainer", "{entity: bromide}")
FIX = formula("fix", "[{chemical: sulfite, form: anhydrous, amount: 20 g}]")
RATES = (
    "rates: [{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-01}, "
    "{base: GBP, quote: EUR, rate: 1.10, date: 2026-09-01}]\n"
    "source: {certainty: invented, checked: 2026-11-01}\n"
)


def prices(*offers: str, day: str = "2026-11-01", more: str = "") -> str:
    rows = "\n".join(f"  - {offer}" for offer in offers)
    return f"date: {day}\n{more}offers:\n{rows}\n"


def cost(files: dict[str, str], formula_id: str = "fix"):
    return results(files).formulas[formula_id].cost


BASE = {"chemicals/sulfite.yml": SULFITE, "solutions/fixers/fix.yml": FIX, "prices/one/supplier.yml": supplier()}
KILO = "{chemical: sulfite, form: anhydrous, pack: 1 kg, price: 10 EUR}"
SMALL = "{chemical: sulfite, form: anhydrous, pack: 100 g, price: 2 EUR}"


def test_used_is_the_grams_and_to_start_is_the_packs() -> None:
    found = cost({**BASE, "prices/one/2026-11-01.yml": prices(KILO)})
    row = next(row for row in found.rows if row.chemical == "sulfite")
    assert (row.used.number, row.to_start.number, row.packs) == (Decimal("0.2"), Decimal(10), 1)
    assert row.litres_per_pack == 50
    # 980 mL of tap water at most... a litre without liquids in it: 1000 mL at 4 EUR for 1000 L.
    assert found.used_per_litre.number == Decimal("0.2") + Decimal("0.004")
    assert (found.first_out, found.first_out_litres) == ("sulfite", Decimal(50))


def test_the_cheapest_start_is_chosen_not_the_lowest_unit_price() -> None:
    found = cost({**BASE, "prices/one/2026-11-01.yml": prices(KILO, SMALL)})
    row = next(row for row in found.rows if row.chemical == "sulfite")
    assert row.offer.id == "one/sulfite/anhydrous/100-g"
    assert row.considered == 2


def test_a_missing_price_leaves_no_sum() -> None:
    found = cost(BASE)
    assert found.missing == ("sulfite",)
    assert found.used_per_litre is None
    assert found.to_start is None


def test_another_form_is_converted_by_moles() -> None:
    """252.15 / 126.04: the crystals' factor of 2.0 printed in The Darkroom Cookbook, 3rd ed., p. 330."""
    crystals = "{chemical: sulfite, form: heptahydrate, pack: 1 kg, price: 10 EUR}"
    found = results({**BASE, "prices/one/2026-11-01.yml": prices(crystals)})
    row = next(row for row in found.formulas["fix"].cost.rows if row.chemical == "sulfite")
    assert abs(row.per_litre / 20 - Decimal("2.0")) < Decimal("0.001")
    jar = found.formulas["fix"].batches[1].rows[0].jar
    assert (jar.measured.rounded, jar.measured.unit) == (Decimal("40.01"), "g")


def test_a_jar_of_another_form_is_told_where_it_weighs_the_same() -> None:
    """Grains for powder: nothing is converted, and yet another jar stands on the bench."""
    forms = "[{id: powder, name: powder, formula: NaCl}, {id: grains, name: grains, formula: NaCl}]"
    files = {
        **BASE,
        "chemicals/sulfite.yml": chemical("sulfite", forms),
        "solutions/fixers/fix.yml": FIX.replace("anhydrous", "powder"),
    }
    sold = prices("{chemical: sulfite, form: grains, pack: 1 kg, price: 10 EUR}")
    jar = results({**files, "prices/one/2026-11-01.yml": sold}).formulas["fix"].batches[1].rows[0].jar
    assert jar is not None and (jar.jar.form.id, jar.exact) == ("grains", 20)
    same = prices("{chemical: sulfite, form: powder, pack: 1 kg, price: 10 EUR}")
    assert results({**files, "prices/one/2026-11-01.yml": same}).formulas["fix"].batches[1].rows[0].jar is None


def test_assay_of_the_jar_raises_the_amount() -> None:
    weak = "{chemical: sulfite, form: anhydrous, pack: 1 kg, price: 10 EUR, assay: 80 % w/w}"
    row = cost({**BASE, "prices/one/2026-11-01.yml": prices(weak)}).rows[0]
    assert row.per_litre == 25


def test_tax_and_rate_are_added_once() -> None:
    files = {
        **BASE,
        "prices/one/supplier.yml": supplier("GBP", "no"),
        "prices/one/2026-11-01.yml": prices("{chemical: sulfite, form: anhydrous, pack: 1 kg, price: 10 GBP}"),
        "exchange_rates.yml": RATES,
    }
    row = cost(files).rows[0]
    # 10 GBP and 20 % VAT at the newer rate of 1.20.
    assert row.to_start.number == Decimal("14.4")
    assert row.offer.exchange.day.isoformat() == "2026-11-01"


def test_a_salt_stands_in_only_where_the_formula_allows_it() -> None:
    stands_in = "{chemical: bromide-na, form: solid, pack: 100 g, price: 5 EUR}"
    base = {
        "chemicals/bromide-k.yml": BROMIDE,
        "chemicals/bromide-na.yml": BROMIDE_NA,
        "prices/one/supplier.yml": supplier(),
        "prices/one/2026-11-01.yml": prices(stands_in),
    }
    asks = "[{chemical: bromide-k, form: solid, amount: 10 g}]"
    allows = "[{chemical: bromide-k, form: solid, amount: 10 g, swap: [bromide-na]}]"
    assert cost({**base, "solutions/fixers/fix.yml": formula("fix", asks)}).missing == ("bromide-k",)
    row = cost({**base, "solutions/fixers/fix.yml": formula("fix", allows)}).rows[0]
    # The Darkroom Cookbook, 3rd ed., pp. 329-330: sodium bromide for potassium bromide, factor 0.86.
    assert row.per_litre.quantize(Decimal("0.01")) == Decimal("8.65")


def test_stock_solutions_roll_up_to_raw_chemicals() -> None:
    files = {
        **BASE,
        "solutions/fixers/use.yml": formula("use", "[{formula: fix, amount: 100 mL}]"),
        "prices/one/2026-11-01.yml": prices(KILO),
    }
    found = cost(files, "use")
    row = next(row for row in found.rows if row.chemical == "sulfite")
    assert row.per_litre == 2
    water = next(row for row in found.rows if row.chemical == "water")
    # 900 mL of its own and 100 mL inside the stock.
    assert water.per_litre == 1000


def test_an_alternative_is_costed_where_the_published_one_is_not_sold() -> None:
    other = chemical("other", "[{id: solid, name: solid, formula: NaCl}]")
    either = "[{chemical: other, form: solid, amount: 5 g, or: [{chemical: sulfite, form: anhydrous, amount: 7 g}]}]"
    files = {
        **BASE,
        "chemicals/other.yml": other,
        "solutions/fixers/fix.yml": formula("fix", either),
        "prices/one/2026-11-01.yml": prices(KILO),
    }
    found = results(files).formulas["fix"]
    assert found.cost.missing == ()
    assert [(row.row.line.alternative, row.costed) for row in found.batches[0].rows] == [(0, False), (1, True)]


def test_a_newer_row_replaces_the_same_pack_only() -> None:
    files = {
        **BASE,
        "prices/one/2026-09-01.yml": prices(KILO, SMALL, day="2026-09-01"),
        "prices/one/2026-11-01.yml": prices(KILO.replace("10 EUR", "11 EUR")),
    }
    catalogue = load(files)
    rows = rows_in_force(catalogue.price_lists, catalogue.today)
    assert {(str(row.offer.pack), row.day.isoformat(), str(row.offer.price)) for row in rows} == {
        ("1 kg", "2026-11-01", "11 EUR"),
        ("100 g", "2026-09-01", "2 EUR"),
    }


def test_a_complete_list_withdraws_the_rest() -> None:
    files = {
        **BASE,
        "prices/one/2026-09-01.yml": prices(KILO, SMALL, day="2026-09-01"),
        "prices/one/2026-11-01.yml": prices(KILO, more="complete: yes\n"),
    }
    catalogue = load(files)
    assert [str(row.offer.pack) for row in rows_in_force(catalogue.price_lists, catalogue.today)] == ["1 kg"]


def test_a_list_of_tomorrow_is_not_in_force() -> None:
    files = {**BASE, "prices/one/2026-11-26.yml": prices(KILO, day="2026-11-26")}
    assert cost(files).missing == ("sulfite",)


def test_out_of_stock_is_not_chosen() -> None:
    gone = SMALL.replace("}", ", in_stock: no}")
    assert cost({**BASE, "prices/one/2026-11-01.yml": prices(KILO, gone)}).rows[0].offer.id.endswith("1-kg")


def test_complete_sets_and_what_ends_them() -> None:
    """100 g of sulfite at 20 g/L makes 5 sets of 1 L; the sixth needs one more pack."""
    process = (
        "id: all\nname: all\nkind: paper\ndarkness: red light\ncautions: [gloves]\nsteps:\n"
        "  - {name: Fix, kind: bath, baths: [{formula: fix, certainty: common practice}], light: room light, "
        "certainty: common practice}\n"
        "source: {certainty: common practice, checked: 2026-11-25}\n"
    )
    files = {**BASE, "processes/all.yml": process, "prices/one/2026-11-01.yml": prices(SMALL)}
    sets = results(files).processes["all"]
    assert (sets.made, sets.ends_with, sets.restock) == (5, "sulfite", (("sulfite", 1),))
    assert sets.restock_cost.number == 2


def test_what_is_left_of_a_pack_is_not_bought_again_for_the_next_set() -> None:
    """100 g at 20 g/L end with the fifth set; 1 kg of the other at 50 g/L is enough for the sixth."""
    both = FIX.replace("}]", "}, {chemical: bromide-k, form: solid, amount: 50 g}]")
    other = "{chemical: bromide-k, form: solid, pack: 1 kg, price: 9 EUR}"
    files = {
        **{**BASE, "chemicals/bromide-k.yml": BROMIDE, "solutions/fixers/fix.yml": both},
        "processes/pr.yml": process("fix"),
        "prices/one/2026-11-01.yml": prices(SMALL, other),
    }
    assert results(files).processes["pr"].restock == (("sulfite", 1),)


def test_a_formula_that_uses_itself_is_refused() -> None:
    try:
        load({"solutions/fixers/fix.yml": formula("fix", "[{formula: fix, amount: 100 mL}]")})
    except HandbookError as error:
        assert "the formula uses itself: fix uses fix" in str(error)
    else:
        raise AssertionError("a cycle went through")
