"""A jar that cannot reach the strength is not chosen, counts as unsold, and the page says why."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest

from reckoner.calc.bath import Batch, BatchRow
from reckoner.calc.mixing.room import poured, rooms
from reckoner.calc.results import Results
from reckoner.pages.formula.rescale_data import rescale_data
from reckoner.pages.formula.weighing_view import weighing
from reckoner.problems import HandbookError
from reckoner.records.chemical import Chemical, Form
from reckoner.records.values import Strength
from reckoner.units import LITRE, parse_amount
from rescaled import at_volumes, writer_of
from small import SOURCE, chemical, formula, page_text, results, supplier

D = Decimal
#: Acetic acid at four strengths; densities at 20 °C as common tables of the aqueous acid have them.
FORMS = """[
  {id: glacial, name: glacial, state: liquid, formula: C2H4O2, strength: 99.8 % w/w, density: 1.049 g/mL},
  {id: of-60, name: 60 % solution, state: liquid, formula: C2H4O2, strength: 60 % w/w, density: 1.064 g/mL},
  {id: of-28, name: 28 % solution, state: liquid, formula: C2H4O2, strength: 28 % w/w, density: 1.036 g/mL},
  {id: of-10, name: 10 % solution, state: liquid, formula: C2H4O2, strength: 10 % w/w, density: 1.012 g/mL}]"""
GLYCOL = """[{id: pure, name: pure, state: liquid, formula: C3H8O2, strength: 99.5 % w/w, density: 1.036 g/mL},
  {id: half, name: half, state: liquid, formula: C3H8O2, strength: 50 % w/w, density: 1.04 g/mL}]"""
SALT = "[{id: solid, name: solid, formula: NaCl}]"


def priced(*offers: str) -> dict[str, str]:
    """A supplier's files; an offer is ``chemical form price`` with an assay behind, or none."""
    rows = "".join(
        f"  - {{chemical: {c}, form: {f}, pack: {'1 kg' if f == 'solid' else '1 L'}, price: {p} EUR"
        + (f", assay: {' '.join(rest)}" if rest else "")
        + "}\n"
        for c, f, p, *rest in (offer.split() for offer in offers)
    )
    return {
        "prices/test/supplier.yml": supplier(),
        "prices/test/2026-11-01.yml": f"date: 2026-11-01\n{SOURCE}\noffers:\n{rows}",
    }


def bath(ingredients: str, *offers: str, more: str = "", files: dict[str, str] | None = None) -> Results:
    """One formula ``bath`` of a litre, what is sold, and what else there is."""
    return results(
        {
            "chemicals/acid.yml": chemical("acid", FORMS, "acid"),
            "chemicals/glycol.yml": chemical("glycol", GLYCOL, "solvent"),
            "chemicals/salt.yml": chemical("salt", SALT),
            "solutions/x/bath.yml": formula("bath", ingredients, "stop bath", more),
            **priced(*offers),
            **(files or {}),
        }
    )


def test_a_jar_that_cannot_reach_the_strength_is_not_chosen_although_it_is_cheapest() -> None:
    worked = bath("[{chemical: acid, form: glacial, amount: 240 mL}]", "acid of-10 1", "acid of-60 90")
    (row, *_) = worked.formulas["bath"].cost.rows
    assert row.offer is not None and row.offer.offer.form == "of-60"
    assert "10\u00a0%" not in page_text(worked, "solutions/bath.md").split("## Mix")[0].split("Too weak")[0]


def test_the_page_says_why_and_what_would_do() -> None:
    """240 mL × 1.049 g/mL × 99.8 % is 251.3 g in a litre: 24 % × 1.031 g/mL gives 247.4 g, 25 % × 1.032 gives 258 g."""
    worked = bath("[{chemical: acid, form: glacial, amount: 240 mL}]", "acid of-10 1")
    cost = worked.formulas["bath"].cost
    assert cost.missing == ("acid",)
    for path in ("solutions/bath.md", "bench/bath.md"):
        page = page_text(worked, path).replace("\u00a0", " ")
        assert "10 % w/w is too weak: needs at least 25 % w/w" in page
        assert "2.40 L" not in page and "as bought" not in page


