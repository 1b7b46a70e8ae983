"""Bottles on the shelf: film through them, next time, last day; what can be mixed and what is short."""

from __future__ import annotations

import json
import re
from datetime import date
from decimal import Decimal
from html import unescape

from hypothesis import given
from hypothesis import strategies as st

from reckoner.calc.film.bottles import BottleState
from reckoner.calc.results import Results
from reckoner.outputs.export import handbook_json
from reckoner.warn import bottle_warnings, old_warnings
from small import SETTINGS, SOURCE, chemical, formula, page_text, process, results, supplier

D = Decimal
FILMS = f"""
formats:
  - {{id: "135-36", name: 135, length: 1630 mm, width: 34.975 mm, counts_as: 1, {SOURCE}}}
  - {{id: super8-50ft, name: Super 8, length: 50 ft, width: 7.976 mm, {SOURCE}}}
"""
MORE = """
keeping:
  - {state: full bottle, time: 6-8 weeks, certainty: common practice}
  - {state: part-full bottle, time: 10-20 days, certainty: common practice}
capacity: [{does: 8-12 rolls, per: 1 L, certainty: common practice}]
reuse: {add: 10 %, time: "7:30", most: 10, certainty: common practice}
"""
FILES = {
    "film_formats.yml": FILMS,
    "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
    "chemicals/soda.yml": chemical("soda", "[{id: solid, name: solid, formula: Na2CO3}]"),
    "solutions/bath.yml": formula(
        "bath", "[{chemical: salt, form: solid, amount: 50 g}, {chemical: soda, form: solid, amount: 20 g}]", more=MORE
    ),
    "solutions/rinse.yml": formula("rinse", "[{chemical: salt, form: solid, amount: 10 g}]"),
    "processes/pr.yml": process("bath", "rinse"),
}


def shelf(*through: str, more: str = "", packs: str = "[]", volume: str = "1 L") -> dict[str, str]:
    films = "".join(f"      - {one}\n" for one in through)
    text = f"packs: {packs}\nbottles:\n  - id: one\n    formula: bath\n    volume: {volume}\n    mixed: 2026-11-01\n"
    return {**FILES, "shelf.yml": text + more + (f"    through:\n{films}" if films else "")}


def state(files: dict[str, str], today: date = date(2026, 11, 25)) -> BottleState:
    return results(files, today).bottles["one"]


def roll(day: int, count: int = 1) -> str:
    return f"{{day: 2026-11-{day:02d}, format: 135-36, count: {count}}}"


def test_an_unopened_bottle_keeps_as_a_full_one() -> None:
    """1 November and 6 weeks, the cautious figure, is 13 December."""
    found = state(shelf())
    assert found.ends is not None and found.ends.day == date(2026, 12, 13)
    assert (found.rolls, found.left) == (0, 8)
    assert found.next is not None and found.next.seconds is not None and found.next.seconds.low == 450


def test_a_bottle_filled_in_part_keeps_as_one_from_the_day_it_was_mixed() -> None:
    """1 November and 10 days, the cautious figure."""
    found = state(shelf(more="    fill: part full\n"))
    assert found.ends is not None and (found.ends.day, found.ends.state) == (date(2026, 11, 11), "part-full bottle")
    (age,) = [one for one in results(shelf(more="    fill: part full\n")).ages if one.kind == "bottle"]
    assert (age.subject, age.day, age.good_until, age.old) == ("one", date(2026, 11, 1), date(2026, 11, 11), True)
    assert (age.limit.low, age.limit.unit) == (10, "days")


def test_film_through_it_makes_it_part_full_from_that_day() -> None:
    """3 November and 10 days is the 13th: twelve days ago on the 25th."""
    found = state(shelf(roll(3, 2), roll(5)))
    assert found.ends is not None and found.ends.day == date(2026, 11, 13)
    assert found.old
    assert (found.rolls, found.left) == (3, 5)
    # Three rolls done: 7:30 and three tenths of it, 585 s.
    assert found.next is not None and found.next.seconds is not None and found.next.seconds.low == 585


TANK = "tanks: [{name: two reels, volume: 600 mL, holds: [{format: 135-36, count: 2}]}]\n"


