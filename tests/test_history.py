"""Costs on the day of each price list, the difference to now, and whose share of it is whose."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reckoner.calc.mixing.rollup import Need, Rollup
from reckoner.calc.mixing.scaling import litre_lists
from reckoner.calc.prices.complete_sets import sets_of, usual_baths
from reckoner.calc.prices.costing import CostRow, Market, cost_of
from reckoner.calc.prices.history import CostHistory
from reckoner.calc.prices.offers import priced_offers, sold
from reckoner.calc.prices.price_changes import list_changes, out_of_stock
from reckoner.calc.prices.price_jumps import price_jumps
from reckoner.calc.prices.then_now import _pairs
from reckoner.calc.results import Results
from reckoner.money import shares
from reckoner.problems import Severity
from reckoner.records.catalogue import Catalogue
from reckoner.warn import price_warnings
from small import chemical, formula, load, results, supplier

D = Decimal
SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")
SODA = chemical("soda", "[{id: solid, name: solid, formula: Na2CO3}]")
BATH = formula("bath", "[{chemical: salt, form: solid, amount: 20 g}, {chemical: soda, form: solid, amount: 10 g}]")
BASE = {
    "chemicals/salt.yml": SALT,
    "chemicals/soda.yml": SODA,
    "solutions/bath.yml": BATH,
    "prices/one/supplier.yml": supplier(),
    "prices/two/supplier.yml": supplier("GBP"),
    "exchange_rates.yml": "rates: [{base: GBP, quote: EUR, rate: 1.10, date: 2026-09-01}, "
    "{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-01}]\n"
    "source: {certainty: invented, checked: 2026-11-01}\n",
}
#: A litre of tap water at 4 EUR for 1000 L.
WATER = D("0.004")


def row(name: str, price: str, pack: str = "1 kg", more: str = "") -> str:
    return f"{{chemical: {name}, form: solid, pack: {pack}, price: {price}{more}}}"


def prices(day: str, *rows: str, of: str = "one", more: str = "") -> dict[str, str]:
    text = f"date: {day}\n{more}offers:\n" + "".join(f"  - {one}\n" for one in rows)
    return {f"prices/{of}/{day}.yml": text}


def history(*lists: dict[str, str], **files: str) -> CostHistory:
    everything = {**BASE, **files}
    for one in lists:
        everything |= one
    return results(everything).history.formulas["bath"]


def day(text: str) -> date:
    return date.fromisoformat(text)


def test_each_list_day_has_its_cost_and_so_has_today() -> None:
    """20 g of salt at 10, then 12 EUR a kilo, 10 g of soda at 5: 0.20 + 0.05, then 0.24 + 0.05, and the water."""
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "12 EUR")),
        prices("2026-11-26", row("salt", "99 EUR")),
    )
    assert [(point.day, point.used and point.used.number) for point in found.points] == [
        (day("2026-09-01"), D("0.25") + WATER),
        (day("2026-10-01"), D("0.29") + WATER),
        (day("2026-11-25"), D("0.29") + WATER),
    ]
    assert [point.to_start and point.to_start.number for point in found.points] == [
        D(15) + WATER,
        D(17) + WATER,
        D(17) + WATER,
    ]


def test_a_list_of_today_is_now_and_stands_once() -> None:
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")), prices("2026-11-25", row("salt", "12 EUR"))
    )
    assert [point.day for point in found.points] == [day("2026-09-01"), day("2026-11-25")]
    assert found.change is not None
    assert found.change.since == day("2026-11-25")


def test_then_and_now_with_the_share_of_each_chemical() -> None:
    """0.254 to 0.334, as shown 0.25 to 0.33: salt 0.04 of a new price, soda 0.04 of another; water is no cause."""
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "12 EUR"), row("soda", "9 EUR")),
    ).change
    assert found is not None
    assert (found.since, found.day) == (day("2026-10-01"), day("2026-09-01"))
    assert found.then and found.now and found.difference
    assert (found.then.rounded, found.now.rounded, found.difference.number) == (D("0.25"), D("0.33"), D("0.08"))
    assert [(part.chemical, part.share.number, part.why) for part in found.parts] == [
        ("salt", D("0.04"), ("price",)),
        ("soda", D("0.04"), ("price",)),
    ]
    # 0.08 more on 0.254.
    assert found.ratio == D("0.08") / D("0.254")


def test_a_cent_that_no_part_has_whole_goes_to_the_largest_remainder() -> None:
    """0.254 to 0.2619 shows 0.25 to 0.26, a cent: salt has 0.0040 of it and soda 0.0039, so the cent is the salt's."""
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "10.20 EUR"), row("soda", "5.39 EUR")),
    ).change
    assert found is not None
    assert [(part.chemical, part.exact.number, part.share.number) for part in found.parts] == [
        ("salt", D("0.004"), D("0.01")),
        ("soda", D("0.0039"), D(0)),
    ]


