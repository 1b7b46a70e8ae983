"""The working behind a formula's figures as data: rule, inputs, result and source of each."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.bath import BatchRow, FormulaResult
from reckoner.calc.mixing.rollup import WATER
from reckoner.calc.mixing.working import Working, plain
from reckoner.calc.prices.costing import CostRow
from reckoner.records.catalogue import Catalogue

ARITHMETIC = "arithmetic"
MOLES = "molar masses from the chemical formulas (IUPAC atomic weights)"


def explain(result: FormulaResult, catalogue: Catalogue) -> tuple[Working, ...]:
    """Every rule used for one formula: scaling, rounding, conversions, water, cost."""
    return (*_scaling(result), *_conversions(result, catalogue), _water(result), *_costs(result, catalogue))


def short(name: str) -> str:
    """A chemical's name without the systematic name in brackets behind it."""
    return name.split(" (")[0]


def _scaling(result: FormulaResult) -> Iterator[Working]:
    formula = result.formula
    made = plain(formula.makes.base)
    yield Working(
        "amounts for a batch",
        "amount as published × batch volume ÷ volume the formula makes; held for one litre to 0.000000001 g or mL, "
        "then rounded once, half up, to the step of the instrument",
        (("the formula makes", f"{made} mL"),),
        "one line for each ingredient, in mixing order",
        ARITHMETIC,
    )


def _conversions(result: FormulaResult, catalogue: Catalogue) -> Iterator[Working]:
    for row in result.batches[0].rows:
        if row.jar is None:
            continue
        line = row.row.line
        name = short(catalogue.chemicals[line.chemical].name) if line.chemical else (line.formula or "")
        yield _conversion(row, name)


def _conversion(row: BatchRow, name: str) -> Working:
    assert row.jar is not None
    conversion = row.jar.conversion
    asked, unit = row.row.line.unit, conversion.unit
    result = f"1 {asked} asked is {plain(conversion.factor, 6)} {unit} from the jar ({row.jar.jar.form.name})"
    return Working(f"{name} from the jar", conversion.rule, conversion.inputs, result, MOLES)


def _water(result: FormulaResult) -> Working:
    needed = sum((need.per_litre for need in result.needs if need.chemical == WATER), Decimal(0))
    inside = f", and {plain(needed - result.water)} mL in the solutions it takes" if needed > result.water else ""
    return Working(
        "water",
        "the volume less the liquids; solids displace a little more, so this is the most that can be needed",
        (("litre", "1000 mL"),),
        f"{plain(result.water)} mL for a litre{inside}, priced",
        ARITHMETIC,
    )


def _costs(result: FormulaResult, catalogue: Catalogue) -> Iterator[Working]:
    yield Working(
        "which offer is used",
        "of all offers in force that convert to what is asked, the one whose whole packs cost least for the first "
        "batch; then the lower price for each gram or millilitre, then supplier and pack by name",
        (("first batch", f"{plain(result.cost.batch_litres)} L"),),
        f"{len(result.cost.rows)} chemicals",
        "rule of this handbook",
    )
    for row in result.cost.rows:
        if row.offer and row.per_litre and row.used and row.to_start:
            yield _cost(row, catalogue)


def _cost(row: CostRow, catalogue: Catalogue) -> Working:
    offer = row.offer
    assert offer and row.per_litre is not None and row.used and row.to_start
    inputs = [
        ("pack", f"{plain(offer.amount)} {row.unit} for {offer.listed} listed {offer.day.isoformat()}"),
        ("needed for a litre", f"{plain(row.per_litre)} {row.unit}"),
    ]
    if offer.tax:
        inputs.append(("tax added", f"{plain(offer.tax)} %"))
    if offer.exchange.day:
        rate = f"1 {offer.exchange.base} = {plain(offer.exchange.factor, 6)} {offer.exchange.quote}"
        inputs.append(("rate", f"{rate} of {offer.exchange.day.isoformat()}"))
    used, start = plain(row.used.number, 6), plain(row.to_start.number, 6)
    return Working(
        f"cost of {short(catalogue.chemicals[row.chemical].name)}",
        "chemicals used: needed ÷ pack × price; first order, without delivery: whole packs × price",
        tuple(inputs),
        f"used {used} {row.used.currency} a litre; first order {start} {row.to_start.currency}",
        f"price list of {offer.supplier}, {offer.day.isoformat()}",
    )