def test_two_films_together_are_one_load_and_half_a_litre_ages_twice_as_fast() -> None:
    """Two rolls at once and three in two loads: five rolls in three loads. Of half a litre, ten rolls a litre.

    7:30 and a tenth for each roll a litre has done: 11:15 in the litre; in half a litre the rule has ended with ten.
    """
    tank = {"settings.yml": SETTINGS + TANK}
    litre, half = (state({**shelf(roll(3, 2), roll(5, 3), volume=volume), **tank}) for volume in ("1 L", "500 mL"))
    assert [(one.rolls, one.loads, one.litre) for one in (litre, half)] == [(5, 3, 5), (5, 3, 10)]
    assert litre.next is not None and litre.next.seconds is not None and litre.next.seconds.low == 675
    assert half.next is not None and half.next.seconds is None
    # Two films in half a litre are as four in a litre: 7:30 and four tenths.
    two = state({**shelf(roll(3, 2), volume="500 mL"), **tank})
    assert (two.loads, two.litre) == (1, 4)
    assert two.next is not None and two.next.seconds is not None and two.next.seconds.low == 630


def test_the_next_time_says_which_figures_it_rests_on() -> None:
    """On the last good day, ten days from the first film: an expired bottle has no next time."""
    made = results({**shelf(roll(3, 2), volume="500 mL"), "settings.yml": SETTINGS + TANK}, date(2026, 11, 13))
    page = page_text(made, "bottles/one.md").replace("\u00a0", " ")
    assert "Counted: 2 rolls in 1 load through 500 mL, 4 rolls a litre; films of one load share one time" in page
    assert "Counted" not in page_text(results(shelf()), "bottles/one.md")


def test_the_last_day_itself_is_good() -> None:
    assert not state(shelf(roll(15))).old
    assert state(shelf(roll(14))).old


def with_use(*keeping: str, within: str = "") -> dict[str, str]:
    """The bath with more about its life in use."""
    lines = "".join(f"  - {{{one}, certainty: common practice}}\n" for one in keeping)
    more = MORE.replace("capacity: [{", f"{lines}capacity: [{{{within}")
    bath = formula(
        "bath", "[{chemical: salt, form: solid, amount: 50 g}, {chemical: soda, form: solid, amount: 20 g}]", more=more
    )
    return {**shelf(roll(3), roll(5), more="    opened: 2026-11-02\n"), "solutions/bath.yml": bath}


def test_a_bath_that_has_worked_ends_by_its_working_life_where_that_is_shorter() -> None:
    """From the first film, the 3rd, and 7 days; by the part-full bottle, from the 2nd and 10 days, it were the 12th."""
    found = state(with_use("state: working, time: 1-2 weeks")).ends
    assert found is not None and (found.day, found.state, found.days) == (date(2026, 11, 10), "working", 7)
    found = state(with_use("state: working, time: 3 months")).ends
    assert found is not None and (found.day, found.state) == (date(2026, 11, 12), "part-full bottle")
    found = state(with_use("state: open tray, time: 1 day")).ends
    assert found is not None and found.state == "part-full bottle"


def test_a_bath_reused_within_a_day_ends_a_day_after_its_first_film() -> None:
    found = state(with_use(within="within: 1 day, ")).ends
    assert found is not None and (found.day, found.state) == (date(2026, 11, 4), "in use")


def test_a_bath_in_a_good_bottle_is_not_lacking() -> None:
    lacks = results(shelf(), date(2026, 11, 25)).lacking["pr"]
    # The rinse alone: 10 g of salt and no soda.
    assert [(one.wanted.need.chemical, one.wanted.amount) for one in lacks] == [("salt", D(10))]
    for files in (shelf(roll(3)), shelf(roll(25, 8)), shelf(volume="900 mL")):
        lacks = results(files, date(2026, 11, 25)).lacking["pr"]
        assert {one.wanted.need.chemical: one.wanted.amount for one in lacks} == {"salt": D(60), "soda": D(20)}


def test_opening_counts_as_film_does() -> None:
    found = state(shelf(more="    opened: 2026-11-02\n"))
    assert found.ends is not None and found.ends.day == date(2026, 11, 12)