@pytest.mark.parametrize(("amount", "taken"), [("96.6 mL", True), ("96.7 mL", False)])
def test_just_below_and_just_above_what_has_room(amount: str, taken: bool) -> None:
    """10 % × 1.012 g/mL gives 101.2 g in a litre; of glacial acid that is 101.2 / (0.998 × 1.049) = 96.67 mL."""
    worked = bath(f"[{{chemical: acid, form: glacial, amount: {amount}}}]", "acid of-10 1")
    assert (not worked.formulas["bath"].cost.missing) is taken


def test_what_else_is_liquid_takes_room_too() -> None:
    """500 mL of glycol leave 500 mL for the acid: 60 mL glacial ask 62.8 g, 10 % gives 50.6 g in them, 13 % 66 g."""
    both = "[{chemical: acid, form: glacial, amount: 60 mL}, {chemical: glycol, form: pure, amount: 500 mL}]"
    worked = bath(both, "acid of-10 1", "glycol pure 9").formulas["bath"]
    assert [(weak.least.percent, weak.least.basis) for weak in worked.too_weak if weak.least] == [(D(13), "w/w")]
    assert worked.cost.missing == ("acid",)


def test_two_weak_jars_that_fit_alone_and_not_together() -> None:
    """60 mL glacial as 10 %: 620 mL; 250 mL glycol as 50 %: 495 mL. Either fits, both do not: the one that brings most
    water beyond the strongest is left out, and nothing runs over."""
    both = "[{chemical: acid, form: glacial, amount: 60 mL}, {chemical: glycol, form: pure, amount: 250 mL}]"
    weak, strong = ("acid of-10 1", "glycol half 1"), ("acid glacial 90", "glycol pure 90")
    assert chosen(bath(both, *weak[:1], strong[1])) == {"acid": "of-10", "glycol": "pure"}
    assert chosen(bath(both, strong[0], weak[1])) == {"acid": "glacial", "glycol": "half"}
    assert chosen(bath(both, *weak, *strong)) == {"acid": "glacial", "glycol": "half"}
    assert chosen(bath(both, *weak)) == {"acid": "", "glycol": "half"}


def chosen(worked: Results, formula_id: str = "bath") -> dict[str, str]:
    """The form that is bought of each chemical, water apart; empty where nothing for sale will do."""
    rows = worked.formulas[formula_id].cost.rows
    return {row.chemical: row.offer.offer.form if row.offer else "" for row in rows if row.chemical != "water"}


def test_the_assay_of_an_offer_decides() -> None:
    """400 mL of 60 % is a litre of 24 % of the same density, to the brim."""
    acid = "[{chemical: acid, form: of-60, amount: 400 mL}]"
    assert chosen(bath(acid, "acid of-60 1 23.9 % w/w")) == {"acid": ""}
    assert chosen(bath(acid, "acid of-60 1 24 % w/w")) == {"acid": "of-60"}


def test_an_alternative_is_taken_where_the_published_ingredient_is_sold_too_weak_only() -> None:
    either = "[{chemical: acid, form: glacial, amount: 240 mL, or: [{chemical: salt, form: solid, amount: 9 g}]}]"
    assert chosen(bath(either, "acid of-10 1", "salt solid 1")) == {"salt": "solid"}
    assert chosen(bath(either, "acid of-60 1", "salt solid 1")) == {"acid": "of-60"}
    assert chosen(bath(either, "acid of-10 1")) == {"acid": ""}


STOCK = formula("stock", "[{chemical: acid, form: glacial, amount: 240 mL}]", "stock solution")


def test_a_stock_solution_has_a_vessel_of_its_own() -> None:
    """A litre of bath would have room for its 10 mL of glacial acid as 10 %; the stock that holds them has not."""
    worked = bath("[{formula: stock, amount: 40 mL}]", "acid of-10 1", files={"solutions/x/stock.yml": STOCK})
    assert chosen(worked) == chosen(worked, "stock") == {"acid": ""}
    assert "needs at least 25\u00a0%" in page_text(worked, "solutions/bath.md").replace(" %", "\u00a0%")