PACE = st.decimals("0.50", "90", places=2)


@settings(max_examples=60)
@given(st.tuples(PACE, PACE), st.tuples(PACE, PACE))
def test_the_shares_add_up_to_the_difference_shown(then: tuple[D, D], now: tuple[D, D]) -> None:
    lists = [
        prices(when, row("salt", f"{pair[0]} EUR"), row("soda", f"{pair[1]} EUR"))
        for when, pair in (("2026-09-01", then), ("2026-10-01", now))
    ]
    found = history(*lists).change
    if then == now:
        assert found is None
        return
    assert found is not None and found.then and found.now and found.difference
    assert found.difference.number == found.now.rounded - found.then.rounded
    assert sum(part.share.number for part in found.parts) == found.difference.number
    for part in found.parts:
        assert abs(part.share.number - part.exact.number) < D("0.01")


def test_no_list_but_the_first_changed_anything() -> None:
    """The second list moves the price of a pack that is not bought: ten kilos cost more to start than one."""
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("salt", "80 EUR", "10 kg"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "81 EUR", "10 kg")),
    )
    assert found.change is None
    assert len(found.points) == 3


def test_an_exchange_rate_is_not_a_list_s_doing_but_counts_in_the_cost() -> None:
    """Salt at 10 GBP: 0.20 GBP is 0.22 EUR in September and 0.24 now; the second list touches soda alone."""
    found = history(
        prices("2026-09-01", row("salt", "10 GBP"), of="two"),
        prices("2026-09-01", row("soda", "5 EUR")),
        prices("2026-10-01", row("soda", "6 EUR")),
    )
    assert [point.used and point.used.number for point in found.points] == [
        D("0.27") + WATER,
        D("0.28") + WATER,
        D("0.30") + WATER,
    ]
    assert found.change is not None
    assert [(part.chemical, part.share.number, part.why) for part in found.change.parts] == [
        ("salt", D("0.02"), ("rate",)),
        ("soda", D("0.01"), ("price",)),
    ]


def test_a_day_before_the_first_rate_has_no_cost() -> None:
    found = history(
        prices("2026-08-01", row("salt", "10 GBP"), row("soda", "5 GBP"), of="two"),
        prices("2026-10-01", row("salt", "11 GBP"), of="two"),
    )
    assert [(point.used is None, point.missing) for point in found.points] == [
        (True, ("salt", "soda")),
        (False, ()),
        (False, ()),
    ]
    assert found.change is not None
    assert (found.change.then, found.change.difference, found.change.parts) == (None, None, ())
    assert found.change.then_missing == ("salt", "soda")


@pytest.mark.parametrize(
    ("later", "why"),
    [
        (prices("2026-10-01", row("soda", "5 EUR"), row("salt", "2 EUR", "100 g"), more="complete: yes\n"), "gone"),
        (prices("2026-10-01", row("salt", "10 EUR", more=", in_stock: no"), row("salt", "2 EUR", "100 g")), "gone"),
        (prices("2026-10-01", row("salt", "2 EUR", "100 g")), "new"),
        (prices("2026-10-01", row("salt", "15 EUR")), "other"),
        (prices("2026-10-01", row("salt", "10 EUR", more=", assay: 80 % w/w")), "strength"),
        (prices("2026-10-01", row("salt", "11 EUR")), "price"),
    ],
    ids=["withdrawn", "out of stock", "new and cheaper to start", "the old is dearer now", "strength", "price"],
)
def test_why_a_chemical_costs_another_sum(later: dict[str, str], why: str) -> None:
    """At first a kilo for 10 EUR is taken, cheaper to start than five kilos for 14."""
    first = prices("2026-09-01", row("salt", "10 EUR"), row("salt", "14 EUR", "5 kg"), row("soda", "5 EUR"))
    change = history(first, later).change
    assert change is not None
    assert [(part.chemical, part.why) for part in change.parts] == [("salt", (why,))]