def test_the_owners_own_day_comes_first() -> None:
    found = state(shelf(roll(3), more="    discard: 2027-01-01\n"))
    assert found.ends is not None and found.ends.day == date(2027, 1, 1) and found.ends.state is None


def test_a_length_counts_as_part_of_a_film() -> None:
    """25 ft of a format of 50 ft are half of it."""
    half = state(shelf("{day: 2026-11-03, format: super8-50ft, length: 25 ft}"))
    whole = state(shelf("{day: 2026-11-03, format: super8-50ft}"))
    assert half.rolls * 2 == whole.rolls
    assert half.area * 2 == whole.area


def test_spent_over_and_in_order() -> None:
    """Eight rolls are the cautious figure, twelve the generous one."""
    assert not state(shelf(roll(20, 7))).spent
    assert state(shelf(roll(20, 8))).spent
    assert not state(shelf(roll(20, 12))).over
    assert state(shelf(roll(20, 13))).over


def said(found: Results) -> list[str]:
    return [str(problem) for problem in (*bottle_warnings(found), *old_warnings(found))]


def test_the_log_warns_of_spent_overrun_and_old_bottles() -> None:
    assert said(results(shelf(roll(20, 2)))) == []
    assert said(results(shelf(roll(20, 8)))) == [
        "formulas/shelf.yml:8:7: bottle one is spent: 8 rolls of 8 to 12 (test it before another film, or discard it)"
    ]
    assert said(results(shelf(roll(20, 13))))[0].startswith(
        "formulas/shelf.yml:8:7: bottle one has done 13 rolls, more than the 12 it can"
    )
    assert "bottle one" in said(results(shelf(roll(3))))[0]


@given(st.lists(st.tuples(st.integers(2, 20), st.integers(1, 4)), min_size=1, max_size=6), st.randoms())
def test_film_adds_up_in_any_order_and_in_any_lines(films: list[tuple[int, int]], random: object) -> None:
    """Capacity is additive; the order of films changes no total; three lines of one film are one line of three."""
    lines = [roll(day, count) for day, count in films]
    split = [roll(day) for day, count in films for _ in range(count)]
    one, turned, apart = state(shelf(*lines)), state(shelf(*lines[::-1])), state(shelf(*split))
    assert one.rolls == sum(count for _, count in films)
    for other in (turned, apart):
        assert (other.rolls, other.area, other.left, other.ends, other.next) == (
            one.rolls, one.area, one.left, one.ends, one.next
        )  # fmt: skip


def test_what_can_be_mixed_from_the_packs() -> None:
    """200 g salt at 50 g a litre are 4 L, 60 g soda at 20 g are 3 L: soda ends it; the rinse alone makes 20 L."""
    packs = (
        "[{chemical: salt, form: solid, pack: 500 g, left: 200 g, bought: 2026-01-01},"
        " {chemical: soda, form: solid, pack: 100 g, left: 60 g, bought: 2026-01-01}]"
    )
    found = results(shelf(packs=packs)).mixable
    assert (found["bath"].litres, found["bath"].limited_by) == (3, "soda")
    assert (found["rinse"].litres, found["rinse"].limited_by) == (20, "salt")


def test_two_packs_of_a_chemical_count_together() -> None:
    """200 g and 50 g of salt at 50 g a litre are 5 L, at the rinse's 10 g 25 L."""
    packs = ", ".join(
        f"{{chemical: {name}, form: solid, pack: 500 g, left: {left} g, bought: 2026-01-01}}"
        for name, left in (("salt", 200), ("salt", 50), ("soda", 400))
    )
    found = results(shelf(packs=f"[{packs}]")).mixable
    assert (found["bath"].litres, found["bath"].limited_by) == (5, "salt")
    assert found["rinse"].litres == 25


def test_what_is_missing_is_named() -> None:
    packs = "[{chemical: salt, form: solid, pack: 500 g, left: 200 g, bought: 2026-01-01}]"
    assert results(shelf(packs=packs)).mixable["bath"].missing == ("soda",)


