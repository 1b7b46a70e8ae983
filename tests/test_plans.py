"""Plans worked by hand: demand in batches, pools over forms, the shelf first, the basket, and where the money went."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reckoner.calc.buying.all_in import AllIn, ChemicalCost, PlanSplit
from reckoner.calc.buying.shelf_worth import shelf_worth
from reckoner.calc.film.capacity import rolls_of
from reckoner.calc.film.days import MONTH
from reckoner.calc.results import PlanResult, Results
from reckoner.money import Money, in_currency, nothing, sum_money
from reckoner.pages.kinds import pages
from small import SOURCE, chemical, formula, page_text, process, results, supplier

D = Decimal
#: Sodium carbonate: molar masses 105.99 and 124.00 g/mol, so 1 g anhydrous is 1.1699 g monohydrate.
CARBONATE = """[{id: anhydrous, name: anhydrous, formula: Na2CO3},
  {id: monohydrate, name: monohydrate, formula: Na2CO3.H2O}]"""
FILM = f"formats:\n  - {{id: roll, name: a roll, length: 1.475 m, width: 35 mm, counts_as: 1, {SOURCE}}}\n"
CAPACITY = "capacity: [{does: 4-8 rolls, per: 1 L, certainty: common practice}]\n"
WEEK = "keeping: [{state: part-full bottle, time: 7 days, certainty: common practice}]\n"


def plan(wants: str, more: str = "", over: str = "10 weeks") -> str:
    return f"id: p\nname: a plan\nover: {over}\nwants: [{wants}]\n{more}"


def prices(*offers: str) -> str:
    return "date: 2026-11-01\noffers:\n" + "".join(f"  - {{{offer}}}\n" for offer in offers)


def handbook(plan_text: str, offers: tuple[str, ...], **more: str) -> Results:
    """One bath of 100 g anhydrous carbonate a litre, one shop without delivery charge unless ``more`` says so."""
    files = {
        "chemicals/sodium-carbonate.yml": chemical("sodium-carbonate", CARBONATE),
        "solutions/bath.yml": formula(
            "bath", "[{chemical: sodium-carbonate, form: anhydrous, amount: 100 g}]", more=CAPACITY + WEEK
        ),
        "processes/pr.yml": process("bath"),
        "film_formats.yml": FILM,
        "prices/shop/supplier.yml": supplier(),
        "prices/shop/2026-11-01.yml": prices(*offers),
        "plans/p.yml": plan_text,
    }
    return results({**files, **more})


def cent(value: Money | Decimal | None) -> Decimal:
    """A sum in cents, or a number, without the last of Decimal's 28 digits."""
    assert value is not None
    return round(value.exact_minor if isinstance(value, Money) else value, 9)


def only(found: Results) -> PlanResult:
    return found.plans["p"]


CHEAP = "chemical: sodium-carbonate, form: anhydrous, pack: 250 g, price: 5.00 EUR"
MONO = "chemical: sodium-carbonate, form: monohydrate, pack: 500 g, price: 6.00 EUR"


def test_litres_of_a_formula() -> None:
    """3 L take 300 g: two packs of 250 g, 10.00; 200 g are over, enough for 2 L."""
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,))).bought
    assert [(line.packs, cent(line.price)) for line in found.orders[0].lines] == [(2, 1000)]
    assert cent(found.total) == 1000
    assert [(bath, cent(litres)) for bath, litres in found.pools[0].more] == [("bath", D(2))]


def test_another_form_fills_the_need_by_moles() -> None:
    """300 g anhydrous are 300 × 124.003 / 105.988 = 351.0 g monohydrate: one pack of 500 g at 6.00 beats 10.00."""
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP, MONO))).bought
    assert [line.offer.offer.form for line in found.orders[0].lines] == ["monohydrate"]
    whole = next(whole for offer, whole in found.pools[0].pool.offers if offer.offer.form == "monohydrate")
    assert whole.quantize(D("0.1")) == D("351.0")


def test_needs_in_two_forms_are_one_pool() -> None:
    """1 L of a bath of 124.003 g monohydrate and 1 L of one of 105.988 g anhydrous are two moles: 211.98 g."""
    other = formula("other", "[{chemical: sodium-carbonate, form: monohydrate, amount: 124.003 g}]")
    same = formula("bath", "[{chemical: sodium-carbonate, form: anhydrous, amount: 105.988 g}]")
    wants = "{formula: bath, litres: 1 L}, {formula: other, litres: 1 L}"
    found = only(handbook(plan(wants), (CHEAP,), **{"solutions/other.yml": other, "solutions/bath.yml": same})).bought
    assert len(found.pools) == 1
    assert found.pools[0].pool.offers[0][1].quantize(D("0.01")) == D("211.98")
    assert cent(found.total) == 500


