"""The weighing lists of a formula as a table: every batch size, what to weigh, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reckoner.calc.bath import Batch, BatchRow, FormulaResult
from reckoner.calc.mixing.working import plain
from reckoner.calc.prices.line_costs import MAKE_UP, Line, line_costs
from reckoner.calc.results import Results
from reckoner.money import Money
from reckoner.outputs.tables import Column, Table
from reckoner.pages.safety.not_working_view import IN_A_TITLE
from reckoner.records.formula import Formula

NOTHING = ("", "", "", "")
EXACT = "unrounded, to twelve places at most, in the unit of its column"
ROUNDED = "to the instrument's step, half up; 0 where that is below half a step"


def columns(currency: str) -> tuple[Column, ...]:
    """The columns of a weighing list."""
    return (
        Column("batch", "number", "volume of the finished batch", unit="mL", required=True),
        Column("order", "integer", "place in mixing order; empty for the solvent"),
        Column("part", "string", "start with, ingredient, or instead, optional, make up", required=True),
        Column("chemical", "string", "name of the chemical, or of the solution", required=True),
        Column("id", "string", "id of the chemical or of the solution; empty for the solvent of the bath"),
        Column("form", "string", "id of the form that the formula asks for; empty for a solution"),
        Column("amount exact", "number", EXACT),
        Column("amount rounded", "number", f"{ROUNDED}; the largest part of a dilution is what the others leave"),
        Column("unit", "string", "g or mL: of both amounts"),
        Column("instrument", "string", "balance or cylinder"),
        Column("jar chemical", "string", "id of what the jar holds, where it is another form than the formula's"),
        Column("jar form", "string", "id of the jar's form"),
        Column("jar exact", "number", f"the same from the jar, {EXACT}"),
        Column("jar rounded", "number", f"the same from the jar, {ROUNDED}"),
        Column("jar unit", "string", "g or mL: of both amounts from the jar"),
        Column("jar instrument", "string", "balance or cylinder for the jar"),
        Column(
            "used cost", "number", "of what is used in this batch; empty where unknown or not counted", "", currency
        ),
        Column("warning", "string", f"{IN_A_TITLE}, where this formula or a solution in it does not; else empty"),
    )


def list_table(result: FormulaResult, results: Results) -> Table:
    """One formula's weighing lists, batch after batch."""
    formula, costs = result.formula, line_costs(result.cost)
    warning = IN_A_TITLE if formula.id in results.not_working else ""
    rows = tuple((*row, warning) for batch in result.batches for row in _batch(batch, formula, costs, results))
    return Table(
        path=f"formulas/{formula.id}.csv",
        name=f"formula-{formula.id}",
        title=f"Weighing lists: {formula.name}",
        columns=columns(results.catalogue.settings.currency),
        rows=rows,
    )


def _batch(
    batch: Batch, formula: Formula, costs: Mapping[Line, Money | None], results: Results
) -> Iterator[tuple[str, ...]]:
    table, volume = batch.table, plain(batch.table.volume.base)
    water = f"{formula.water} water"
    if table.start_water is not None and table.start_measured is not None:
        measured = table.start_measured
        figures = (plain(table.start_water, 12), plain(measured.rounded), measured.unit, measured.instrument)
        yield (volume, "", "start with", water, "", "", *figures, "", "", *NOTHING, "")
    for row in batch.rows:
        line = row.row.line
        cost = _cost(costs.get((line.index, line.alternative)) if row.costed else None, batch)
        yield (volume, str(line.index + 1), _part(row), *_named(row, results), *_asked(row), *_jar(row), cost)
    if not formula.dilution or MAKE_UP in costs:
        cost = _cost(costs.get(MAKE_UP), batch)
        yield (volume, "", "make up", *_solvent(formula, results), *NOTHING, "", "", *NOTHING, cost)


def _part(row: BatchRow) -> str:
    if row.row.line.alternative:
        return "or instead"
    return "optional" if row.row.line.optional else "ingredient"


def _named(row: BatchRow, results: Results) -> tuple[str, str, str]:
    line = row.row.line
    if line.chemical:
        return results.catalogue.chemicals[line.chemical].name, line.chemical, line.form or ""
    assert line.formula
    return results.catalogue.formulas[line.formula].name, line.formula, ""


def _solvent(formula: Formula, results: Results) -> tuple[str, str, str]:
    top_up = formula.make_up_with
    if top_up is None:
        return f"{formula.water} water", "", ""
    if top_up.chemical:
        return results.catalogue.chemicals[top_up.chemical].name, top_up.chemical, top_up.form or ""
    return results.catalogue.formulas[top_up.formula or ""].name, top_up.formula or "", ""


def _asked(row: BatchRow) -> tuple[str, str, str, str]:
    measured = row.row.measured
    return plain(row.row.exact, 12), plain(measured.rounded), row.row.line.unit, measured.instrument


def _jar(row: BatchRow) -> tuple[str, ...]:
    if row.jar is None:
        return ("", "", *NOTHING)
    jar, measured = row.jar.jar, row.jar.measured
    figures = (plain(row.jar.exact, 12), plain(measured.rounded), measured.unit, measured.instrument)
    return (jar.chemical.id, jar.form.id, *figures)


def _cost(used: Money | None, batch: Batch) -> str:
    return "" if used is None else plain((used * (batch.table.volume.litres)).number, 12)
