"""Changed prices in the build's log and on the pages: what a list did, what an edit would do, and a cost over time."""

from __future__ import annotations

import re
from datetime import date

import pytest

from reckoner.build import Built
from reckoner.calc.film.months import day_after, months_since
from reckoner.calc.results import Results
from reckoner.pages.prices.price_news import MOST, edited, newest_list, newest_moves
from reckoner.pages.prices.price_words import reasons
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from small import chemical, formula, page_text, results, supplier

SALTS = [f"salt-{number}" for number in range(25)]
BASE = {
    **{f"chemicals/{salt}.yml": chemical(salt, "[{id: solid, name: solid, formula: NaCl}]") for salt in SALTS},
    **{
        f"solutions/bath-{number}.yml": formula(f"bath-{number}", f"[{{chemical: {salt}, form: solid, amount: 100 g}}]")
        for number, salt in enumerate(SALTS)
    },
    "prices/one/supplier.yml": supplier().replace("Test supplier (invented)", "Shop"),
    "prices/two/supplier.yml": supplier().replace("Test supplier (invented)", "Store"),
}


def prices(day: str, of: str = "one", **salts: str) -> dict[str, str]:
    rows = "".join(
        f"  - {{chemical: {salt.replace('_', '-')}, form: solid, pack: 1 kg, price: {price}}}\n"
        for salt, price in salts.items()
    )
    return {f"prices/{of}/{day}.yml": f"date: {day}\noffers:\n{rows}"}


def made(*lists: dict[str, str], today: date = date(2026, 11, 25), **files: str) -> Results:
    everything = {**BASE, **files}
    for one in lists:
        everything |= one
    return results(everything, today)


FIRST = prices("2026-08-01", salt_0="10 EUR", salt_1="10 EUR", salt_2="10 EUR", salt_3="10 EUR")


def test_the_newest_list_in_one_line() -> None:
    """100 g in a litre: 1.004 to 1.504 and to 0.904 EUR, +50 and -10 %; the third came dearer with an earlier list."""
    found = made(
        FIRST,
        prices("2026-10-01", salt_0="15 EUR", salt_1="9 EUR", salt_4="1 EUR"),
        prices("2026-10-01", "two", salt_5="7 EUR"),
        prices("2026-09-15", salt_2="20 EUR"),
    )
    assert newest_list(found) == (
        "prices changed on 2026-10-01: 1 offer up, 1 down, 2 new; 1 formula dearer, 1 cheaper; "
        "largest: bath-0 +50\u00a0%"
    )


def test_a_list_without_effect_says_so_and_none_says_nothing() -> None:
    assert newest_list(made(FIRST, prices("2026-10-01", salt_0="10 EUR"))) == (
        "prices changed on 2026-10-01: no offer changed; no formula costs another sum"
    )
    assert newest_list(made()) == ""


def test_the_newest_list_line_by_line() -> None:
    """Both lists of the newest day, but not a supplier's first, which would be all its offers."""
    found = made(
        FIRST,
        prices("2026-10-01", salt_0="15 EUR", salt_1="9 EUR", salt_4="1 EUR"),
        prices("2026-10-01", "two", salt_5="7 EUR"),
    )
    assert newest_moves(found) == (
        "one/salt-0/solid/1-kg: 10 EUR → 15 EUR",
        "one/salt-1/solid/1-kg: 10 EUR → 9 EUR",
        "one/salt-4/solid/1-kg: new → 1 EUR",
    )
    many = [salt.replace("-", "_") for salt in SALTS]
    lists = [prices(f"2026-0{month}-01", **dict.fromkeys(many, f"{month} EUR")) for month in (8, 9)]
    assert len(newest_moves(made(*lists))) == MOST + 1
    assert newest_moves(made(*lists))[-1] == "and 15 more offers, see Price changes"
    assert newest_moves(made()) == newest_moves(made(FIRST)) == ()


def test_an_edited_price_is_told_with_what_it_does() -> None:
    before = made(FIRST)
    after = made({**FIRST, **prices("2026-11-01", salt_0="12.50 EUR", salt_9="3 EUR")})
    assert edited(before, after) == (
        "one/salt-0/solid/1-kg: 10 EUR → 12.50 EUR",
        "one/salt-9/solid/1-kg: new → 3 EUR",
        "bath-0: a litre 1.00 EUR → 1.25 EUR",
        "bath-9: a litre incomplete → 0.30 EUR",
    )
    assert edited(after, before)[:2] == (
        "one/salt-0/solid/1-kg: 12.50 EUR → 10 EUR",
        "one/salt-9/solid/1-kg: 3 EUR → gone",
    )


