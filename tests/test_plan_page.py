"""A plan's page says what was asked for, adds films up to litres, and does not promise what dies or is another's."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from decimal import Decimal
from html import unescape

from reckoner.calc.results import Results
from reckoner.outputs.export import handbook_json
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from small import SOURCE, chemical, formula, page_text, process, results, supplier

FILM = f"""formats:
  - {{id: long, name: a long roll (whole), length: 1.475 m, width: 35 mm, counts_as: 2.355, {SOURCE}}}
  - {{id: roll, name: a roll, length: 1.475 m, width: 35 mm, counts_as: 1, {SOURCE}}}
"""
CAPACITY = "capacity: [{{does: {} rolls, per: 1 L, certainty: common practice}}]\n"
WEEK = "keeping: [{state: part-full bottle, time: 7 days, certainty: common practice}]\n"
SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")
KEEPS = "keeping: {{opened: {}, certainty: common practice}}\n"
SHELF = "packs: [{chemical: salt, form: solid, pack: 1 kg, left: 500 g, bought: 2026-11-01}]\n"


def handbook(capacity: str = "4", keeping: str = "", opened: str = "", **plans: str) -> Results:
    """One bath of 100 g a litre; packs of 1 kg at 5.00; plans by id, each with what follows its name."""
    files = {
        "chemicals/salt.yml": SALT + (KEEPS.format(opened) if opened else ""),
        "solutions/bath.yml": formula(
            "bath", "[{chemical: salt, form: solid, amount: 100 g}]", more=CAPACITY.format(capacity) + keeping
        ),
        "processes/pr.yml": process("bath"),
        "film_formats.yml": FILM,
        "shelf.yml": SHELF,
        "prices/shop/supplier.yml": supplier(),
        "prices/shop/2026-11-01.yml": "date: 2026-11-01\n"
        "offers: [{chemical: salt, form: solid, pack: 1 kg, price: 5.00 EUR}]\n",
        "prices/other/supplier.yml": supplier().replace("Test supplier (invented)", "Other shop"),
    }
    files |= {f"plans/{i}.yml": f"id: {i}\nname: plan {i}\n{text}" for i, text in plans.items()}
    return results(files)


def section(worked: Results, plan: str, title: str) -> str:
    """The words of one section of a plan's page."""
    return section_of(page_text(worked, f"plans/{plan}.md"), title)


def section_of(markdown: str, title: str) -> str:
    """The words of one section of a page."""
    _, _, behind = markdown.partition(f"## {title}\n")
    assert behind, title
    words = unescape(re.sub(r"<[^>]+>", "", re.split(r"^## ", behind, flags=re.MULTILINE)[0]))
    return re.sub(r"\s*\n\s*", "\n", words.replace("\u00a0", " "))


FILMS = "wants: [{process: pr, films: [{format: long, count: 18}, {format: roll, count: 6}]}]\nuse_shelf: no\n"


def test_films_add_up_to_rolls_and_whole_films_to_litres() -> None:
    """18 × 2.355 = 42.39, and 6 are 48.39. A litre does 4: one long film, with room for one roll, or four rolls.

    48.39 ÷ 4 would be 13 litres; but each long film takes one by itself, and the rolls go in beside: 18.
    """
    said = section(handbook(a=f"over: 12 months\n{FILMS}"), "a", "What is wanted")
    assert "pr: 18 × a long roll; 6 × a roll" in said
    lines = re.findall(r"each: ([\d.]+) rolls", said)
    total = re.search(r"Together 24 films, ([\d.]+) rolls", said)
    assert total is not None
    assert sum(map(Decimal, lines)) == Decimal(total[1]) == Decimal("48.39")
    assert "bath: 1 × a long roll in a batch or 4 × a roll in a batch; " in said
    assert "one batch is shared by up to 4 tankfuls, one after another: 18 batches of 1 L, 18 L" in said


