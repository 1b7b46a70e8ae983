"""What a bath does at least and at most, over every way of use recorded, and the condition beside each figure."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reckoner.calc.film.capacity import Doing, doing, doing_again, set_capacity
from reckoner.calc.film.per_roll import formula_per_roll, process_per_roll
from reckoner.calc.results import Results
from reckoner.pages.shared.capacity_words import least, span
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.catalogue import Catalogue
from small import SOURCE, chemical, formula, page_text, process, results, supplier

D = Decimal
#: A stock developer as published: alone, with the time lengthened, and 120 mL for a roll where it is diluted.
THREE_WAYS = (
    "{does: 4 rolls, per: 1 L, how: without replenishment, certainty: from memory}",
    "{does: 10 rolls, per: 1 L, how: with the time lengthened for each film, certainty: from memory}",
    "{does: 1 roll, per: 120 mL, how: when diluted 1+1, certainty: common practice}",
)
KEEPS = "keeping: [{state: part-full bottle, time: 2 years, certainty: common practice}]\n"


def capacity(*ways: str) -> str:
    return f"capacity: [{', '.join(ways)}]\n" if ways else ""


def handbook(*ways: str, **more: str) -> Results:
    """100 g of a salt a litre, 10 EUR a kilo: a litre uses 1.00 EUR and 0.004 of water."""
    salt = "[{chemical: salt, form: solid, amount: 100 g}]"
    return results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/developer.yml": formula("developer", salt, "film developer", capacity(*ways) + KEEPS),
            "solutions/fixer.yml": formula("fixer", salt, "fixer", KEEPS),
            "processes/pr.yml": process("developer", "fixer"),
            "prices/one/supplier.yml": supplier(),
            "prices/one/2026-11-01.yml": "date: 2026-11-01\noffers:\n"
            "  - {chemical: salt, form: solid, pack: 1 kg, price: 10 EUR}\n",
            **more,
        }
    )


def writer(found: Results) -> PageWriter:
    return PageWriter(found, Display("en_GB"), Links("a.md"))


@pytest.mark.parametrize(
    ("ways", "expected"),
    [
        # 4, 10 and 1 / 0.12 = 8.33 rolls a litre.
        (THREE_WAYS, Doing(D(4), D(10), "without replenishment", "with the time lengthened for each film")),
        (THREE_WAYS[::-1], Doing(D(4), D(10), "without replenishment", "with the time lengthened for each film")),
        # Spans: the least of the low ends, 8 against 1 / 0.3 = 3.33; the most of the high ones, 12 against 3.33.
        (
            (
                "{does: 8-12 rolls, per: 1 L, how: reused, certainty: common practice}",
                "{does: 1 roll, per: 300 mL, how: used once, certainty: common practice}",
            ),
            Doing(1 / D("0.3"), D(12), "used once", "reused"),
        ),
        # One way inside the other: 6-20 holds 8-10, and tells both conditions.
        (
            (
                "{does: 8-10 rolls, per: 1 L, how: once, certainty: common practice}",
                "{does: 6-20 rolls, per: 1 L, how: replenished, certainty: common practice}",
            ),
            Doing(D(6), D(20), "replenished", "replenished"),
        ),
        (("{does: 20 rolls, per: 1 L, certainty: common practice}",), Doing(D(20), D(20))),
        ((), None),
    ],
    ids=["three ways", "in any order", "spans", "one inside another", "one", "none"],
)
def test_the_least_and_the_most_of_all_ways(ways: tuple[str, ...], expected: Doing | None) -> None:
    assert doing(handbook(*ways).catalogue.formulas["developer"]) == expected


def test_the_bath_that_does_least_gives_out_first_whatever_it_is_called() -> None:
    salt = "[{chemical: salt, form: solid, amount: 100 g}]"
    four = {"solutions/fixer.yml": formula("fixer", salt, "fixer", capacity(THREE_WAYS[0]))}
    ten = handbook(THREE_WAYS[1], **four).catalogue.formulas
    assert set_capacity([ten["developer"], ten["fixer"]]).first_out == "fixer"
    assert set_capacity([ten["fixer"], ten["developer"]]).first_out == "fixer"


def test_a_bottle_that_is_kept_counts_by_its_use_again() -> None:
    """4 rolls a litre kept, 8.33 poured away after each; where only one use is recorded, that counts."""
    once = THREE_WAYS[2].replace("}", ", once: yes}")
    both = handbook(THREE_WAYS[0], once).catalogue.formulas["developer"]
    assert doing_again(both) == Doing(D(4), D(4), "without replenishment", "without replenishment")
    assert doing_again(handbook(once).catalogue.formulas["developer"]) == doing(
        handbook(once).catalogue.formulas["developer"]
    )


def test_a_roll_costs_by_the_least_and_by_the_most() -> None:
    """1.004 EUR a litre over 4 rolls is 0.251, over 10 is 0.1004; the fixer has no capacity and follows: twice that."""
    found = handbook(*THREE_WAYS)
    developer = found.formulas["developer"]
    roll = formula_per_roll(developer.formula, developer.cost)
    assert roll and (roll.cautious.number, roll.generous.number) == (D("0.251"), D("0.1004"))
    baths = [one.formula for one in found.formulas.values()]
    both = process_per_roll(baths, {i: one.cost for i, one in found.formulas.items()})
    assert both and (both.cautious.number, both.generous.number) == (D("0.502"), D("0.2008"))
    assert set_capacity(baths).cautious == 4
    assert (roll.followed, both.followed) == ((), ("fixer",))
    page = page_text(found, "solutions/developer.md")
    assert "€0.10 to €0.25" in page
    assert (
        "A roll is counted with at least 4\u00a0rolls a litre (without replenishment), at most 10\u00a0rolls "
        "(with the time lengthened for each film)." in page
    )


def test_a_plan_mixes_for_the_least_and_says_on_which_condition() -> None:
    """12 rolls at 4 a litre are three batches; at 10 a litre they would be two."""
    plan = (
        "id: p\nname: a plan\nover: 12 months\nwait: 12 months\n"
        "wants: [{process: pr, films: [{format: roll, count: 12}]}]\n"
    )
    film = f"formats:\n  - {{id: roll, name: a roll, length: 1.475 m, width: 35 mm, counts_as: 1, {SOURCE}}}\n"
    found = handbook(*THREE_WAYS, **{"plans/p.yml": plan, "film_formats.yml": film})
    assert [(bath.formula, bath.batches) for bath in found.plans["p"].bought.baths] == [("developer", 3), ("fixer", 3)]
    assert "4\u00a0rolls a litre (without replenishment)" in page_text(found, "plans/p.md")


@pytest.mark.parametrize(
    ("does", "said"),
    [
        (Doing(D(20), D(20)), "20\u00a0rolls a litre"),
        (Doing(D(10), D(10), "with the time lengthened.", "with the time lengthened."), None),
        (Doing(D(15), D(20)), "15 to 20\u00a0rolls a litre"),
        (Doing(1 / D("0.3"), D(12), "", "reused"), "at least 3.33\u00a0rolls a litre, at most 12\u00a0rolls (reused)"),
    ],
)
def test_words_for_what_a_litre_does(does: Doing, said: str | None) -> None:
    assert span(does, writer(handbook())) == (said or "10\u00a0rolls a litre (with the time lengthened)")
    assert least(Doing(D(1), D(2), "used once"), writer(handbook())) == "1\u00a0roll a litre (used once)"


def test_the_demonstration_counts_on_four_rolls_of_the_borax_developer(demo: Catalogue) -> None:
    found = doing(demo.formulas["bw-mq-borax"])
    assert found is not None
    assert (found.cautious, found.cautious_how) == (4, "without replenishment")
    assert (found.generous, found.generous_how) == (10, "with the time lengthened for each film")
