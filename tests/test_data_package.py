"""The tables that are given away: each read back by the csv module, all of them judged by the Data Package's reader."""

from __future__ import annotations

import csv
import io
import json
from decimal import Decimal
from pathlib import Path

import pytest
from frictionless import Package, system, validate

from reckoner.audience import CLUB, for_audience
from reckoner.calc.results import Results, work_out
from reckoner.outputs.data_files import csv_tables, data_files
from reckoner.outputs.export_lists import list_table
from reckoner.outputs.tables import Table
from reckoner.units import LITRE
from small import chemical, formula, load, results, supplier

D = Decimal
SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}, {id: wet, name: wet, formula: NaCl.2H2O}]")
SHOP = {
    "chemicals/salt.yml": SALT,
    "prices/shop/supplier.yml": supplier(),
    "prices/shop/2026-11-01.yml": (
        "date: 2026-11-01\noffers: [{chemical: salt, form: wet, pack: 1 kg, price: 10.00 EUR}]\n"
    ),
}


def read(table: Table) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.csv, newline=""), strict=True))


def lists(found: Results, path: str) -> list[dict[str, str]]:
    return read(next(table for table in csv_tables(found) if table.path == path))


def written(found: Results, folder: Path) -> Path:
    """The site's data files as a host has them."""
    for path, text in data_files(found):
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, "utf-8", newline="")
    return folder / "data" / "datapackage.json"


def faults(package: Path) -> list[str]:
    with system.use_context(trusted=True):
        return [str(row) for row in validate(str(package)).flatten(["type", "title", "rowNumber", "note"])]


def test_every_table_fits_its_schema(demo_results: Results, tmp_path: Path) -> None:
    package = written(demo_results, tmp_path)
    assert faults(package) == []
    described = Package(str(package))
    given = {path.relative_to(package.parent).as_posix() for path in package.parent.rglob("*.csv")}
    assert {resource.path for resource in described.resources} == given
    assert {f"formulas/{i}.csv" for i in demo_results.formulas} | {f"plan-{i}.csv" for i in demo_results.plans} == given


@pytest.mark.parametrize("kind", ["type-error", "missing-label"])
def test_a_wrong_table_is_found(tmp_path: Path, kind: str) -> None:
    """Else the reader above might judge nothing."""
    bath = formula("bath", "[{chemical: salt, form: solid, amount: 100 g}]")
    package = written(results({**SHOP, "solutions/bath.yml": bath}), tmp_path)
    assert faults(package) == []
    file = package.parent / "formulas" / "bath.csv"
    lines = file.read_text("utf-8").splitlines()
    if kind == "type-error":
        lines[1] = "much" + lines[1][lines[1].index(",") :]
    else:
        lines[0] = lines[0].rpartition(",")[0]
    file.write_text("\r\n".join(lines) + "\r\n", "utf-8", newline="")
    assert any(kind in fault for fault in faults(package))


def test_every_column_says_what_it_is(demo_results: Results, tmp_path: Path) -> None:
    described = json.loads(written(demo_results, tmp_path).read_text("utf-8"))
    for resource in described["resources"]:
        fields = {field["name"]: field for field in resource["schema"]["fields"]}
        assert all(field["type"] in {"string", "integer", "number", "date"} for field in fields.values())
        assert all(field["description"] for field in fields.values())
        money = {name for name in ("used cost", "price each", "sum") if name in fields}
        assert money
        assert {fields[name]["currency"] for name in money} == {"EUR"}
        assert fields.get("batch", {"unit": "mL"})["unit"] == "mL"


def test_a_line_s_cost_is_of_the_jar_and_of_the_batch() -> None:
    """100 g NaCl a litre; from NaCl.2H2O (94.472 / 58.443) 161.648 g at 1 ct a gram: 1.6165 EUR, half for half."""
    found = results({**SHOP, "solutions/bath.yml": formula("bath", "[{chemical: salt, form: solid, amount: 100 g}]")})
    half, whole = [row for row in lists(found, "formulas/bath.csv") if row["part"] == "ingredient"]
    assert (half["batch"], half["amount exact"], half["amount rounded"], half["unit"]) == ("500", "50", "50", "g")
    assert (half["order"], half["chemical"], half["id"], half["form"]) == ("1", "salt", "salt", "solid")
    assert (half["jar form"], whole["jar unit"], whole["jar rounded"]) == ("wet", "g", "161.6")
    assert abs(D(whole["used cost"]) - D("1.6165")) < D("0.0005")
    assert abs(D(half["used cost"]) * 2 - D(whole["used cost"])) < D("1e-11")