def test_batches_that_are_not_full_say_why() -> None:
    """A bath that keeps a week: a roll a quarter fills no batch of four; four batches, each a quarter full."""
    text = "over: 12 months\nwait: 1 months\nwants: [{process: pr, films: [{format: roll, count: 4}]}]\nuse_shelf: no\n"
    worked = handbook("4", WEEK, a=text)
    bath = worked.plans["a"].bought.baths[0]
    assert (bath.batches, bath.undone) == (4, 4)
    assert "last batch" not in section(worked, "a", "What is mixed")
    assert "4 rolls a litre as recorded, 1 in this plan" in section(worked, "a", "What is mixed")


def test_the_plan_of_the_club_says_why_it_mixes_more_than_its_films_fill(demo_pages: Mapping[str, str]) -> None:
    """By hand: 18 cartridges, one a batch, and 6 rolls, three a batch, fill 18 + 2 = 20 batches; the plan has 24.

    A roll comes every two months and its batch is poured away: 6 batches a third full are 4 of 24 undone, 17 %.
    """
    plan = demo_pages["plans/club-year.md"]
    wanted = section_of(plan, "What is wanted")
    assert "24 batches of 1 L, 24 L. 20 would do if every batch were full" in wanted
    mixed = section_of(plan, "What is mixed")
    assert "24 batches; 6 of the 24 batches are not full of film, 17 % of all undone; 4 rolls a litre" in mixed


def test_a_quarter_of_a_year_four_times_is_a_year() -> None:
    """20 rolls in a year that wait three months are sessions of 5, four batches: the last digit makes no fifth."""
    wants = "over: 12 months\nwants: [{process: pr, films: [{format: roll, count: 20}]}]\nuse_shelf: no\n"
    worked = handbook("20", WEEK, a=wants)
    assert worked.plans["a"].bought.baths[0].batches == 4
    said = section(worked, "a", "What is wanted")
    assert "20 × a roll in a batch; one batch is shared by up to 20 tankfuls, one after another; " in said
    assert "too old before it is spent: 4 batches of 1 L, 4 L" in said
    assert "too old before it is spent, 75 % of it poured away undone" in section(worked, "a", "What is mixed")


def test_a_part_of_a_session_is_another_session() -> None:
    """18 rolls in a year come 4.5 to a quarter: whole films make sessions of 4, so that a fifth does the last two."""
    wants = "over: 12 months\nwants: [{process: pr, films: [{format: roll, count: 18}]}]\nuse_shelf: no\n"
    assert handbook("20", WEEK, a=wants).plans["a"].bought.baths[0].batches == 5


def test_a_bath_is_too_old_only_where_something_is_poured_away() -> None:
    """Sessions of 4 spend every batch of 4, however short it keeps: of 12 rolls nothing is poured away."""
    wants = "over: 12 weeks\nwants: [{{process: pr, films: [{{format: roll, count: {}}}]}}]\nuse_shelf: no\n"
    worked = handbook("4", WEEK, a=wants.format(12), b=wants.format(10), c=wants.format(3))
    mixed = {plan: section(worked, plan, "What is mixed") for plan in "abc"}
    assert not any("too old" in said for said in mixed.values())
    assert "3 batches; spent by the film; 4 rolls a litre; full cost" in mixed["a"]
    assert "3 batches; spent by the film but for the last batch, 17 % of all undone" in mixed["b"]
    assert "1 batch; more than all the film needs, 25 % of it undone" in mixed["c"]


def test_what_else_a_plan_says_is_told() -> None:
    text = (
        "over: 6 months\nwants: [{formula: bath, litres: 3 L}]\navoid: [other]\nbudget: 40.00 EUR\ncollect: yes\n"
        "nothing_after: yes\nuse_shelf: no\ngear: [{name: a balance, price: 19.00 EUR}]\n"
    )
    said = section(handbook(a=text), "a", "What is wanted")
    assert "bath: 3 L" in said
    assert "Over: 6 months, and then nothing more is mixed" in said
    assert "Avoided suppliers: Other shop (invented)" in said
    assert "Fetched from shops: yes, where an offer is not sent" in said
    assert "Shelf: is left alone" in said
    assert "Budget: €40.00" in said
    assert "Gear, bought once and in none of the sums: a balance, €19.00" in said
    assert "From films to litres" not in said