def test_an_edit_of_something_else_says_nothing() -> None:
    other = formula("bath-0", "[{chemical: salt-0, form: solid, amount: 200 g}]")
    assert edited(made(FIRST), made(FIRST, **{"solutions/bath-0.yml": other})) == ()


def test_an_edited_exchange_rate_is_told_by_the_costs_it_changes() -> None:
    rates = (
        "rates: [{{base: GBP, quote: EUR, rate: {}, date: 2026-08-01}}]\n"
        "source: {{certainty: invented, checked: 2026-08-01}}\n"
    )
    pounds = prices("2026-08-01", salt_0="10 GBP")
    before, after = (made(pounds, **{"exchange_rates.yml": rates.format(rate)}) for rate in ("1.10", "1.20"))
    assert edited(before, after) == ("bath-0: a litre 1.10 EUR → 1.20 EUR",)


def test_a_flood_of_changes_is_cut_off() -> None:
    """25 offers and 25 formulas: ten of each, and how many more."""
    salts = [salt.replace("-", "_") for salt in SALTS]
    before, after = (made(prices("2026-08-01", **dict.fromkeys(salts, price))) for price in ("10 EUR", "11 EUR"))
    found = edited(before, after)
    assert len(found) == 2 * (MOST + 1)
    assert (found[MOST], found[-1]) == (
        "and 15 more offers, see Price changes",
        "and 15 more formulas, see Price changes",
    )


def test_reasons_name_the_largest_and_add_up_the_rest() -> None:
    """Three salts, 0.05, 0.02 and 0.01 EUR more: two are named, the third is the rest."""
    three = "[" + ", ".join(f"{{chemical: salt-{n}, form: solid, amount: 100 g}}" for n in range(3)) + "]"
    found = made(
        FIRST,
        prices("2026-10-01", salt_0="10.50 EUR", salt_1="10.20 EUR", salt_2="10.10 EUR"),
        **{"solutions/bath-0.yml": formula("bath-0", three)},
    )
    change = found.history.formulas["bath-0"].change
    assert change is not None
    writer = PageWriter(found, Display("en_GB"), Links("price-changes.md"))
    assert reasons(change, writer, 2) == (
        "salt-0 €0.05\u00a0more (1\u00a0kg solid from Shop (invented): €10.00 → €10.50)",
        "salt-1 €0.02\u00a0more (1\u00a0kg solid from Shop (invented): €10.00 → €10.20)",
        "all others €0.01\u00a0more",
    )


def test_a_formula_s_page_tells_its_cost_over_time() -> None:
    text = page_text(made(FIRST, prices("2026-10-16", salt_0="15 EUR")), "solutions/bath-0.md")
    section = text[text.index("## Cost") : text.index("## Source")]
    assert "A litre cost €1.00 on 1 Aug 2026, €1.50 now, because:" in section
    assert "salt-0 €0.50\u00a0more (1\u00a0kg solid from Shop (invented): €10.00 → €15.00)" in section
    rows = re.findall(r"<tr><td>([^<]+)</td><td>([^<]+)</td><td>([^<]+)</td></tr>", section)
    assert rows[-3:] == [
        ("1 Aug 2026", "€1.00", "€10.00"),
        ("16 Oct 2026", "€1.50", "€15.00"),
        ("25 Nov 2026", "€1.50", "€15.00"),
    ]
    # The line rises from 1.00 to 1.50 at one place and reaches on to today.
    path = re.search(r'<path class="hb-line" d="M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)H([\d.]+)V([\d.]+)"', section)
    assert path is not None
    first, low, rise, high, last, same = map(float, path.groups())
    assert first < rise < last
    assert low > high == same
    assert ">Aug 2026</text>" in section