def test_another_solvent_that_it_is_made_up_with() -> None:
    top_up = "make_up_with: {chemical: glycol, form: pure, amount: 990 mL}\n"
    salt = "[{chemical: salt, form: solid, amount: 9 g}]"
    assert chosen(bath(salt, "salt solid 1", "glycol half 1", more=top_up)) == {"salt": "solid", "glycol": ""}
    assert chosen(bath(salt, "salt solid 1", "glycol pure 1", more=top_up)) == {"salt": "solid", "glycol": "pure"}


PLAN = """
id: plan
name: plan
over: 3 months
wants: [{formula: bath, litres: 1 L}, {formula: weak, litres: 1 L}]
"""
WEAK = formula("weak", "[{chemical: acid, form: glacial, amount: 20 mL}]", "stop bath")
SHELF = "packs: [{chemical: acid, form: of-10, pack: 1 L, left: 1 L, bought: 2026-11-01}]\n"


def test_a_plan_buys_what_reaches_and_takes_the_weak_pack_for_the_weak_bath_only() -> None:
    """The shelf's litre of 10 % is enough for 20 mL glacial (207 mL), a thirteenth of what both baths take."""
    files = {"plans/plan.yml": PLAN, "solutions/x/weak.yml": WEAK, "shelf.yml": SHELF}
    worked = bath("[{chemical: acid, form: glacial, amount: 240 mL}]", "acid of-10 1", "acid of-60 90", files=files)
    (pool,) = [pool for pool in worked.plans["plan"].bought.pools if pool.pool.chemical == "acid"]
    assert [bought.offer.offer.form for bought in pool.bought] == ["of-60"]
    (taken,) = pool.shelf
    assert abs(taken.share - D(20) / D(260)) < D("1e-9") and abs(taken.amount - D("206.9")) < 1
    assert worked.mixable["bath"].litres == 0 and worked.mixable["weak"].litres > 4
    assert worked.mixable["bath"].missing == ("acid",)


def test_a_plan_that_nothing_reaches_has_no_basket_and_says_why() -> None:
    only = PLAN.replace(", {formula: weak, litres: 1 L}", "")
    files = {"plans/plan.yml": only, "shelf.yml": SHELF}
    worked = bath("[{chemical: acid, form: glacial, amount: 240 mL}]", "acid of-10 1", files=files)
    assert worked.plans["plan"].bought.missing == ("acid",)
    page = page_text(worked, "plans/plan.md").replace("\u00a0", " ")
    assert page.count("10 % w/w is too weak: needs at least 25 % w/w") == 2


def volume(batch: Batch) -> Decimal:
    """mL in the vessel before it is made up."""

    def of(row: BatchRow) -> Decimal:
        exact, unit = (row.jar.exact, row.jar.measured.unit) if row.jar else (row.row.exact, row.row.line.unit)
        return exact if unit == "mL" and row.costed else D(0)

    return (batch.table.start_water or D(0)) + sum((of(row) for row in batch.rows), D(0))


@pytest.mark.parametrize("seed", range(300))
def test_no_choice_of_jars_overfills_the_vessel(seed: int) -> None:
    """Drawn lists: whichever jar each line takes of those with room, they fit; and what is left out would not."""
    draw = random.Random(seed)
    lines = []
    for _ in range(draw.randint(1, 5)):
        written = D(draw.randint(0, 300))
        lines.append(poured(written, [written * D(draw.choice(["0.6", "1", "1.7", "4", "9"])) for _ in range(3)]))
    room = rooms(lines)
    kept = [
        [jar for jar in line.jars if jar <= at_most] or [line.written]
        for line, at_most in zip(lines, room, strict=True)
    ]
    if sum(line.written for line in lines) <= LITRE:
        assert all(sum(poured_in) <= LITRE + D("0.001") for poured_in in product(*kept))
    for line, jars, at_most in zip(lines, kept, room, strict=True):
        others = sum(some[-1] for some in kept if some is not jars)
        assert all(jar + others > LITRE for jar in line.jars if jar > at_most)


