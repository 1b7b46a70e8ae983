"""The figures of the exported JSON, held against a second calculation that shares no line with the core."""

from __future__ import annotations

import ast
import json
from collections import Counter
from copy import deepcopy
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from independent.bench import Bench
from independent.figures import CENT, Figure, Worked, differences, told, worked
from independent.reading import half_up, mass, money, one
from site_build import ROOT, Site

HERE = Path(__file__).parent
DAY = "2026-11-25"


@cache
def bench() -> Bench:
    return Bench(ROOT / "formulas", DAY)


@cache
def ours() -> Worked:
    return worked(bench())


def test_nothing_of_the_core_is_used() -> None:
    """Else an error could stand on both sides."""
    for path in (HERE / "independent").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            allowed = {"__future__", "collections", "csv", "dataclasses", "fractions", "functools", "independent"}
            assert {name.split(".")[0] for name in names} <= {*allowed, "pathlib", "re", "typing", "yaml"}, path.name


def test_every_amount_and_every_cost_is_the_same(site: Site) -> None:
    assert site.figures["today"] == DAY
    assert differences(ours(), told(site.figures)) == []


def test_how_much_was_compared() -> None:
    kinds = Counter(at.rsplit(".", 1)[-1] for at, figure in ours().items() if isinstance(figure, Figure))
    jars = [at for at in ours() if at.endswith("jar.amount_exact")]
    offered = [at for at, figure in ours().items() if at.startswith("formulas.") and figure and at.endswith(".used")]
    assert kinds["amount_rounded"] == kinds["amount_exact"] > 1900
    assert len(jars) > 200
    assert len(offered) > 350
    assert kinds["used_per_litre"] == kinds["to_start_rounded"] > 80
    assert len(bench().formulas) == len({at.split(".")[1] for at in ours() if at.startswith("formulas.")}) > 90


#: Path of one figure, and what is written in its place; each differs as little as its figure can be told.
SLIPS: list[tuple[str, str]] = [
    ("batches.0.rows.0.amount_rounded", "13.51"),
    ("batches.0.rows.0.amount_exact", "13.500000001"),
    ("batches.5.rows.3.per_litre", "1.000000001"),
    ("batches.0.rows.0.balance", "kitchen balance"),
    ("batches.0.rows.0.jar.amount_rounded", "15.8"),
    ("batches.0.rows.0.jar.amount_exact", "15.795"),
    ("batches.0.rows.0.jar.form", "anhydrous"),
    ("batches.1.start_water", "450.001"),
    ("cost.rows.0.used", "0.4"),
    ("cost.rows.0.packs", "2"),
    ("cost.rows.0.price_date", "2026-11-10"),
    ("cost.rows.0.to_start", "3.5"),
    ("cost.runs_out_first", "potassium-bromide"),
]


@pytest.mark.parametrize(("path", "slip"), SLIPS)
def test_one_wrong_figure_is_reported(path: str, slip: str, site: Site) -> None:
    wrong = deepcopy(told(site.figures))
    at = f"formulas.bw-caffenol-bromide.{path}"
    assert wrong[at] != slip
    wrong[at] = slip
    assert [said.split(":")[0] for said in differences(ours(), wrong) if at in said] == [at]


def test_a_figure_one_step_off_is_reported_wherever_it_stands(site: Site) -> None:
    """Every rounded amount of the handbook, the jars' among them, moved by one step of its instrument."""
    right = told(site.figures)
    steps = {at: figure.step for at, figure in ours().items() if isinstance(figure, Figure) and figure.step}
    for way in (1, -1):
        moved = {at: str(Fraction(right[at]) + way * step) for at, step in steps.items() if right[at] is not None}
        said = {line.split(":")[0] for line in differences(ours(), {**right, **moved})}
        assert said == set(moved)


def test_a_missing_row_is_reported(site: Site) -> None:
    short: Any = json.loads(json.dumps(site.figures))
    del short["formulas"][0]["batches"][0]["rows"][0]
    assert differences(ours(), told(short))


def test_the_orders_of_every_plan_add_up(site: Site) -> None:
    """Packs at the price of their offer, each order's goods and delivery, and the whole, to the cent."""
    offers = {offer.id: offer for found in bench().offers.values() for offer in found}
    lines = 0
    for plan in site.figures["plans"]:
        whole = Fraction(0)
        for order in plan["orders"]:
            sums = [line["packs"] * half_up(offers[line["offer"]].price, CENT) for line in order["lines"]]
            assert sums == [Fraction(line["sum"]) for line in order["lines"]], (plan["id"], order["supplier"])
            assert sum(sums) == Fraction(order["goods"])
            assert delivery(order, sum(sums, Fraction(0))) == Fraction(order["delivery"]), (plan["id"], order)
            whole += Fraction(order["goods"]) + Fraction(order["delivery"])
            lines += len(sums)
        assert whole == Fraction(plan["to_start"])
    assert lines > 40


def delivery(order: Any, goods: Fraction) -> Fraction:
    """What an order pays for being sent."""
    terms = one(ROOT / "formulas/prices" / order["supplier"] / "supplier.yml").get("delivery")
    if order["fetched"] or not terms:
        return Fraction(0)
    charge, currency = money(terms["charge"])
    factor = bench().charged(order["supplier"]) * bench().rate(currency)
    free = "free_from" in terms and goods >= money(terms["free_from"])[0] * factor
    return Fraction(0) if free else half_up(charge * factor, CENT)


@pytest.mark.parametrize(
    ("formula", "grams"),
    [("Na2SO3", "126.04"), ("Na2CO3.10H2O", "286.14"), ("K2CO3.1.5H2O", "165.23"), ("Ca(OH)2", "74.09")],
)
def test_molar_masses_of_the_second_calculation(formula: str, grams: str) -> None:
    """Masses as printed on labels of reagents (recalled)."""
    assert half_up(mass(formula), CENT) == Fraction(grams)
