"""One formula worked out: weighing tables with the jars at hand, cost, hazards, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.hazards.cautions import FormulaCautions, JarId, formula_cautions
from reckoner.calc.hazards.classify import BathHazards, classify
from reckoner.calc.hazards.composition import Composition, compose
from reckoner.calc.hazards.incompatible import OF_A_BATH, Meeting, keep_away, meetings, never_with
from reckoner.calc.mixing.instruments import Measured, measure
from reckoner.calc.mixing.rollup import WATER, Need, Rollup
from reckoner.calc.mixing.scaling import (
    MADE_UP,
    Line,
    LitreList,
    Row,
    WeighingTable,
    scale,
    water_of_jars,
)
from reckoner.calc.mixing.strength import TooWeak
from reckoner.calc.mixing.substitution import Conversion, Jar
from reckoner.calc.mixing.weighability import Weighability, Weighed, judge
from reckoner.calc.prices.costing import Cost, CostRow, Market, cost_of
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.incompatibility import SubstanceGroup
from reckoner.units import LITRE, Litres, PerLitre

#: What is bought for a line, and how it becomes what the line asks.
_Filled = tuple[CostRow, Conversion]


@dataclass(frozen=True)
class JarAmount:
    """What to weigh from the jar that was bought, where it holds something else than the formula asks."""

    jar: Jar
    conversion: Conversion
    exact: Decimal
    measured: Measured
    weighability: Weighability


@dataclass(frozen=True)
class BatchRow:
    """A row of a weighing table with its jar and whether it can be weighed.

    Attributes:
        costed: whether the cost counts this row; false for alternatives not taken and optional ingredients.
    """

    row: Row
    jar: JarAmount | None
    weighability: Weighability
    costed: bool


@dataclass(frozen=True)
class Batch:
    """One batch size of a formula."""

    table: WeighingTable
    rows: tuple[BatchRow, ...]


@dataclass(frozen=True)
class FormulaResult:
    """All figures of one formula.

    Attributes:
        jars: every jar that may be opened for it, by chemical and form.
        less_water: mL by which a litre's starting water is cut for the water that weaker jars bring.
        too_weak: jars, sold or on the shelf, that have no room in the vessel at their strength.
    """

    listed: LitreList
    batches: tuple[Batch, ...]
    needs: tuple[Need, ...]
    cost: Cost
    hazards: BathHazards
    keep_away: tuple[Meeting, ...]
    within: tuple[Meeting, ...]
    never_with: tuple[SubstanceGroup, ...]
    cautions: FormulaCautions
    jars: tuple[JarId, ...]
    less_water: Decimal
    too_weak: tuple[TooWeak, ...]

    @property
    def formula(self) -> Formula:
        """The record itself."""
        return self.listed.formula

    @property
    def water(self) -> Decimal:
        """Most water that a litre can take, mL."""
        return self.listed.water


def formula_result(
    listed: LitreList, catalogue: Catalogue, rollup: Rollup, market: Market, first_batch: Litres
) -> FormulaResult:
    """Work out one formula."""
    formula = listed.formula
    needs = rollup.needs(formula)
    in_the_bath = replace(rollup, with_optional=True).needs(formula)
    composition = compose(in_the_bath, catalogue.chemicals, formula.density)
    cost = cost_of(needs, market, first_batch)
    direct = {(need.line, need.alternative): pair for need, pair in _filled(cost) if _listed(need)}
    taken = {(need.line, need.alternative) for need in needs}
    less = water_of_jars(listed, _poured(listed, direct, taken))
    batches = []
    for size in catalogue.settings.sizes:
        table = scale(listed, size, catalogue.settings, less)
        room = listed.water * size.base / LITRE
        rows = tuple(_batch_row(row, formula, catalogue, direct, taken, room) for row in table.rows)
        batches.append(Batch(table, rows))
    hazards = classify(composition, formula.acidity, tuple(sorted(_strong_instead(formula, catalogue))))
    pairs = catalogue.incompatibilities
    inside = {need.chemical for need in in_the_bath}
    apart = keep_away(inside, pairs, OF_A_BATH) if pairs else ()
    within = meetings(inside, inside, pairs, formula.purpose) if pairs else ()
    never = never_with(inside, pairs) if pairs else ()
    bought = {place: row.offer.jar for place, (row, _) in direct.items() if row.offer is not None}
    bought_ids = {place: (jar.chemical.id, jar.form.id) for place, jar in bought.items()}
    cautions = formula_cautions(formula, composition, bought_ids, catalogue)
    jars = tuple(_jars(formula, bought_ids, composition))
    weak = market.too_weak(needs)
    return FormulaResult(listed, tuple(batches), needs, cost, hazards, apart, within, never, cautions, jars, less, weak)


def _listed(need: Need) -> bool:
    """Whether a need stands in the list itself: not inside a solution, and not the water around it."""
    return not need.via and (need.chemical, need.line) != (WATER, MADE_UP)


def _strong_instead(formula: Formula, catalogue: Catalogue) -> set[str]:
    """Strong acids and alkalis that a formula, or a solution in it, lets stand in place of an ingredient."""
    strong: set[str] = set()
    for ingredient in formula.ingredients:
        ids = (item.chemical for item in ingredient.alternatives if item.chemical)
        strong |= {i for i in ids if i in catalogue.chemicals and catalogue.chemicals[i].strong}
    inner = {*formula.of, *(item.formula for item in formula.items if item.formula)}
    for other in inner & catalogue.formulas.keys():
        strong |= _strong_instead(catalogue.formulas[other], catalogue)
    return strong


def _poured(
    listed: LitreList, direct: Mapping[tuple[int, int], _Filled], taken: set[tuple[int, int]]
) -> Iterator[tuple[Line, PerLitre | None]]:
    """Each line that goes into the bath, with mL for a litre where its jar is a liquid."""
    for line in (*listed.lines, *filter(None, (listed.top_up,))):
        key = (line.index, line.alternative)
        if key in taken:
            row, conversion = direct.get(key, (None, None))
            liquid = row is not None and row.offer is not None and conversion is not None and conversion.unit == "mL"
            yield line, PerLitre(line.per_litre * conversion.factor) if liquid and conversion else None


def _jars(formula: Formula, bought: Mapping[tuple[int, int], JarId], composition: Composition) -> Iterator[JarId]:
    """Every jar that may be opened for a formula: as asked, as alternative, as bought, and inside its solutions."""
    jars: dict[JarId, None] = {}
    for line, ingredient in enumerate(formula.ingredients):
        for number, item in enumerate((ingredient, *ingredient.alternatives)):
            if item.chemical and item.form:
                jars[item.chemical, item.form] = None
            if (line, number) in bought:
                jars[bought[line, number]] = None
    jars |= dict.fromkeys((part.chemical, form) for part in composition.substances for form in part.forms)
    yield from sorted(jar for jar in jars if jar[0] != WATER)


def _filled(cost: Cost) -> Iterator[tuple[Need, tuple[CostRow, Conversion]]]:
    """Each need with the cost row and conversion that fill it."""
    for row in cost.rows:
        if row.offer is not None:
            yield from ((need, (row, conv)) for need, conv in zip(row.asked, row.conversions, strict=True))


def _batch_row(
    row: Row,
    formula: Formula,
    catalogue: Catalogue,
    direct: Mapping[tuple[int, int], _Filled],
    taken: set[tuple[int, int]],
    room: Decimal,
) -> BatchRow:
    key = (row.line.index, row.line.alternative)
    chemical = catalogue.chemicals.get(row.line.chemical or "")
    form = chemical.form(row.line.form or "") if chemical else None
    weighed = Weighed(chemical, form, row.exact, row.line.per_litre, row.measured)
    judged = judge(weighed, formula, room, catalogue.settings)
    jar = _jar_amount(row, direct.get(key), formula, room, catalogue)
    return BatchRow(row, jar, judged, key in taken)


def _jar_amount(
    row: Row, filled: tuple[CostRow, Conversion] | None, formula: Formula, room: Decimal, catalogue: Catalogue
) -> JarAmount | None:
    if filled is None or filled[0].offer is None:
        return None
    offer, conversion = filled[0].offer, filled[1]
    same = offer.offer.chemical == row.line.chemical and offer.offer.form == row.line.form
    if same and conversion.factor == 1:
        return None
    exact = row.exact * conversion.factor
    measured = measure(exact, conversion.unit, catalogue.settings)
    jar = offer.jar
    weighed = Weighed(jar.chemical, jar.form, exact, PerLitre(row.line.per_litre * conversion.factor), measured)
    return JarAmount(jar, conversion, exact, measured, judge(weighed, formula, room, catalogue.settings))