@pytest.mark.parametrize(
    ("lists", "today", "picture", "table"),
    [
        ([], date(2026, 11, 25), False, False),
        ([FIRST], date(2026, 8, 1), False, False),
        ([prices("2026-07-01", salt_1="1 EUR"), FIRST], date(2026, 8, 1), False, True),
        ([FIRST], date(2026, 11, 25), True, True),
    ],
    ids=["no price ever", "one day", "one day with a cost and one without", "two days"],
)
def test_a_picture_takes_two_days_with_a_cost(
    lists: list[dict[str, str]], today: date, picture: bool, table: bool
) -> None:
    text = page_text(made(*lists, today=today), "solutions/bath-0.md")
    assert ("cost-over-time" in text) is picture
    assert ("<th>On</th>" in text) is table
    assert ("incomplete</td>" in text) is (table and not picture)


def test_the_page_of_price_changes_lists_and_explains() -> None:
    found = made(FIRST, prices("2026-10-01", salt_0="15 EUR", salt_1="9 EUR", salt_2="10 EUR", salt_4="1 EUR"))
    text = page_text(found, "price-changes.md")
    assert text.index("1 Oct 2026: Shop") < text.index("1 Aug 2026: Shop")
    assert "<p>1 offer up, 1 down, 1 new.</p>" in text
    assert "<p>first price list, 4 offers.</p>" in text
    formulas = text[text.index("## Formulas") : text.index("## Processes")]
    assert re.findall(r"bath-\d+", re.sub(r"<a [^>]*>", "", formulas)) == ["bath-0", "bath-1", "bath-4"]
    assert "<b>€0.50\u00a0more (+50\u00a0%)</b> since the list of 1 Oct 2026" in formulas
    assert "<td>no sum</td><td>€0.10</td>" in formulas
    assert "no price then for salt-4" in formulas
    assert "Nothing costs another sum." in text[text.index("## Processes") :]


@pytest.mark.parametrize(
    ("day", "months"),
    [("2026-09-01", "0"), ("2026-09-16", "0.5"), ("2026-10-01", "1"), ("2027-01-01", "4"), ("2028-09-01", "24")],
)
def test_an_axis_of_months_begins_with_the_first_month(day: str, months: str) -> None:
    first = date(2026, 9, 14)
    assert str(months_since(date.fromisoformat(day), first)) == months
    assert day_after(months_since(date.fromisoformat(day), first), first) == date.fromisoformat(day)


def test_a_build_carries_the_news_of_the_newest_list() -> None:
    found = made(FIRST)
    assert (
        Built(found, (), (), (), (newest_list(found),))
        .notes[0]
        .startswith("prices changed on 2026-08-01: 4 offers new")
    )


def test_another_pack_is_told_apart_from_prices_in_the_log_and_on_the_page() -> None:
    """A kilo for 10 EUR, then 200 g for 6 beside it: 100 g cost 3.00 instead of 1.00, and nothing anyone pays rose."""
    small = {
        "prices/two/2026-10-01.yml": "date: 2026-10-01\noffers:\n"
        "  - {chemical: salt-0, form: solid, pack: 200 g, price: 6 EUR}\n"
    }
    found = made(FIRST, small)
    assert newest_list(found) == (
        "prices changed on 2026-10-01: 1 offer new; no formula costs another sum by prices; "
        "1 formula with another pack, the old one still sold"
    )
    text = page_text(found, "price-changes.md")
    assert (
        "<b>€2.00\u00a0more (+200\u00a0%)</b> since the list of 1 Oct 2026; prices alone: the same; other packs" in text
    )
    assert (
        "a new offer, 200\u00a0g solid from Store (invented) is the cheapest start now, "
        "instead of 1\u00a0kg solid from Shop (invented)" in text
    )
    assert "Chemicals used are priced at the packs that start the first batch cheapest" in text
    own = page_text(found, "solutions/bath-0.md")
    assert "Of that, prices alone: the same; other packs €2.00\u00a0more" in own
    assert "<td>€3.00</td><td>€1.00</td><td>€6.00</td>" in own
    assert "prices alone, no other choice of packs" in own