def test_film_becomes_whole_batches_and_age_ends_them() -> None:
    """10 rolls in 10 weeks. A litre does 4 (cautious) and keeps a week, in which one roll comes; film waits three
    months at most, so 4 gather: sessions of 4, a batch each, 10 / 4 = 2.5, three batches; 2 of 12 places are empty."""
    bath = only(handbook(plan("{process: pr, films: [{format: roll, count: 10}]}"), (CHEAP,))).bought.baths[0]
    assert (bath.batches, bath.litres, bath.session) == (3, D(3), D(4))
    assert bath.unfinished == 1 - D(10) / D(12)


def test_film_that_may_wait_a_week_only_makes_a_batch_of_two_rolls() -> None:
    """One roll a week, waiting a week: a batch keeps seven days, so it does a roll and that of its seventh day.

    Five batches for ten rolls; of each a half is poured away. (A bottle is good on its last day, as on the shelf.)
    """
    wants = "{process: pr, films: [{format: roll, count: 10}]}"
    bath = only(handbook(plan(wants, "wait: 1 weeks\n"), (CHEAP,))).bought.baths[0]
    assert (bath.batches, bath.ends_by) == (5, "age")
    assert bath.unfinished == D("0.5")


def test_all_of_the_time_is_long_enough_for_all_of_the_film() -> None:
    """Three rolls in seven weeks that may wait seven: one session, one batch of four, though 3 / 1.609… × 1.609… is a
    last digit below 3, for which two would gather and the third need a batch of its own."""
    weeks = D(49) / MONTH
    assert (3 / weeks) * weeks < 3
    three = plan("{process: pr, films: [{format: roll, count: 3}]}", "wait: 7 weeks\n", "7 weeks")
    bath = only(handbook(three, (CHEAP,))).bought.baths[0]
    assert (bath.session, bath.batches) == (3, 1)


def test_a_bath_without_a_capacity_is_mixed_with_the_one_that_gives_out_first() -> None:
    more = {
        "solutions/stop.yml": formula("stop", "[{chemical: sodium-carbonate, form: anhydrous, amount: 10 g}]"),
        "processes/pr.yml": process("bath", "stop"),
    }
    wants = "{process: pr, films: [{format: roll, count: 10}]}"
    baths = {bath.formula: bath for bath in only(handbook(plan(wants), (CHEAP,), **more)).bought.baths}
    assert baths["stop"].batches == baths["bath"].batches == 3
    assert baths["stop"].ends_by == "with"


SHELF = "packs:\n  - {chemical: sodium-carbonate, form: anhydrous, pack: 250 g, left: 120 g, paid: 4.00 EUR,"


def test_the_shelf_counts_first() -> None:
    """300 g less 120 g on the shelf are 180 g: one pack. Of the shelf 120 / 250 × 4.00 = 1.92 are used, of the pack
    180 / 250 × 5.00 = 3.60."""
    found = only(
        handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **{"shelf.yml": f"{SHELF} bought: 2026-01-01}}\n"})
    )
    assert cent(found.bought.total) == 500
    assert found.bought.pools[0].shelf[0].amount == D(120)
    assert cent(found.money.parts.used) == D(192) + D(360)


def test_a_weak_jar_on_the_shelf_fills_less() -> None:
    """300 g are needed; 120 g of 50 % hold 60, so that 240 g are bought."""
    weak = f"{SHELF} bought: 2026-01-01, assay: 50 % w/w}}\n"
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **{"shelf.yml": weak}))
    assert (found.bought.pools[0].shelf[0].amount, found.bought.pools[0].shelf[0].share) == (D(120), D("0.2"))


def test_every_pack_of_an_unknown_price_is_named() -> None:
    """Two chemicals from the shelf, of neither of which the price is known."""
    salt = chemical("salt", "[{id: solid, name: solid}]")
    both = "[{chemical: sodium-carbonate, form: anhydrous, amount: 100 g}, {chemical: salt, form: solid, amount: 1 g}]"
    lines = "chemical: sodium-carbonate, form: anhydrous", "chemical: salt, form: solid"
    packs = "".join(f"  - {{{line}, pack: 250 g, left: 120 g, bought: 2026-01-01}}\n" for line in lines)
    more = {"chemicals/salt.yml": salt, "solutions/both.yml": formula("both", both), "shelf.yml": f"packs:\n{packs}"}
    found = only(handbook(plan("{formula: both, litres: 1 L}"), (CHEAP,), **more))
    assert found.money.unpriced == ("salt", "sodium-carbonate")