def test_an_alternative_comes_in_where_the_published_one_is_gone() -> None:
    either = "[{chemical: salt, form: solid, amount: 20 g, or: [{chemical: soda, form: solid, amount: 10 g}]}]"
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "30 EUR")),
        prices("2026-10-01", row("soda", "30 EUR"), more="complete: yes\n"),
        **{"solutions/bath.yml": formula("bath", either)},
    ).change
    assert found is not None
    assert {(part.chemical, part.share.number, part.why) for part in found.parts} == {
        ("soda", D("0.30"), ("now bought",)),
        ("salt", D("-0.20"), ("no longer bought",)),
    }


def test_a_salt_that_stands_in_counts_while_the_asked_one_is_not_sold() -> None:
    """10 g of potassium bromide are 8.65 g of the sodium salt (102.89 to 119.00 g/mol): 0.43, then 0.52 EUR.

    Then the potassium salt itself is sold, 10 g for 0.40.
    """
    asks = "[{chemical: bromide-k, form: solid, amount: 10 g, swap: [bromide-na]}]"
    salts = {
        f"chemicals/bromide-{short}.yml": chemical(
            f"bromide-{short}", f"[{{id: solid, name: solid, formula: {salt}}}]", "restrainer", "{entity: bromide}"
        )
        for short, salt in (("k", "KBr"), ("na", "NaBr"))
    }
    found = history(
        prices("2026-09-01", row("bromide-na", "5 EUR", "100 g")),
        prices("2026-10-01", row("bromide-na", "6 EUR", "100 g")),
        prices("2026-11-01", row("bromide-k", "4 EUR", "100 g")),
        **salts,
        **{"solutions/bath.yml": formula("bath", asks)},
    )
    assert [point.used and (point.used.number - WATER).quantize(D("0.0001")) for point in found.points] == [
        D("0.4323"),
        D("0.5188"),
        D("0.4000"),
        D("0.4000"),
    ]
    assert found.change is not None
    assert {(part.chemical, part.why) for part in found.change.parts} == {
        ("bromide-k", ("now bought",)),
        ("bromide-na", ("no longer bought",)),
    }


def test_a_change_reaches_through_stock_solutions_and_processes() -> None:
    """100 mL of the bath in a litre: 2 g of salt, 0.02 and then 0.03 EUR. The process has one litre of the bath."""
    process = (
        "id: all\nname: all\nkind: paper\ndarkness: red light\ncautions: [gloves]\nsteps:\n"
        "  - {name: Fix, kind: bath, baths: [{formula: bath, certainty: common practice}], light: room light, "
        "certainty: common practice}\n"
        "source: {certainty: common practice, checked: 2026-11-25}\n"
    )
    found = results(
        {
            **BASE,
            "solutions/use.yml": formula("use", "[{formula: bath, amount: 100 mL}]"),
            "processes/all.yml": process,
            **prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
            **prices("2026-10-01", row("salt", "15 EUR")),
        }
    ).history
    for change, share in ((found.formulas["use"].change, D("0.01")), (found.processes["all"].change, D("0.10"))):
        assert change is not None
        assert [(part.chemical, part.share.number) for part in change.parts] == [("salt", share)]


def test_every_point_of_the_demonstration_is_what_that_day_costs_by_itself(
    demo: Catalogue, demo_results: Results
) -> None:
    """What is taken over from a later day is what would have come out: each day worked out anew, without history."""
    found = demo_results.history
    days = sorted({one.prices.date for one in demo.price_lists if one.prices.date <= demo.today})
    assert len(days) >= 6
    litres = demo.settings.first_batch.litres
    for index, when in enumerate(days):
        of_day = replace(demo, today=when)
        lists = litre_lists(demo.formulas, demo.chemicals)
        market = Market(
            sold(priced_offers(of_day)), lists, demo.chemicals, demo.settings.currency, demo.settings.tap_water
        )
        rollup = Rollup(lists, market.priceable)
        for formula_id, one in demo.formulas.items():
            cost = cost_of(rollup.needs(one), market, litres)
            point = found.formulas[formula_id].points[index]
            assert point.day == when
            assert (point.used, point.to_start, point.missing) == (cost.used_per_litre, cost.to_start, cost.missing)
        for process_id, process in demo.processes.items():
            sets = sets_of([demo.formulas[f] for f in usual_baths(process)], rollup, market, litres)
            assert found.processes[process_id].points[index].used == sets.cost.used_per_litre