def test_a_dearer_pack_is_the_reason_and_not_a_cheaper_start() -> None:
    """A kilo rises from 10 to 15 EUR, so five kilos for 14 are taken: 100 g cost 0.28, 0.50 more and 1.22 less."""
    five = "  - {chemical: salt-0, form: solid, pack: 5 kg, price: 14 EUR}\n"
    first = {key: text + five for key, text in FIRST.items()}
    found = made(first, prices("2026-10-01", salt_0="15 EUR"))
    change = found.history.formulas["bath-0"].change
    assert change is not None
    (said,) = reasons(change, PageWriter(found, Display("en_GB"), Links("price-changes.md")), 2)
    assert said == (
        "salt-0 €0.72\u00a0less (1\u00a0kg solid from Shop (invented): €10.00 → €15.00; "
        "5\u00a0kg solid from Shop (invented) is the cheapest start now, "
        "instead of 1\u00a0kg solid from Shop (invented); "
        "of it €0.50\u00a0more by the price, €1.22\u00a0less by the other pack)"
    )


def test_a_pack_out_of_stock_keeps_its_note() -> None:
    out = {
        "prices/one/2026-10-01.yml": "date: 2026-10-01\noffers:\n"
        "  - {chemical: salt-0, form: solid, pack: 1000 g, price: 10 EUR, in_stock: no, note: Expected in March.}\n"
        "  - {chemical: salt-0, form: solid, pack: 2 kg, price: 30 EUR}\n"
    }
    before, found = made(FIRST), made(FIRST, out)
    text = page_text(found, "price-changes.md")
    assert "<p>1 offer new, 1 out of stock.</p>" in text
    assert "<td>€10.00</td><td>out of stock since 1 Oct 2026: Expected in March</td>" in text
    assert (
        "1\u00a0kg solid from Shop (invented) is out of stock since 1 Oct 2026: Expected in March, "
        "now 2\u00a0kg solid from Shop (invented)" in text
    )
    assert edited(before, found)[1] == "one/salt-0/solid/1000-g: 10 EUR → out of stock"
    assert edited(found, before)[0] == "one/salt-0/solid/1-kg: out of stock → 10 EUR"


def test_a_slip_of_the_decimal_point_is_asked_about_on_the_page() -> None:
    text = page_text(made(FIRST, prices("2026-10-01", salt_0="120 EUR", salt_1="1 EUR")), "price-changes.md")
    listed = "1\u00a0kg solid, Shop (invented), list of 1 Oct 2026"
    assert f"salt-0, {listed}: €120.00, 12 times the €10.00 on 1 Aug 2026. Is the decimal point right?" in text
    assert f"salt-1, {listed}: €1.00, the €10.00 on 1 Aug 2026 was 10 times as much." in text


def test_the_largest_changes_stand_open_and_the_rest_is_folded_with_its_number_and_range() -> None:
    """Eight salts from 10 EUR up by 1 to 8: the five largest open; 1, 2 and 3 EUR, 10 to 30 %, are folded away."""
    salts = [f"salt_{n}" for n in range(8)]
    found = made(
        prices("2026-08-01", **dict.fromkeys(salts, "10 EUR")),
        prices("2026-10-01", **{salt: f"{11 + n} EUR" for n, salt in enumerate(salts)}),
        prices("2026-10-02", of="two", salt_9="1 EUR"),
    )
    text = page_text(found, "price-changes.md")
    lists, rest = text[: text.index("## Formulas")], text[text.index("## Formulas") :]
    assert "<summary>3 more offers, from +10\u00a0% to +30\u00a0%</summary>" in lists
    assert "<summary>3 more, from €0.10\u00a0more to €0.30\u00a0more</summary>" in rest
    assert "<summary>1 with a sum only then or only now</summary>" in rest
    for part in (lists, rest):
        opened = part[: part.index("<details>")]
        assert re.findall(r"(?:salt|bath)-\d", re.sub(r"<a [^>]*>|<small>.*?</small>|<tr class=.*", "", opened)) == [
            f"{'salt' if part is lists else 'bath'}-{n}" for n in (7, 6, 5, 4, 3)
        ]
    for closed in re.findall(r"<details>.*?</details>", text, re.DOTALL):
        assert "hb-warn" not in closed and "\n\n" not in closed


def test_older_lists_are_folded_whole() -> None:
    found = made(FIRST, prices("2026-09-01", salt_0="11 EUR"), prices("2026-10-01", salt_0="12 EUR"))
    text = page_text(found, "price-changes.md")
    older = text[text.index("1 Sept 2026: Shop") :]
    assert "<summary>1 offer, +10\u00a0%</summary>" in older[: older.index("1 Aug 2026: Shop")]
    assert "<td>€11.00</td><td>€12.00</td>" in text[: text.index("<details>")]