def test_a_pack_that_two_plans_count_on_is_told_on_both() -> None:
    """500 g are left; 3 L and 4 L take 300 g and 400 g of it, 700 g together. A third leaves the shelf alone."""
    litres = "over: 1 months\nwants: [{{formula: bath, litres: {} L}}]\n"
    worked = handbook(a=litres.format(3), b=litres.format(4), c=f"{litres.format(1)}use_shelf: no\n")
    assert "“plan b” counts on this pack too: 700 g together, more than it holds" in section(
        worked, "a", "From the shelf"
    )
    assert "“plan a” counts on this pack too: 700 g together" in section(worked, "b", "From the shelf")
    worked = handbook(a=litres.format(3), b=litres.format(1))
    assert "400 g together, which it holds" in section(worked, "a", "From the shelf")
    assert "counts on this pack" not in section(handbook(a=litres.format(3)), "a", "From the shelf")


def test_a_left_over_is_promised_as_far_as_it_lives() -> None:
    """3 L of a kilo leave 700 g. Over 70 days, keeping 104 days: 34 days are left, 300 × 34 / 70 = 146 g, 1.5 L."""
    plan = "over: 70 days\nwants: [{formula: bath, litres: 3 L}]\nuse_shelf: no\n"
    said = section(handbook(opened="104 days", a=plan), "a", "What is left over")
    assert (
        "salt: 700 g; at this rate about 150 g of it is used before it expires on 9 Mar 2027, enough for 1.5 L" in said
    )
    said = section(handbook(opened="60 days", a=plan), "a", "What is left over")
    assert "salt: 700 g; expires on 24 Jan 2027, by the end of the plan, so none of it is used" in said
    said = section(handbook(opened="2 years", a=f"{plan}nothing_after: yes\n"), "a", "What is left over")
    assert "salt: 700 g; nothing is mixed after the plan, so none of it is used" in said
    assert "salt: 700 g, enough for 7 L more of bath" in section(handbook(a=plan), "a", "What is left over")
    assert "salt: 700 g, enough for 7 L" in section(handbook(opened="2 years", a=plan), "a", "What is left over")


def test_a_plan_that_nothing_fills_has_no_sums() -> None:
    """Neither on its page nor in the JSON: nothing is for sale, and 0.00 would read as free."""
    worked = handbook(a=f"over: 12 months\navoid: [shop]\n{FILMS}")
    text = page_text(worked, "plans/a.md")
    assert "there is no basket, and no sum is given" in text
    assert "0.00" not in text
    assert "## What it costs" not in text
    exported = next(plan for plan in json.loads(handbook_json(worked))["plans"] if plan["id"] == "a")
    assert (exported["to_start"], exported["all_in"], exported["per_roll"]) == (None, None, {})
    assert [bath["all_in"] for bath in exported["baths"]] == [None]


def test_duty_and_tax_that_are_added_are_told() -> None:
    """What a list leaves out is on top of its prices, duty before tax; what it includes is said to be included."""
    offer = "date: 2026-11-01\noffers: [{chemical: salt, form: solid, pack: 1 kg, price: 5.00 EUR}]\n"
    told = {}
    for name, terms in {
        "both": ("vat_included: no", "vat: 20 %\nduty: 6.5 %"),
        "duty": ("vat_included: no", "vat: 0 %\nduty: 6.5 %"),
        "none": ("vat_included: no", "vat: 0 %"),
        "in": ("vat_included: yes", "vat: 20 %"),
    }.items():
        shop = supplier().replace("vat_included: yes", terms[0]).replace("vat: 20 %", terms[1])
        shown = PageWriter(
            results({"chemicals/salt.yml": SALT, "prices/s/supplier.yml": shop, "prices/s/2026-11-01.yml": offer}),
            *(Display("en_GB"), Links("plans/a.md")),
        )
        told[name] = shown.taxes(shown.results.offers["salt"])[0].removeprefix("Test supplier (invented), Nowhere: ")
    assert told == {
        "both": "6.5 % duty and 20 % VAT added to the listed price",
        "duty": "6.5 % duty added to the listed price",
        "none": "nothing added, no VAT",
        "in": "listed prices include VAT",
    }