def test_a_process_pools_its_baths_before_it_lacks_anything() -> None:
    """A litre of each bath takes 60 g salt: 55 g are 5 g short, although either bath alone could be mixed."""
    packs = (
        "[{chemical: salt, form: solid, pack: 500 g, left: 55 g, bought: 2026-01-01},"
        " {chemical: soda, form: solid, pack: 100 g, left: 60 g, bought: 2026-01-01}]"
    )
    (lack,) = results(shelf(roll(25, 8), packs=packs)).lacking["pr"]
    assert (lack.wanted.need.chemical, round(lack.wanted.amount, 9)) == ("salt", 5)
    assert round(lack.held, 9) == round(D(55) / 60, 9)


def test_a_stand_in_on_the_shelf_counts_for_what_can_be_mixed_and_for_what_is_lacking() -> None:
    """10 g of potassium bromide are 8.65 g of the sodium salt: 100 g on the shelf are eleven litres and a half."""
    asks = "[{chemical: kbr, form: solid, amount: 10 g, swap: [nabr]}]"
    found = results(
        {
            "chemicals/kbr.yml": chemical(
                "kbr", "[{id: solid, name: solid, formula: KBr}]", active="{entity: bromide}"
            ),
            "chemicals/nabr.yml": chemical(
                "nabr", "[{id: solid, name: solid, formula: NaBr}]", active="{entity: bromide}"
            ),
            "solutions/bath.yml": formula("bath", asks),
            "processes/pr.yml": process("bath"),
            "prices/shop/supplier.yml": supplier(),
            "prices/shop/2026-11-01.yml": "date: 2026-11-01\noffers:\n"
            "  - {chemical: kbr, form: solid, pack: 100 g, price: 5.00 EUR}\n"
            "  - {chemical: nabr, form: solid, pack: 100 g, price: 9.00 EUR}\n",
            "shelf.yml": "packs: [{chemical: nabr, form: solid, pack: 100 g, left: 100 g, bought: 2026-11-01}]\n",
        }
    )
    assert round(found.mixable["bath"].litres, 1) == D("11.6")
    assert found.lacking["pr"] == ()


#: Two bottles whose owner set their last days.
TWO = shelf(more="    discard: 2026-12-05\n")
TWO["shelf.yml"] += "  - {id: fresh, formula: bath, volume: 1 L, mixed: 2026-11-10, discard: 2026-12-20}\n"
EXPIRED = results(TWO, date(2026, 12, 6))


def plain_text(path: str, found: Results = EXPIRED) -> str:
    """A page as it is shown on the day of the build: what waits for a later day is left out."""
    text = re.sub(r"<(\w+)[^>]* hidden>.*?</\1>", "", page_text(found, path), flags=re.S)
    return unescape(text).replace("\u00a0", " ")


def test_an_expired_bottle_says_so_first_and_nothing_of_film_left_in_it() -> None:
    home = plain_text("index.md")
    line = next(one for one in home.splitlines() if one.startswith("<li>") and "bottles/one/" in one)
    assert "Expired: it was good until 5 Dec 2026. Discard it." in line
    assert "left" not in line
    fresh = next(one for one in home.splitlines() if "<li>" in one and "bottles/fresh/" in one)
    assert "8 rolls left; good until 20 Dec 2026" in fresh
    assert home.index('<li><a href="bottles/one/"') < home.index('<li><a href="bottles/fresh/"')
    for path in ("shelf.md", "bottles/one.md"):
        page = plain_text(path).split("fresh")[0]
        assert "Expired: it was good until 5 Dec 2026. Discard it." in page
        assert "Next film: none, the bottle has expired" in page
        assert "left by the cautious figure" not in page
        assert "7:30" not in page.split('id="hb-bottle"')[0]