def test_the_shares_of_the_demonstration_add_up(demo_results: Results) -> None:
    found = demo_results.history
    changes = [one.change for one in (*found.formulas.values(), *found.processes.values())]
    summed = [change for change in changes if change and change.difference]
    assert len(summed) > 50
    for change in summed:
        assert change.difference is not None
        assert sum(part.share.number for part in change.parts) == change.difference.number
        named, rest = change.largest(2)
        assert sum(part.share.number for part in named) + rest.number == change.difference.number


def test_what_a_list_changed_among_its_own_offers() -> None:
    """1 kg and 1000 g are one offer, two packs together are another; the other supplier's rows stay out of it."""
    catalogue = load(
        {
            **BASE,
            **prices(
                "2026-09-01",
                row("salt", "10 EUR"),
                row("salt", "40 EUR", "5 kg"),
                row("soda", "5 EUR"),
                row("soda", "9 EUR", more=", count: 2"),
                row("soda", "3 EUR", "500 g"),
            ),
            **prices("2026-09-15", row("salt", "9 GBP"), of="two"),
            **prices(
                "2026-10-01",
                row("salt", "11 EUR", "1000 g"),
                row("salt", "38 EUR", "5 kg"),
                row("salt", "70 EUR", "10 kg"),
                row("soda", "5 EUR"),
                row("soda", "9 EUR", more=", count: 2, in_stock: no"),
            ),
        }
    )
    first, other, second = list_changes(catalogue)
    assert (first.first, first.offers) == (True, 5)
    assert {kind: count for kind, count in first.counts.items() if count} == {"new": 5}
    assert (other.supplier, other.first, other.offers) == ("two", True, 1)
    assert (second.first, second.offers) == (False, 5)
    assert [(move.kind, move.id, str(move.before), str(move.after)) for move in second.moves] == [
        ("dearer", "one/salt/solid/1000-g", "10 EUR", "11 EUR"),
        ("cheaper", "one/salt/solid/5-kg", "40 EUR", "38 EUR"),
        ("new", "one/salt/solid/10-kg", "None", "70 EUR"),
        ("out of stock", "one/soda/solid/2x1-kg", "9 EUR", "None"),
    ]


def test_a_pack_is_its_quantity_and_not_its_spelling() -> None:
    """500 g for 5 EUR, then 0.5 kg for 6: the price of one pack, and a list that only spells it anew changes nothing.

    20 g of it: 0.20, then 0.24.
    """
    soda = row("soda", "5 EUR")
    first = prices("2026-09-01", row("salt", "5 EUR", "500 g"), soda)
    change = history(first, prices("2026-10-01", row("salt", "6 EUR", "0.5 kg"), soda, more="complete: yes\n")).change
    assert change is not None
    assert [(part.why, part.share.number, part.choice.number) for part in change.parts] == [(("price",), D("0.04"), 0)]
    assert history(first, prices("2026-10-01", row("salt", "5 EUR", "0.5 kg"), more="complete: no\n")).change is None


def test_what_another_pack_makes_is_told_apart_from_prices() -> None:
    """A kilo for 10 EUR; then 100 g for 3 EUR starts cheaper: 20 g cost 0.60 instead of 0.20, and no price moved."""
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "3 EUR", "100 g")),
    )
    change = found.change
    assert change is not None and change.difference and change.by_price
    assert (change.difference.number, change.choice.number, change.by_price.number) == (D("0.40"), D("0.40"), 0)
    assert (change.ratio, change.price_ratio) == (D("0.40") / D("0.254"), 0)
    assert [point.by_price and point.by_price.number for point in found.points] == [D("0.25") + WATER] * 3


def test_a_rise_and_another_pack_each_have_their_part() -> None:
    """A kilo from 10 to 15 EUR, 0.10 for 20 g; then five kilos for 14 are taken, 0.056: 0.244 less than the kilo now.

    0.254 to 0.110 shows 0.25 to 0.11: 0.14 less in all, of it 0.10 more by the price.
    """
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("salt", "14 EUR", "5 kg"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "15 EUR")),
    )
    change = found.change
    assert change is not None
    (part,) = change.parts
    assert (part.exact.number, part.share.number) == (D("-0.144"), D("-0.14"))
    assert (part.by_price.number, part.choice.number) == (D("0.10"), D("-0.24"))
    assert part.old_now and part.new_then
    assert (str(part.old_now.listed), str(part.new_then.listed)) == ("15 EUR", "14 EUR")
    assert [point.by_price and point.by_price.number for point in found.points] == [
        D("0.25") + WATER,
        D("0.35") + WATER,
        D("0.35") + WATER,
    ]