def test_what_the_shelf_gives_adds_up_pack_by_pack() -> None:
    """300 g: 120 g of a pack of 250 for 4.00 are 48 %, 1.92; 100 g of a kilo for 7.77 a tenth, 0.777, shown as 0.78.

    The rest, 80 g, comes of a pack that nobody remembers the price of: in no sum. 1.92 and 0.78 are 2.70. At today's
    5.00 for 250 g they would cost 2.40, 2.00 and 1.60.
    """
    packs = (
        f"{SHELF} bought: 2026-01-01}}\n"
        "  - {chemical: sodium-carbonate, form: anhydrous, pack: 1 kg, left: 100 g, paid: 7.77 EUR, "
        "bought: 2026-02-01}\n"
        "  - {chemical: sodium-carbonate, form: anhydrous, pack: 100 g, left: 100 g, bought: 2026-03-01}\n"
    )
    made = handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **{"shelf.yml": packs})
    worth = shelf_worth(only(made).bought.pools, made.catalogue)
    assert [
        (pack.share, pack.stays, pack.paid and cent(pack.paid), pack.today and cent(pack.today)) for pack in worth.packs
    ] == [
        (D("0.48"), 0, 192, 240),
        (D("0.1"), 0, 78, 200),
        (D("0.8"), D("0.2"), None, 160),
    ]
    assert (cent(worth.paid), cent(worth.today)) == (270, 600)
    text = page_text(made, "plans/p.md")
    section = text[text.index("## From the shelf") : text.index("## What is mixed")]
    assert "<td>€7.77</td><td>€0.78</td>" in section
    assert "80\u00a0% of the pack of 100\u00a0g is taken, 20\u00a0% stays" in section
    assert "<td>not recorded</td><td>not counted</td>" in section
    assert "<b>All together, as paid</b></td><td></td><td><b>€2.70</b>" in section
    assert "At today&#x27;s cheapest prices the same would cost €6.00." in section.replace("&#39;", "&#x27;")


def test_to_start_says_whether_it_is_delivered() -> None:
    """A pack for 5.00 and 6.00 for sending it: 5.00 on the bath's page and at home, 11.00 in the plan."""
    more = {"prices/shop/supplier.yml": supplier() + DELIVERY}
    made = {one.path: one.markdown for one in pages(handbook(plan("{formula: bath, litres: 1 L}"), (CHEAP,), **more))}
    assert "<dt>First order, without delivery: whole packs for 1\u00a0L</dt><dd>€5.00</dd>" in made["solutions/bath.md"]
    assert "<th>First order, without delivery</th>" in made["solutions/bath.md"]
    assert "<dt>First order, delivered: the basket below</dt><dd>€11.00</dd>" in made["plans/p.md"]
    assert "first order for 1\u00a0L of each bath, without delivery, €5.00" in made["index.md"]
    assert "first order, delivered, €11.00" in made["index.md"]


def test_the_shelf_is_left_alone_where_the_plan_says_so() -> None:
    text = plan("{formula: bath, litres: 3 L}", "use_shelf: no\n")
    assert cent(only(handbook(text, (CHEAP,), **{"shelf.yml": f"{SHELF} bought: 2026-01-01}}\n"})).bought.total) == 1000


KEEPS = (
    chemical("sodium-carbonate", CARBONATE)
    + "keeping: {sealed: 2 years, opened: 6 months, certainty: common practice}\n"
)


@pytest.mark.parametrize(
    ("line", "total", "since"),
    [
        ("bought: 2024-11-25", 500, ""),
        ("bought: 2024-11-24", 1000, "2024-11-24"),
        ("bought: 2026-01-01, opened: 2026-05-27", 500, ""),
        ("bought: 2026-01-01, opened: 2026-05-26", 1000, "2026-05-26"),
        ("bought: 2026-01-01, opened: 2026-01-02, use_past_keeping: yes", 500, ""),
    ],
)
def test_a_pack_past_its_keeping_time_counts_only_if_the_owner_says_so(line: str, total: int, since: str) -> None:
    """Two years are 730 days and six months 182, on 2026-11-25; 2024-11-25 and 2026-05-27 are so long ago."""
    more = {"chemicals/sodium-carbonate.yml": KEEPS, "shelf.yml": f"{SHELF} {line}}}\n"}
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **more)).bought
    assert cent(found.total) == total
    kept = found.pools[0].shelf[0].left_out
    assert (kept.since.isoformat() if kept else "") == since


