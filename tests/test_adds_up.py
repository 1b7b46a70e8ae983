"""One rounding of a pack's price, and columns that add up: over the demonstration's pages and over drawn handbooks."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from html import unescape

import pytest
from hypothesis import given
from hypothesis import strategies as st

from long_run import sampled
from reckoner.calc.results import Results, work_out
from reckoner.money import Money, shares, shares_of_rows
from reckoner.pages.kinds import pages
from reckoner.records.catalogue import Catalogue
from small import SOURCE, chemical, formula, process, results, supplier
from small_handbooks import handbook, read

D = Decimal
#: The sums above a table, and the table, of one cost.
COST = re.compile(r'<dl class="hb-sums">\n(.*?)</dl>(?:(?!\n## ).)*?<table class="hb-cost">\n(.*?)</table>', re.DOTALL)
ROW = re.compile(r"<tr><td>.*?</td><td>(.*?)</td><td>(.*?)</td></tr>")
MONEY = re.compile(r"(\d[\d.,]*)")


def cents(said: str) -> int:
    """€1,234.56 in cents; less than a cent is none."""
    if unescape(said).startswith("<"):
        return 0
    figure = MONEY.search(unescape(said))
    assert figure, said
    return int(D(figure[1].replace(",", "")) * 100)


def sums_of(text: str) -> dict[str, int]:
    terms = re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", text)
    return {
        name: cents(said) for name, said in terms if MONEY.search(said) and " to " not in said and " after " not in said
    }


def costs(page: str) -> list[tuple[dict[str, int], list[tuple[int, int]]]]:
    return [
        (sums_of(above), [(cents(used), cents(start)) for used, start in ROW.findall(table)])
        for above, table in COST.findall(page)
        if "no price" not in table
    ]


def check_costs(made: Mapping[str, str]) -> int:
    """Cost tables of all pages, by path, add up to the sums above them; how many there are."""
    seen = 0
    for path, markdown in made.items():
        for above, rows in costs(markdown):
            used = [figure for name, figure in above.items() if re.match(r"(Used|Chemicals used), for a litre", name)]
            start = [figure for name, figure in above.items() if re.match(r"(To start|First order), without", name)]
            if not used or not start:
                continue
            seen += 1
            assert sum(row[0] for row in rows) == used[0], path
            assert sum(row[1] for row in rows) == start[0], path
    return seen


def check_plans(made: Results) -> int:
    """A plan's money adds up by chemical, by bath and by kind, to the sum that the page begins with."""
    seen = 0
    for result in made.plans.values():
        money = result.sure
        if money is None:
            continue
        seen += 1
        table = [[part.exact_minor for part in row.parts] for row in money.table]
        columns = [part.exact_minor for part in money.whole.parts]
        total = money.total.exact_minor
        assert all(cell == int(cell) for row in table for cell in row)
        assert sum(columns) == sum(sum(row) for row in table) == total
        assert [sum(column) for column in zip(*table, strict=True)] == columns or not table
        assert sum(part.exact_minor for part in money.of_baths.values()) == total
        assert abs(total - money.parts.total.exact_minor) <= D("0.5") + D("1e-9")
        for pool, row in zip(money.chemicals, table, strict=True):
            exact = [part.exact_minor for part in pool.parts.parts]
            assert all(abs(whole - part) < 1 + D("1e-9") for whole, part in zip(row, exact, strict=True))
        orders = result.bought.orders
        paid = [*(line.price for order in orders for line in order.lines), *(order.delivery for order in orders)]
        assert sum(sum_.exact_minor for sum_ in paid) == money.to_start.exact_minor
    return seen


def test_every_cost_table_of_the_demonstration_adds_up(demo_results: Results, demo_pages: Mapping[str, str]) -> None:
    assert check_costs(demo_pages) > 80
    assert check_plans(demo_results) == 3


def test_the_list_of_where_the_money_goes_adds_up_as_it_is_shown(
    demo: Catalogue, demo_pages: Mapping[str, str]
) -> None:
    for plan_id in demo.plans:
        section = demo_pages[f"plans/{plan_id}.md"].partition("## Where the money goes")[2].partition("\n## ")[0]
        pattern = r"<li>.*?<small>(?:<b>)+(.*?)</b>.*?film (.*?), poured away (.*?), dead (.*?), delivery (.*?)</small>"
        rows = [[cents(figure) for figure in row] for row in re.findall(pattern, section)]
        *chemicals, together = rows
        assert [sum(column) for column in zip(*chemicals, strict=True)] == together
        assert all(total == sum(parts) for total, *parts in rows)


@pytest.mark.parametrize("number", sampled(range(40), 3))
def test_every_cost_table_of_a_drawn_handbook_adds_up(number: int) -> None:
    made = work_out(read(handbook(number).files))
    check_costs({page.path: page.markdown for page in pages(made)})
    check_plans(made)


RATES = f"rates: [{{base: GBP, quote: EUR, rate: 1.20, date: 2026-11-01}}]\n{SOURCE}\n"


def test_a_packs_price_is_rounded_once() -> None:
    """7.77 GBP at 1.20 with 20 % are 11.1888 EUR: paid 11.19. Seven packs are 78.33, where seven times
    the exact price would be 78.32."""
    worked = results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/bath.yml": formula("bath", "[{chemical: salt, form: solid, amount: 700 g}]"),
            "processes/pr.yml": process("bath"),
            "exchange_rates.yml": RATES,
            "prices/shop/supplier.yml": supplier("GBP", "no"),
            "prices/shop/2026-11-01.yml": "date: 2026-11-01\noffers:\n"
            "  - {chemical: salt, form: solid, pack: 100 g, price: 7.77 GBP}\n",
            "plans/p.yml": "id: p\nname: p\nover: 1 months\nwants: [{formula: bath, litres: 1 L}]\n",
        }
    )
    offer = worked.offers["salt"][0]
    assert offer.price == Money(D("11.19"), "EUR")
    cost = worked.formulas["bath"].cost
    assert cost.rows[0].to_start is not None and cost.rows[0].to_start.minor == 7833
    assert worked.plans["p"].bought.total == Money(D("78.33"), "EUR")
    assert cost.rows[0].used is not None and cost.rows[0].used.minor == 7833


def test_a_price_of_less_than_a_cent_is_a_cent() -> None:
    assert Money(D("0.001"), "EUR").paid == Money(D("0.01"), "EUR")
    assert Money(D("0.6"), "JPY").paid == Money(D(1), "JPY")


amounts = st.integers(0, 100_000).map(lambda number: D(number) / 1000)


@given(st.lists(st.tuples(amounts, amounts, amounts, amounts), min_size=1, max_size=20))
def test_a_table_of_shares_adds_up_both_ways(rows: list[tuple[Decimal, ...]]) -> None:
    exact = sum((cell for row in rows for cell in row), D(0))
    total = int(exact + D("0.5"))
    cells = shares_of_rows(total, rows)
    assert sum(map(sum, cells)) == total
    assert tuple(map(sum, cells)) == shares(total, [sum(row, D(0)) for row in rows])
    for whole, row in zip(cells, rows, strict=True):
        assert all(abs(cell - part) <= 1 for cell, part in zip(whole, row, strict=True))
        assert all(cell == 0 for cell, part in zip(whole, row, strict=True) if not part)
    for column, parts in zip(zip(*cells, strict=True), zip(*rows, strict=True), strict=True):
        assert abs(sum(column) - sum(parts, D(0))) < len(rows) + 1