def test_costs_of_the_lines_add_up_to_the_batch(demo_results: Results) -> None:
    summed = 0
    for formula_id, result in demo_results.formulas.items():
        if result.cost.used_per_litre is None:
            continue
        for batch in result.batches:
            volume = batch.table.volume.base
            rows = [
                row for row in read(list_table(result, demo_results)) if D(row["batch"]) == volume and row["used cost"]
            ]
            cost = sum(D(row["used cost"]) for row in rows)
            assert abs(cost - result.cost.used_per_litre.number * volume / LITRE) < D("1e-10"), formula_id
            summed += 1
    assert summed > 100


def test_no_price_is_an_empty_cell() -> None:
    found = results(
        {
            "chemicals/salt.yml": SALT,
            "solutions/bath.yml": formula("bath", "[{chemical: salt, form: solid, amount: 1 g}]"),
        }
    )
    rows = lists(found, "formulas/bath.csv")
    assert {row["used cost"] for row in rows if row["part"] == "ingredient"} == {""}
    assert all(D(row["used cost"]) > 0 for row in rows if row["part"] == "make up")


def test_a_cell_that_would_run_is_guarded() -> None:
    bath = formula("bath", "[{chemical: salt, form: solid, amount: 1 g}]")
    found = results(
        {**SHOP, "chemicals/salt.yml": SALT.replace("name: salt", "name: =1+1"), "solutions/bath.yml": bath}
    )
    assert {row["chemical"] for row in lists(found, "formulas/bath.csv") if row["id"] == "salt"} == {"'=1+1"}


def test_a_table_says_of_a_formula_that_it_does_not_work() -> None:
    """The formula, what is made with it, and the plan that buys for it; a sound one says nothing."""
    salt = "[{chemical: salt, form: solid, amount: 1 g}]"
    files = {
        **SHOP,
        "solutions/bath.yml": formula("bath", salt, more="does_not_work: {why: No., certainty: from memory}\n"),
        "solutions/made.yml": formula("made", "[{formula: bath, amount: 100 mL}]"),
        "solutions/sound.yml": formula("sound", salt),
        "plans/one.yml": "id: one\nname: one\nover: 1 months\nwants: [{formula: made, litres: 2 L}]\n",
        "plans/two.yml": "id: two\nname: two\nover: 1 months\nwants: [{formula: sound, litres: 2 L}]\n",
    }
    found = results(files)
    warned = {table.path: {row["warning"] for row in read(table)} for table in csv_tables(found)}
    faulty = "does not work as written"
    assert warned == {
        "formulas/bath.csv": {faulty},
        "formulas/made.csv": {faulty},
        "formulas/sound.csv": {""},
        "plan-one.csv": {f"made: {faulty}"},
        "plan-two.csv": {""},
    }


def test_private_formulas_and_plans_have_no_table(tmp_path: Path) -> None:
    own = formula("zqjown", "[{chemical: salt, form: solid, amount: 1 g}]", more="private: yes\n")
    files = {
        **SHOP,
        "solutions/zqjown.yml": own,
        "solutions/bath.yml": own.replace("zqjown", "bath").replace("private: yes\n", ""),
        "plans/zqj.yml": "id: zqj\nname: zqj\nover: 1 months\nprivate: yes\nwants: [{formula: zqjown, litres: 2 L}]\n",
    }
    everything = {table.path for table in csv_tables(results(files))}
    assert everything == {"formulas/zqjown.csv", "formulas/bath.csv", "plan-zqj.csv"}
    club = work_out(for_audience(load(files), CLUB))
    assert {table.path for table in csv_tables(club)} == {"formulas/bath.csv"}
    text = written(club, tmp_path).read_text("utf-8")
    assert "zqj" not in text
