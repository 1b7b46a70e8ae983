"""A formula as schema.org's HowTo: for programs that read pages, beside what people read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from reckoner.calc.bath import Batch, BatchRow, FormulaResult
from reckoner.calc.mixing.working import plain
from reckoner.calc.results import Results
from reckoner.pages.safety.not_working_view import before
from reckoner.pages.shared.display import inside_script
from reckoner.pages.shared.parts import PageWriter

#: Codes of UN/ECE Recommendation 20 for the units of a weighing table (from memory).
UNIT_CODES = {"g": "GRM", "mL": "MLT"}
DISSOLVE = "Dissolve each ingredient fully before the next, in the order of the list."
SHEET_FIRST = "The supplier's current safety data sheet and the local rules come first."


def how_to(result: FormulaResult, writer: PageWriter) -> str:
    """JSON-LD of one formula, for the batch that the owner begins with, on one line and harmless inside HTML.

    HowTo has no property for cautions: each is a HowToTip of the step it belongs to, the first step being protection.
    """
    formula, batch = result.formula, _first_batch(result, writer.results)
    described: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": formula.name,
        "description": before(formula.id, f"{formula.purpose.capitalize()}, {formula.strength}", writer),
        "yield": _quantity(plain(batch.table.volume.base), "mL"),
        "supply": [*_supplies(batch, result, writer)],
        "step": [_step(number, *step) for number, step in enumerate(_steps(result), 1)],
    }
    if formula.also_published_as:
        described["alternateName"] = list(formula.also_published_as)
    used = result.cost.used_per_litre
    if used is not None:
        cost = used * (batch.table.volume.litres)
        described["estimatedCost"] = {
            "@type": "MonetaryAmount",
            "currency": cost.currency,
            "value": format(cost.rounded, "f"),
        }
    return inside_script(described)


def _first_batch(result: FormulaResult, results: Results) -> Batch:
    first = results.catalogue.settings.first_batch.base
    return next((batch for batch in result.batches if batch.table.volume.base == first), result.batches[0])


def _supplies(batch: Batch, result: FormulaResult, writer: PageWriter) -> Iterator[dict[str, Any]]:
    """What the cost counts, as the formula asks for it, and what the bath is made up with."""
    formula = result.formula
    for row in batch.rows:
        if row.costed:
            yield _supply(_name(row, writer), _weighed(row))
    if not formula.dilution:
        top_up = formula.make_up_with
        named = writer.short_name(top_up.chemical) if top_up and top_up.chemical else f"{formula.water} water"
        yield _supply(named, f"to make {plain(batch.table.volume.base)} mL")


def _name(row: BatchRow, writer: PageWriter) -> str:
    line = row.row.line
    if not line.chemical:
        return writer.formula(line.formula or "").text
    return writer.named(line.chemical, line.form or "")


def _weighed(row: BatchRow) -> dict[str, str]:
    """As it is weighed; where no instrument weighs it well enough, the exact amount."""
    figure = row.row.measured.rounded if row.weighability.within else row.row.exact
    return _quantity(plain(figure), row.row.line.unit)


def _supply(name: str, quantity: dict[str, str] | str) -> dict[str, Any]:
    return {"@type": "HowToSupply", "name": name, "requiredQuantity": quantity}


def _quantity(figure: str, unit: str) -> dict[str, str]:
    return {"@type": "QuantitativeValue", "value": figure, "unitCode": UNIT_CODES[unit], "unitText": unit}


def _steps(result: FormulaResult) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each step's text with the cautions that belong to it."""
    formula, cautions = result.formula, result.cautions
    at_lines = tuple(caution for of_line in cautions.ingredients.values() for caution in of_line)
    before = dict.fromkeys((*formula.cautions, *(c.text for c in (*cautions.before, *at_lines)), SHEET_FIRST))
    yield "Protect yourself.", tuple(before)
    mixing = tuple(c.text for c in cautions.mixing)
    for number, text in enumerate(formula.mixing or (DISSOLVE,)):
        yield text, mixing if number == 0 else ()


def _step(number: int, text: str, tips: Iterable[str]) -> dict[str, Any]:
    step: dict[str, Any] = {"@type": "HowToStep", "position": number, "text": text}
    below = [{"@type": "HowToTip", "text": tip} for tip in tips]
    return {**step, "itemListElement": below} if below else step
