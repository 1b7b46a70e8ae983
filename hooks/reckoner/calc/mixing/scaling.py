"""Formulas scaled to a batch: amounts in mixing order, linear in volume, rounded once.

Order is chemistry: rows are never merged or reordered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.mixing.dilution import adding_up, part_volumes
from reckoner.calc.mixing.instruments import Measured, measure
from reckoner.calc.mixing.substitution import base_amount
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula, Ingredient, Item
from reckoner.records.settings import Settings
from reckoner.rounding import PER_LITRE_STEP, round_half_up
from reckoner.units import LITRE, Amount, Litres, PerLitre

#: Place in the list of what a bath is made up with, water or another liquid.
MADE_UP = -1
NONE = PerLitre(Decimal(0))


def first_litres(settings: Settings) -> Litres:
    """Litres of the owner's first batch."""
    return settings.first_batch.litres


@dataclass(frozen=True)
class Line:
    """One ingredient of a formula for one litre.

    Attributes:
        index: place in mixing order from 0.
        chemical, form: ids, or None where the ingredient is a solution.
        formula: id of a solution used as an ingredient, or None.
        per_litre: g or mL in a litre, quantised half up to 1e-9: the string every scaling starts from.
        unit: ``g`` or ``mL``.
        item: as the author wrote it.
    """

    index: int
    chemical: str | None
    form: str | None
    formula: str | None
    per_litre: PerLitre
    unit: str
    item: Item
    optional: bool = False
    alternative: int = 0


@dataclass(frozen=True)
class LitreList:
    """A formula's list for one litre, worked out once; every batch, cost and hazard is scaled from it.

    Attributes:
        lines: every ingredient and alternative, in mixing order.
        top_up: what the vessel is filled up with where that is no water.
        start: mL of water that the vessel begins with, or None.
        water: most water that a litre can take, mL.
    """

    formula: Formula
    lines: tuple[Line, ...]
    top_up: Line | None
    start: PerLitre | None
    water: PerLitre


@dataclass(frozen=True)
class Row:
    """A line at a batch size: exact, and as measured."""

    line: Line
    exact: Decimal
    measured: Measured


@dataclass(frozen=True)
class WeighingTable:
    """One batch of one formula.

    Attributes:
        volume: of the batch, as in the settings.
        start_water: mL in the vessel first, or None.
        rows: in mixing order, alternatives directly behind what they replace.
    """

    volume: Amount
    start_water: Decimal | None
    start_measured: Measured | None
    rows: tuple[Row, ...]


def litre_lists(formulas: Mapping[str, Formula], chemicals: Mapping[str, Chemical]) -> dict[str, LitreList]:
    """The list of every formula by id."""
    return {formula_id: litre_list(formula, chemicals) for formula_id, formula in formulas.items()}


def litre_list(formula: Formula, chemicals: Mapping[str, Chemical]) -> LitreList:
    """A formula's list for one litre."""
    lines = tuple(_lines(formula, chemicals))
    make_up = formula.make_up_with
    top_up = None if make_up is None else line_of(formula, make_up, MADE_UP, chemicals)
    start = _start_water(formula)
    return LitreList(formula, lines, top_up, start, _most_water(formula, lines, start))


def _lines(formula: Formula, chemicals: Mapping[str, Chemical]) -> Iterator[Line]:
    if formula.dilution:
        yield from _dilution_lines(formula)
        return
    for index, ingredient in enumerate(formula.ingredients):
        yield line_of(formula, ingredient, index, chemicals, ingredient.optional)
        for number, item in enumerate(ingredient.alternatives, 1):
            yield line_of(formula, item, index, chemicals, ingredient.optional, number)


def line_of(
    formula: Formula,
    item: Item,
    index: int,
    chemicals: Mapping[str, Chemical],
    optional: bool = False,
    alternative: int = 0,
) -> Line:
    """One item of a formula for one litre."""
    amount, unit = item.amount.base, "mL"
    if item.chemical:
        form = chemicals[item.chemical].form(item.form or "")
        assert form is not None, "checks refuse unknown forms"
        amount = base_amount(item.amount, form)
        unit = "g" if form.state == "solid" else "mL"
    per_litre = PerLitre(round_half_up(amount * LITRE / formula.makes.base, PER_LITRE_STEP))
    return Line(index, item.chemical, item.form, item.formula, per_litre, unit, item, optional, alternative)