def as_sold(demo: Results, form_of: Callable[[Chemical], Form], assay: Strength | None) -> Results:
    """The demo where of each chemical one form is sold, liquids at an assay of their own, and nothing else."""
    catalogue = demo.catalogue
    (listed, *_) = catalogue.price_lists
    (first, *_) = listed.prices.offers
    offers = []
    for chemical_id, record in catalogue.chemicals.items():
        form = form_of(record)
        pack = parse_amount("1 kg" if form.state == "solid" else "1 L")
        own = assay if form.strength and form.strength.basis == "w/w" and form.state == "liquid" else None
        offers.append(first.model_copy(update={"chemical": chemical_id, "form": form.id, "pack": pack, "assay": own}))
    prices = listed.prices.model_copy(update={"offers": tuple(offers), "complete": True})
    shopless = replace(catalogue, price_lists=(replace(listed, prices=prices),), shelf=None)
    return at_volumes(replace(demo, catalogue=shopless), catalogue.formulas, ("250", "1000", "5000"))


@pytest.mark.parametrize(
    ("choice", "assay", "refuses"),
    [*((i, None, False) for i in range(5)), (0, Strength(D(2), "w/w"), True), (0, Strength(D("0.5"), "w/w"), True)],
)
def test_every_formula_and_every_form_of_every_chemical(
    demo_results: Results, choice: int, assay: Strength | None, refuses: bool
) -> None:
    """No list pours more than the volume, none starts with less than no water, and what is too weak is said."""
    worked = as_sold(demo_results, lambda sold: sorted(sold.forms, key=strength_of)[choice % len(sold.forms)], assay)
    writer, refused = writer_of(worked), 0
    for formula_id, result in worked.formulas.items():
        for batch in result.batches:
            assert (batch.table.start_water or D(0)) >= 0
            assert volume(batch) <= batch.table.volume.base * D("1.000001"), (formula_id, choice)
        start = json.loads(rescale_data(result, writer))["start"]
        assert start is None or D(start) >= 0
        refused += len(weighing(result, writer).too_weak)
        missing = {row.chemical for row in result.cost.rows if row.weak}
        assert missing <= set(result.cost.missing)
        assert missing <= {weak.jar.chemical.id for weak in result.too_weak}
    assert bool(refused) is refuses


def strength_of(form: Form) -> tuple[bool, Decimal]:
    """Liquids first, the weakest of them first."""
    return form.state == "solid", form.strength.percent if form.strength else D(100)


VINEGAR = """[{id: weak, name: weak, state: liquid, formula: C2H4O2, strength: 5 % v/v, density: 1.006 g/mL},
  {id: glacial, name: glacial, state: liquid, formula: C2H4O2, strength: 99.5 % v/v, density: 1.05 g/mL}]"""


@pytest.mark.parametrize(("amount", "form"), [("40 mL", "weak"), ("60 mL", "")])
def test_by_volume_too(amount: str, form: str) -> None:
    """5 % v/v makes a litre of what 50.3 mL of 99.5 % v/v hold."""
    files = {"chemicals/spirit.yml": chemical("spirit", VINEGAR, "acid")}
    worked = bath(f"[{{chemical: spirit, form: glacial, amount: {amount}}}]", "spirit weak 1", files=files)
    assert chosen(worked) == {"spirit": form}
    assert form or "5 % v/v is too weak: needs at least 6 % v/v" in page_text(worked, "solutions/bath.md")


@pytest.mark.parametrize(
    ("ingredients", "fault"),
    [
        ("[{chemical: salt, form: solid, amount: 9 g, or: [{chemical: acid, form: of-10, amount: 1100 mL}]}]", True),
        ("[{chemical: salt, form: solid, amount: 9 g, or: [{chemical: acid, form: of-10, amount: 900 mL}]}]", False),
        ("[{chemical: acid, form: glacial, amount: 900 g}, {chemical: glycol, form: pure, amount: 200 g}]", True),
        ("[{chemical: acid, form: glacial, amount: 800 g}, {chemical: glycol, form: pure, amount: 200 g}]", False),
    ],
)
def test_what_is_written_has_room_too(ingredients: str, fault: bool) -> None:
    """900 g of glacial acid are 858 mL, 800 g are 763 mL; 200 g of glycol are 193 mL."""
    if not fault:
        bath(ingredients, "salt solid 1")
        return
    with pytest.raises(HandbookError, match="the liquids add up to more than the 1 L"):
        bath(ingredients, "salt solid 1")