DELIVERY = "delivery: {charge: 6.00 EUR, free_from: 20.00 EUR}\n"


def test_delivery_is_shared_by_value_and_left_overs_live_or_die() -> None:
    """3 L take 300 g: 10.00 and 6.00 of delivery. Used 6.00, delivery 6.00; 200 g are over. The pack keeps half a year
    (182 days) once open, the plan is 70 days: in the other 112 days 480 g would be used at this rate: all lives."""
    more = {"prices/shop/supplier.yml": supplier() + DELIVERY, "chemicals/sodium-carbonate.yml": KEEPS}
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **more))
    parts = found.money.parts
    assert [cent(part) for part in (parts.film, parts.poured, parts.dying, parts.delivery)] == [600, 0, 0, 600]
    assert cent(found.bought.orders[0].free_short) == 1000
    assert cent(found.money.chemicals[0].left_value) == 400
    # Over 20 weeks, 140 days: 42 days are left, in which 300 × 42 / 140 = 90 g of the 200 g are used: 110 g die, 2.20.
    found = only(handbook(plan("{formula: bath, litres: 3 L}", over="20 weeks"), (CHEAP,), **more))
    assert cent(found.money.parts.dying) == 220
    # Nothing comes after: all 200 g die.
    found = only(handbook(plan("{formula: bath, litres: 3 L}", "nothing_after: yes\n"), (CHEAP,), **more))
    assert cent(found.money.parts.dying) == 400


def test_batches_poured_away_are_told_apart_and_a_roll_pays_for_all() -> None:
    """Three batches of 5.00 x 100 / 250 = 2.00 for 10 rolls: 6.00 used, of it 2 / 12 poured away; with 200 g over of
    two packs, and nothing dying, a roll costs 0.60."""
    found = only(handbook(plan("{process: pr, films: [{format: roll, count: 10}]}"), (CHEAP,)))
    assert cent(found.money.parts.poured) == 100
    assert cent(found.money.parts.used) == 600
    assert cent(found.money.processes[0].per_roll) == 60


def test_a_bath_that_two_processes_share_is_paid_by_their_film() -> None:
    """Four rolls through one process and eight through another: three batches of four, a third and two thirds of it."""
    wants = "{process: pr, films: [{format: roll, count: 4}]}, {process: other, films: [{format: roll, count: 8}]}"
    other = process("bath").replace("id: pr\nname: pr\n", "id: other\nname: other\n")
    found = only(handbook(plan(wants), (CHEAP,), **{"processes/other.yml": other}))
    assert {one.process: cent(one.parts.used) for one in found.money.processes} == {"other": 400, "pr": 200}
    assert {cent(one.per_roll) for one in found.money.processes} == {50}
    assert {cent(film.to_start) for one in found.money.processes for film in one.films} == {cent(D(1000) / 12)}


def test_the_parts_of_the_processes_are_all_the_money(demo_results: Results) -> None:
    """Nothing is lost or paid twice where a plan has film only: its processes' parts add up to its money and basket."""
    seen = 0
    for result in demo_results.plans.values():
        if result.sure is None or any(want.litres is not None for want in result.bought.plan.wants):
            continue
        seen += 1
        money = result.money
        of_processes = sum_money((cost.parts.total for cost in money.processes), "EUR")
        of_formulas = sum_money((parts.total for parts in money.by_formula.values()), "EUR")
        first = [(cost.rolls, cost.films[0]) for cost in money.processes]
        films = demo_results.catalogue.films
        start = sum_money((film.to_start * rolls / rolls_of(films[film.format]) for rolls, film in first), "EUR")
        pairs = ((of_processes, money.parts.total), (of_formulas, money.parts.total), (start, money.to_start))
        assert all(abs((together - all_money).number) < D("1e-17") for together, all_money in pairs)
    assert seen