def test_a_pack_past_its_time_is_named_first_and_in_words_whatever_else_is_old() -> None:
    """Opened on 1 March 2025 and kept for a year, seen on 6 December 2026, beside an expired bottle and without one."""
    pack = "{chemical: old-salt, form: solid, pack: 100 g, left: 90 g, bought: 2025-02-01, opened: 2025-03-01}"
    keeping = "keeping: {sealed: 3 years, opened: 1 year, certainty: common practice}\n"
    files = {
        **TWO,
        "chemicals/old-salt.yml": chemical("old-salt", "[{id: solid, name: solid, formula: KBr}]") + keeping,
        "shelf.yml": TWO["shelf.yml"].replace("packs: []", f"packs: [{pack}]"),
    }
    for day in (date(2026, 12, 5), date(2026, 12, 6)):
        found = results(files, day)
        home = page_text(found, "index.md")
        assert re.search(r'past their keeping time: <a href="[^"]*old-salt[^"]*">old-salt</a>\.', home)
        said = "past its keeping time, which ended on 1 Mar 2026 (opened on 1 Mar 2025)"
        assert said in plain_text("out-of-date.md", found)
        line = next(line for line in plain_text("shelf.md", found).splitlines() if "old-salt" in line and said in line)
        assert line.index(said) < line.index("90 g of 100 g")
        assert not re.search(r"\d{4}-\d\d-\d\d", line)


def test_what_no_balance_weighs_is_lacking_in_milligrams_by_one_name(demo_results: Results) -> None:
    """Half a milligram of the free base, which is sold as the hydrochloride of the same name."""
    line = next(line for line in plain_text("shelf.md", demo_results).splitlines() if "free base" in line)
    assert "; 0.5 mg (in 4-Aminophenol stock solution 0.1 % w/v) of 4-Aminophenol, free base; " in line


def test_on_its_last_good_day_a_bottle_is_good() -> None:
    home = plain_text("index.md", results(TWO, date(2026, 12, 5)))
    assert "8 rolls left; good until 5 Dec 2026" in home
    assert "Expired" not in home


def test_an_expired_bottle_is_apart_from_what_is_out_of_date() -> None:
    """Half a year on: bottles, a price list and a rate, each counted and named as what it is."""
    files = TWO | {
        "prices/shop/supplier.yml": supplier(),
        "prices/shop/2026-11-01.yml": "date: 2026-11-01\noffers:\n"
        "  - {chemical: salt, form: solid, pack: 100 g, price: 5.00 EUR}\n",
        "exchange_rates.yml": f"rates:\n  - {{base: GBP, quote: EUR, rate: 1.2, date: 2026-11-01}}\n{SOURCE}\n",
    }
    found = results(files, date(2027, 6, 1))
    home = plain_text("index.md", found)
    assert re.search(
        r"Expired, to discard:</strong> <a [^>]*>bath, mixed \d+ \w+ 2026</a>, <a [^>]*>bath, mixed \d+ \w+ 2026</a>\.",
        home,
    )
    assert "Out of date: 1 price list, 1 exchange rate<" in home
    page = plain_text("out-of-date.md", found)
    bottles, others = page.split("## Out of date\n")
    assert "## Expired bottles: 2" in bottles
    assert "expired, was good until 5 Dec 2026" in bottles
    assert "bottle" not in others.split("## Next")[0]
    assert others.index("### 1 price list") < others.index("### 1 exchange rate")


def test_an_expired_bottle_is_no_bath_that_stands_and_no_time_of_a_schedule() -> None:
    assert "in a bottle already: bath" in plain_text("shelf.md", results(TWO, date(2026, 12, 20)))
    late = results(TWO, date(2026, 12, 21))
    assert "in a bottle already" not in plain_text("shelf.md", late)
    told = json.loads(re.search(r'id="hb-schedule">(.*?)</script>', page_text(late, "processes/pr.md"), re.S)[1])  # type: ignore[index]
    times = [one for one in told["steps"][0]["choices"] if one.get("bottle")]
    assert {(one["bottle"], one["old"]) for one in times} == {("one", True), ("fresh", True)}
    assert {one["expired"].replace("\u00a0", " ") for one in times} == {
        "expired, it was good until 5 Dec 2026",
        "expired, it was good until 20 Dec 2026",
    }


def test_the_figures_name_expired_bottles_and_have_them_first() -> None:
    bottles = json.loads(handbook_json(EXPIRED))["bottles"]
    assert [(one["id"], one["expired"]) for one in bottles] == [("one", True), ("fresh", False)]


def test_a_build_warns_of_an_expired_bottle_as_such() -> None:
    (warning,) = old_warnings(EXPIRED)
    assert str(warning) == (
        "formulas/shelf.yml:1:1: bottle one of 2026-11-01 has expired: it was good until 2026-12-05 "
        "(discard it, and take it out)"
    )