@settings(max_examples=60)
@given(st.tuples(PACE, PACE, PACE), st.tuples(PACE, PACE, PACE))
def test_price_and_choice_add_up_to_each_share(then: tuple[D, D, D], now: tuple[D, D, D]) -> None:
    soda = row("soda", "5 EUR")
    lists = [
        prices(
            when,
            soda,
            *(row("salt", f"{price} EUR", pack) for pack, price in zip(("50 g", "120 g", "1 kg"), of, strict=True)),
        )
        for when, of in (("2026-09-01", then), ("2026-10-01", now))
    ]
    change = history(*lists).change
    if change is None:
        return
    assert change.difference and change.by_price
    for part in change.parts:
        assert part.by_price.number + part.choice.number == part.share.number
    assert change.by_price.number + change.choice.number == change.difference.number


def test_out_of_stock_since_when_and_back_again() -> None:
    """Out of stock from 15 September; a list that repeats it does not begin it anew; back on 1 November."""
    gone = row("salt", "10 EUR", more=", in_stock: no, note: Back in spring.")
    files = {
        **BASE,
        **prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
        **prices("2026-09-15", gone),
        **prices("2026-10-01", row("salt", "10 EUR", "1000 g", more=", in_stock: no, note: Back in May.")),
    }
    (listed,) = out_of_stock(load(files)).values()
    assert (listed.day, listed.offer.note) == (day("2026-09-15"), "Back in May.")
    back = load({**files, **prices("2026-11-01", row("salt", "11 EUR"))})
    assert out_of_stock(back) == {}
    assert [[(move.kind, move.offer.note) for move in change.moves] for change in list_changes(back)[1:]] == [
        [("out of stock", "Back in spring.")],
        [],
        [("back", None)],
    ]
    withdrawn = load({**files, **prices("2026-11-01", row("soda", "5 EUR"), more="complete: yes\n")})
    assert out_of_stock(withdrawn) == {}


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (("10 EUR", "120 EUR"), [("12", True)]),
        (("10 EUR", "50 EUR"), [("5", True)]),
        (("10 EUR", "49.90 EUR"), []),
        (("10 EUR", "2 EUR"), [("5", False)]),
        (("10 EUR", "2.01 EUR"), []),
        (("10 EUR", "100 EUR", "110 EUR"), []),
        # Mended by a newer list: the slip was the former one.
        (("10 EUR", "100 EUR", "11 EUR"), []),
        (("10 EUR", "100 EUR", "1 EUR"), [("100", False)]),
        (("10 GBP", "120 EUR"), []),
    ],
)
def test_a_price_far_from_the_former_one_is_asked_about(
    steps: tuple[str, ...], expected: list[tuple[str, bool]]
) -> None:
    files = {**BASE}
    for month, price in zip((8, 9, 10), steps, strict=False):
        pack = "1 kg" if month % 2 else "1000 g"
        files |= prices(f"2026-{month:02}-01", row("soda", "5 EUR"), row("salt", price, pack))
    found = price_jumps(load(files))
    assert [(str(jump.times), jump.up) for jump in found] == expected
    assert all(jump.index == 1 for jump in found)


def test_a_price_far_from_the_former_one_is_warned_of_where_it_stands() -> None:
    """In YAML and in CSV; the list of another supplier, or of another pack, is no former price."""
    lists = {
        **BASE,
        **prices("2026-03-01", row("salt", "10 EUR"), row("salt", "50 EUR", "10 kg")),
        **prices("2026-10-01", row("soda", "5 EUR"), row("salt", "120 EUR")),
        **prices("2026-10-02", row("salt", "990 GBP"), of="two"),
        "prices/one/2026-11-01.csv": "chemical,form,pack,price\nsalt,solid,10 kg,5.00 EUR\n",
    }
    found = price_warnings(results(lists))
    assert [str(problem) for problem in found] == [
        "formulas/prices/one/2026-10-01.yml:4:54: 120 EUR is 12 times the price of 2026-03-01: "
        "is the decimal point right? (mend this price or that, or leave it where it is true)",
        "formulas/prices/one/2026-11-01.csv:2:18: 5.00 EUR is too little: the price of 2026-03-01 is 10 times as much: "
        "is the decimal point right? (mend this price or that, or leave it where it is true)",
    ]
    assert {problem.severity for problem in found} == {Severity.WARNING}