def _dilution_lines(formula: Formula) -> tuple[Line, ...]:
    assert formula.dilution is not None
    volumes = part_volumes(formula.dilution, LITRE)
    lines = []
    for index, (used, volume) in enumerate(zip(formula.of, volumes[: len(formula.of)], strict=True)):
        item = Item(formula=used, amount=Amount(volume, "mL"))
        per_litre = PerLitre(round_half_up(volume, PER_LITRE_STEP))
        lines.append(Line(index, None, None, used, per_litre, "mL", item))
    return tuple(lines)


def scale(listed: LitreList, volume: Amount, settings: Settings, less_water: PerLitre = NONE) -> WeighingTable:
    """The weighing table of one batch; ``less_water`` is mL that a litre's starting water is cut by."""
    litres = volume.litres
    exact = [line.per_litre * litres for line in listed.lines]
    units = [line.unit for line in listed.lines]
    if listed.start is not None:
        exact.append((listed.start - less_water) * litres)
        units.append("mL")
    measured = [measure(amount, unit, settings) for amount, unit in zip(exact, units, strict=True)]
    if listed.formula.dilution:
        measured = adding_up(exact, measured, volume.base)
    return WeighingTable(
        volume=volume,
        start_water=None if listed.start is None else exact[-1],
        start_measured=None if listed.start is None else measured[-1],
        rows=tuple(map(Row, listed.lines, exact, measured)),
    )


def _start_water(formula: Formula) -> PerLitre | None:
    """mL of starting water for one litre, quantised; for a dilution, its water."""
    if formula.dilution:
        if len(formula.dilution.parts) == len(formula.of):
            return None
        return PerLitre(round_half_up(part_volumes(formula.dilution, LITRE)[-1], PER_LITRE_STEP))
    if formula.start_water is None:
        return None
    return PerLitre(round_half_up(formula.start_water.base * LITRE / formula.makes.base, PER_LITRE_STEP))


def _most_water(formula: Formula, lines: Iterable[Line], start: PerLitre | None) -> PerLitre:
    """Most water that a litre can take, mL: the volume less the liquids.

    Dissolved solids displace some of it, so this is an upper bound, and the page says so.
    """
    if formula.make_up_with is not None:
        return start or NONE
    poured = (line.per_litre for line in lines if line.unit == "mL" and not line.alternative and not line.optional)
    return max(NONE, PerLitre(LITRE - sum(poured, NONE)))


def water_of_jars(listed: LitreList, pairs: Iterable[tuple[Line, PerLitre | None]]) -> PerLitre:
    """mL by which a litre's starting water is cut so that what the jars hold has room in the vessel.

    A jar of weaker acid brings water of its own. Where the starting water and all liquids would pass the litre, the
    water is less by what the jars bring more than the formula's own forms, and by as much as there is no room for;
    never less than none.

    Args:
        pairs: each line that is taken, with mL for one litre from its jar, or None where it is weighed as written.
    """
    if listed.start is None or listed.formula.dilution:
        return NONE
    taken = tuple(pairs)
    written = [line.per_litre if line.unit == "mL" else NONE for line, _ in taken]
    poured = [own if jar is None else max(own, jar) for own, (_, jar) in zip(written, taken, strict=True)]
    more = sum(poured, Decimal(0)) - sum(written, Decimal(0))
    over = listed.start + sum(poured, Decimal(0)) - LITRE
    if over <= 0:
        return NONE
    return min(listed.start, PerLitre(round_half_up(max(more, over), PER_LITRE_STEP)))


def published_difference(formula: Formula, ingredient: Ingredient) -> Decimal | None:
    """By how many per cent the old-unit amount differs from the metric one, per volume; None without a pair."""
    if not ingredient.as_published or formula.published_for is None:
        return None
    old = sum((amount.base for amount in ingredient.as_published), Decimal(0)) / formula.published_for.base
    new = ingredient.amount.base / formula.makes.base
    return (old / new - 1) * 100
