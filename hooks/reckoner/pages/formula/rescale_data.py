"""What the script of a bench sheet needs to scale its list to any other volume, as the build does.

Every figure is the exact decimal that the build started from: amounts for one litre, factors to the jars, steps and
capacities. The sentences are those of ``batch_view``. Nothing is rounded here.
"""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

from reckoner.calc.bath import BatchRow, FormulaResult
from reckoner.calc.mixing.instruments import Tool, holds, stated_error, tools_for
from reckoner.calc.mixing.weighability import (
    FINER_MEASURE,
    NO_STOCK_FITS,
    SOLUBILITY_MARGIN,
    STOCK_STRENGTHS,
    STOCK_VOLUMES,
    dissolves,
    no_stock,
    tolerance_for,
)
from reckoner.pages.formula.batch_view import EXACTLY, FROM_SIZE, LOTS, STOCK
from reckoner.pages.shared.display import NBSP
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.chemical import Chemical, Form
from reckoner.records.formula import Formula

WORDS = {
    "exactly": EXACTLY,
    "lots": LOTS,
    "from": FROM_SIZE,
    "stock": STOCK,
    "finer": FINER_MEASURE.capitalize(),
    "noFit": NO_STOCK_FITS.capitalize(),
}


def rescale_data(result: FormulaResult, writer: PageWriter) -> str:
    """A JSON object for an attribute of the page."""
    formula, settings = result.formula, writer.results.catalogue.settings
    start = result.listed.start
    data = {
        "formula": formula.id,
        "sign": writer.show.sign,
        "space": NBSP,
        "start": None if start is None else _plain(start - result.less_water),
        "water": _plain(result.water),
        "parts": formula.dilution is not None,
        "tools": {unit: [_tool(tool) for tool in tools_for(unit, settings)] for unit in ("g", "mL")},
        "stock": {
            "margin": _plain(SOLUBILITY_MARGIN),
            "strengths": [_plain(s) for s in STOCK_STRENGTHS],
            "volumes": [_plain(v) for v in STOCK_VOLUMES],
        },
        "rows": [_row(row, formula, writer) for row in result.batches[0].rows],
        "words": WORDS,
    }
    return json.dumps(data, separators=(",", ":"))


def _plain(value: Decimal) -> str:
    return format(value, "f")


def _tool(tool: Tool) -> dict[str, str]:
    return {
        "name": tool.name,
        "step": _plain(tool.step.base),
        "holds": _plain(holds(tool)),
        "error": _plain(stated_error(tool)),
    }


def _row(row: BatchRow, formula: Formula, writer: PageWriter) -> dict[str, Any]:
    """The amount asked for one litre, and the factor and unit of the jar where it holds something else."""
    line = row.row.line
    chemical = writer.results.catalogue.chemicals.get(line.chemical or "")
    form = chemical.form(line.form or "") if chemical else None
    exact: dict[str, Any] = {
        "perLitre": _plain(line.per_litre),
        "asked": {"unit": line.unit, **_judged(chemical, form, formula, writer)},
    }
    if row.jar is not None:
        jar = row.jar.jar
        exact["jar"] = {
            "unit": row.jar.conversion.unit,
            "factor": _plain(row.jar.conversion.factor),
            **_judged(jar.chemical, jar.form, formula, writer),
        }
    return exact


def _judged(chemical: Chemical | None, form: Form | None, formula: Formula, writer: PageWriter) -> dict[str, str]:
    tolerance, barred = tolerance_for(formula, chemical), no_stock(chemical, form)
    judged_by = {
        "tolerance": _plain(tolerance.fraction),
        "wanted": writer.show.percent(tolerance.fraction),
        "reason": tolerance.reason,
    }
    if barred or form is None:
        return {**judged_by, "noStock": (barred or "").capitalize()}
    return {**judged_by, "dissolves": _plain(dissolves(form))}