def test_a_stand_in_that_is_bought_gives_the_pool_its_name() -> None:
    """10 g of potassium bromide, which nobody sells, are 8.65 g of the sodium salt: 25 L take 216 g, three packs."""
    asks = "[{chemical: kbr, form: solid, amount: 10 g, swap: [nabr]}]"
    found = only(
        handbook(
            plan("{formula: bath, litres: 25 L}"),
            ("chemical: nabr, form: solid, pack: 100 g, price: 5.00 EUR",),
            **{
                "chemicals/kbr.yml": chemical(
                    "kbr", "[{id: solid, name: solid, formula: KBr}]", active="{entity: bromide}"
                ),
                "chemicals/nabr.yml": chemical(
                    "nabr", "[{id: solid, name: solid, formula: NaBr}]", active="{entity: bromide}"
                ),
                "solutions/bath.yml": formula("bath", asks),
            },
        )
    )
    assert [(one.pool.chemical, one.pool.first.chemical) for one in found.bought.pools] == [("nabr", "kbr")]
    assert [(line.offer.offer.chemical, line.packs) for order in found.bought.orders for line in order.lines] == [
        ("nabr", 3)
    ]


def test_litres_asked_for_are_not_poured_away_with_the_films() -> None:
    """One roll takes a batch of four, and pours 3 / 4 of 2.00 away; 9 L more for something else pour nothing."""
    wants = "{process: pr, films: [{format: roll, count: 1}]}"
    alone = only(handbook(plan(wants), (CHEAP,)))
    more = only(handbook(plan(f"{wants}, {{formula: bath, litres: 9 L}}"), (CHEAP,)))
    assert [bath.litres for bath in more.bought.baths] == [10]
    assert cent(alone.money.parts.poured) == cent(more.money.parts.poured) == 150
    assert cent(more.money.parts.film) == 50 + 9 * 200


def test_what_may_not_be_delivered_avoided_or_fetched() -> None:
    kept = f"{MONO}, handed_over: not deliverable"
    assert cent(only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP, kept))).bought.total) == 1000
    shop = f"{MONO}, handed_over: collection only"
    assert cent(only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP, shop))).bought.total) == 1000
    fetched = only(handbook(plan("{formula: bath, litres: 3 L}", "collect: yes\n"), (CHEAP, shop))).bought
    order = fetched.orders[0]
    assert (cent(fetched.total), order.fetched, cent(order.delivery)) == (600, True, 0)
    sent = only(handbook(plan("{formula: bath, litres: 3 L}", "collect: yes\n"), (CHEAP,))).bought
    assert (cent(sent.total), sent.missing) == (1000, ()), "who may fetch may be sent things all the same"
    sold_out = f"{MONO}, in_stock: no"
    assert cent(only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP, sold_out))).bought.total) == 1000


def test_an_avoided_supplier_leaves_nothing_for_sale() -> None:
    found = only(handbook(plan("{formula: bath, litres: 3 L}", "avoid: [shop]\n"), (CHEAP,))).bought
    assert found.missing == ("sodium-carbonate",)
    assert (found.orders, cent(found.total)) == ((), 0)


@pytest.mark.parametrize(("budget", "over"), [("10.00", None), ("9.99", 1)])
def test_a_budget_below_any_basket(budget: str, over: int | None) -> None:
    text = plan("{formula: bath, litres: 3 L}", f"budget: {budget} EUR\n")
    over_budget = only(handbook(text, (CHEAP,))).bought.over_budget
    assert (over_budget and cent(over_budget)) == over


def test_duty_and_tax_are_on_goods_and_delivery_alike_and_thresholds_are_as_listed() -> None:
    """10.00 listed without tax, duty 10 %, tax 20 %: 13.20; delivery 6.00 is 7.92. Free from 20.00 as listed."""
    seller = supplier(vat_included="no") + DELIVERY + "duty: 10 %\n"
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **{"prices/shop/supplier.yml": seller}))
    order = found.bought.orders[0]
    sums = (order.goods, order.delivery, order.listed, order.free_short)
    assert [cent(sum_) for sum_ in sums] == [1320, 792, 1000, 1000]
    found = only(handbook(plan("{formula: bath, litres: 10 L}"), (CHEAP,), **{"prices/shop/supplier.yml": seller}))
    assert (cent(found.bought.orders[0].goods), cent(found.bought.orders[0].delivery)) == (2640, 0)


def test_one_seller_fewer_costs_more() -> None:
    """Salt is cheap in one shop and carbonate in the other; from one shop alone the basket is dearer by 3.00."""
    more = {
        "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
        "solutions/bath.yml": formula(
            "bath",
            "[{chemical: sodium-carbonate, form: anhydrous, amount: 100 g},"
            " {chemical: salt, form: solid, amount: 9 g}]",
        ),
        "prices/other/supplier.yml": supplier(),
        "prices/other/2026-11-01.yml": prices("chemical: salt, form: solid, pack: 100 g, price: 1.00 EUR"),
    }
    dear_salt = "chemical: salt, form: solid, pack: 100 g, price: 4.00 EUR"
    found = only(handbook(plan("{formula: bath, litres: 1 L}"), (CHEAP, dear_salt), **more)).bought
    assert (cent(found.total), cent(found.fewer_total)) == (600, 900)