def test_a_complete_list_and_another_currency_make_offers_gone() -> None:
    catalogue = load(
        {
            **BASE,
            **prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
            **prices("2026-10-01", row("salt", "9 GBP"), more="complete: yes\n"),
        }
    )
    _, second = list_changes(catalogue)
    assert [(move.kind, move.offer.chemical, str(move.offer.price)) for move in second.moves] == [
        ("new", "salt", "9 GBP"),
        ("gone", "salt", "10 EUR"),
        ("gone", "soda", "5 EUR"),
    ]


def test_a_list_of_tomorrow_changed_nothing_yet() -> None:
    catalogue = load(
        {**BASE, **prices("2026-09-01", row("salt", "10 EUR")), **prices("2026-11-26", row("salt", "9 EUR"))}
    )
    assert [change.day for change in list_changes(catalogue)] == [day("2026-09-01")]


#: By hand, the largest remainder: (total, exact parts, whole parts).
APPORTIONED = [
    (10, ["3.4", "3.3", "3.3"], (4, 3, 3)),
    (1, ["0.5", "0.5"], (1, 0)),
    (1, ["-2.5", "3.6"], (-3, 4)),
    (0, ["0.4", "-0.4"], (0, 0)),
    (2, ["0.6", "0.6", "0.6"], (1, 1, 0)),
    (-1, ["-0.5", "-0.4"], (-1, 0)),
    (0, [], ()),
]


@pytest.mark.parametrize(("total", "parts", "whole"), APPORTIONED)
def test_shares_by_hand(total: int, parts: list[str], whole: tuple[int, ...]) -> None:
    assert shares(total, [D(part) for part in parts]) == whole


@given(st.lists(st.decimals("-1e6", "1e6", places=6), min_size=1, max_size=30), st.sampled_from(["0", "0.5", "-0.5"]))
def test_shares_add_up_and_each_is_next_to_its_part(parts: list[Decimal], shift: str) -> None:
    """The total is the sum rounded, be it up or down: as far as two rounded sums can differ from it."""
    total = int((sum(parts, D(0)) + D(shift)).to_integral_value())
    whole = shares(total, parts)
    assert sum(whole) == total
    assert all(abs(one - part) <= 1 for one, part in zip(whole, parts, strict=True))
    order = sorted(range(len(parts)), key=lambda i: parts[i])
    assert all(whole[low] <= whole[high] + 1 for low, high in pairwise(order))


@given(st.lists(st.decimals("-1e6", "1e6", places=4), max_size=10), st.integers(1, 5), st.booleans())
def test_parts_that_are_no_shares_of_the_total_are_refused(parts: list[Decimal], off: int, up: bool) -> None:
    total = int(sum(parts, D(0)).to_integral_value())
    wrong = total + (off + len(parts) + 1) * (1 if up else -1)
    with pytest.raises(ValueError, match="are no shares of"):
        shares(wrong, parts)


def test_what_is_choice_is_told_by_the_prices_of_today() -> None:
    """A kilo from 10 by 12 to 14 EUR; with the last list 500 g for 8 EUR start cheaper, 0.32 for 20 g instead of 0.24.

    The kilo would cost 0.28 now: 0.04 comes of its price and 0.04 of the other pack.
    """
    found = history(
        prices("2026-09-01", row("salt", "10 EUR"), row("soda", "5 EUR")),
        prices("2026-10-01", row("salt", "12 EUR")),
        prices("2026-11-01", row("salt", "14 EUR"), row("salt", "8 EUR", "500 g")),
    )
    change = found.change
    assert change is not None and change.since == day("2026-11-01")
    (part,) = change.parts
    assert (part.share.number, part.by_price.number, part.choice.number) == (D("0.08"), D("0.04"), D("0.04"))


def rows_of(*forms: str) -> list[CostRow]:
    return [CostRow("tea", (Need("tea", form, D(1), "g"),), "g") for form in forms]


@pytest.mark.parametrize(
    ("then", "now", "paired"),
    [
        (("leaf", "dust"), ("dust", "leaf"), {("leaf", "leaf"), ("dust", "dust")}),
        (("leaf", "dust"), ("dust",), {("dust", "dust")}),
        (("leaf",), ("dust", "leaf"), {("leaf", "leaf")}),
        (("leaf",), ("dust",), {("leaf", "dust")}),
    ],
)
def test_rows_of_a_chemical_are_paired_by_form(then: list[str], now: list[str], paired: set[tuple[str, str]]) -> None:
    """Forms that do not convert have a row each; one that is no longer bought leaves the other's partner alone."""
    found = {(one.asked[0].form, two.asked[0].form) for one, two in _pairs(rows_of(*then), rows_of(*now), "tea")}
    assert found == paired