def test_a_pack_bought_for_free_delivery_is_marked() -> None:
    """3 L take two packs of 150 g, 19.00, and 6.00 of delivery are 25.00. A small pack at 4.90 brings the order over
    20.00: 23.90, sent free."""
    big = "chemical: sodium-carbonate, form: anhydrous, pack: 150 g, price: 9.50 EUR"
    small = "chemical: sodium-carbonate, form: anhydrous, pack: 10 g, price: 4.90 EUR"
    more = {"prices/shop/supplier.yml": supplier() + DELIVERY}
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (big, small), **more)).bought
    assert [(str(line.offer.offer.pack), line.packs, line.extra) for line in found.orders[0].lines] == [
        ("10 g", 1, True),
        ("150 g", 2, False),
    ]
    assert (cent(found.total), cent(found.orders[0].delivery)) == (2390, 0)


def test_what_would_be_bought_elsewhere_since_the_last_list() -> None:
    """On 1 November 250 g cost 5.00, two packs 10.00; from the 20th one of 1 kg costs 9.00."""
    newer = "date: 2026-11-20\noffers: [{chemical: sodium-carbonate, form: anhydrous, pack: 1 kg, price: 9.00 EUR}]\n"
    found = only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,), **{"prices/shop/2026-11-20.yml": newer}))
    assert cent(found.bought.total) == 900
    assert found.then is not None
    assert (found.then.day, cent(found.then.total)) == (date(2026, 11, 1), 1000)
    moved = found.then.moved[0]
    assert [str(one.offer.offer.pack) for one in moved.before] == ["250 g"]
    assert [str(one.offer.offer.pack) for one in moved.now] == ["1 kg"]


def test_one_list_has_no_then() -> None:
    assert only(handbook(plan("{formula: bath, litres: 3 L}"), (CHEAP,))).then is None


cents = st.decimals(D(0), D(100_000), places=3)


@given(cents, cents, cents, cents)
def test_parts_in_whole_cents_add_up_to_the_total_shown(film: D, poured: D, dying: D, sent: D) -> None:
    parts = PlanSplit(*(in_currency(exact, "EUR") for exact in (film, poured, dying, sent)))
    none = nothing("EUR")
    money = AllIn(none, parts, (ChemicalCost("salt", parts, none),), {}, (), ())
    total = (film + poured + dying + sent).to_integral_value(rounding="ROUND_HALF_UP")
    assert money.whole.total.exact_minor == money.total.exact_minor == total
    pairs = zip(money.whole.parts, parts.parts, strict=True)
    assert all(abs((whole - exact).exact_minor) < 1 for whole, exact in pairs)


def test_the_demonstration_reaches_every_answer(demo_results: Results) -> None:
    """Several suppliers and one, left-overs that die and none that do, a budget that holds."""
    plans = demo_results.plans
    assert len(plans["club-year"].bought.orders) > 1
    assert plans["club-year"].bought.fewer_total is not None
    assert not any(result.bought.missing for result in plans.values())
    parts = plans["small-backlog"].money.parts
    assert parts.dying.number > parts.used.number
    assert plans["first-litre"].bought.over_budget is None
    for result in plans.values():
        left = sum_money((chemical.left_value for chemical in result.money.chemicals), "EUR")
        paid_for_shelf = result.money.parts.total + left - result.bought.total
        # What is not in the basket comes from the shelf, at what it cost.
        assert paid_for_shelf.number >= D("-0.00000001")


def test_first_basket_costs_several_litres(demo_results: Results) -> None:
    """Common practice, no source: the first basket costs several times what one litre of each bath consumes."""
    money = demo_results.plans["first-litre"].money
    assert money.to_start.number > 3 * money.parts.used.number


@pytest.mark.parametrize("day", [date(2026, 11, 25)])
def test_the_same_plan_twice_is_the_same(day: date) -> None:
    text = plan("{process: pr, films: [{format: roll, count: 10}]}")
    assert only(handbook(text, (CHEAP, MONO))) == only(handbook(text, (CHEAP, MONO)))
