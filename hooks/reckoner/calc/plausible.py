"""Amounts that are probably slips: more than dissolves, or far from what formulas of the same purpose take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from statistics import median

from reckoner.calc.film.temperature import celsius
from reckoner.calc.mixing.molar import moles_per_unit
from reckoner.calc.mixing.substitution import base_amount
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Active, Form
from reckoner.records.formula import Formula, Item
from reckoner.units import LITRE, PerLitre

#: So many times the usual amount, or so small a part of it, is asked about: own practice.
TIMES = Decimal(10)
#: So many other formulas of the same purpose must take a chemical before there is a usual amount of it, and so many
#: before it is sure enough for a warning: own practice.
OTHERS, SURE = 2, 3


#: Grams that a litre of water weighs.
OWN_WEIGHT = Decimal(1000)


@dataclass(frozen=True)
class Place:
    """One item of a formula with its form and its amount in a litre.

    Attributes:
        path: of the item in its file.
        per_litre: in g for a solid, in mL for a liquid.
        strength: mol in a litre of what it is used for, as of bromide whatever its salt; where the form has no
            chemical formula, as ``per_litre``.
        basis: what strengths may be compared with: whatever supplies the same entity, else this form alone.
    """

    formula: Formula
    item: Item
    path: tuple[str | int, ...]
    form: Form
    per_litre: PerLitre
    strength: Decimal
    basis: tuple[str, str]


@dataclass(frozen=True)
class Undissolved:
    """More of a solid than dissolves; both figures in grams in a litre of the water meant.

    Attributes:
        recorded: whether the limit is a recorded solubility; else it is what the water itself weighs.
    """

    place: Place
    asked: Decimal
    dissolves: Decimal
    where: str
    recorded: bool = True


@dataclass(frozen=True)
class FarOff:
    """An amount many times the usual one or a small part of it; ``usual`` is in the item's own form and unit."""

    place: Place
    usual: Decimal
    others: int
    times: Decimal
    up: bool


def places(catalogue: Catalogue) -> tuple[Place, ...]:
    """Every amount of a chemical that can be read; what other rules refuse is left out."""
    return tuple(place for formula in catalogue.formulas.values() for place in _of_formula(formula, catalogue))


def undissolved(place: Place) -> Iterator[Undissolved]:
    """What is over the recorded solubility in water at the warmth of mixing, in the bath and in the water to start.

    Solubility is of the chemical alone in plain water: another solvent, salt or alkali changes it. Where none is
    recorded, a solid that outweighs the water of the whole bath is asked about.
    """
    formula, form = place.formula, place.form
    if form.state != "solid" or formula.make_up_with is not None:
        return
    if not form.solubility:
        if place.per_litre > OWN_WEIGHT:
            yield Undissolved(place, place.per_litre, OWN_WEIGHT, "the bath", recorded=False)
        return
    limit = _dissolves(formula, form)
    if place.per_litre > limit:
        yield Undissolved(place, place.per_litre, limit, "the bath")
    elif formula.start_water is not None and formula.start_water.base > 0:
        asked = place.per_litre * formula.makes.base / formula.start_water.base
        if asked > limit:
            yield Undissolved(place, asked, limit, f"the {formula.start_water} to start with")


def far_off(amounts: tuple[Place, ...]) -> Iterator[FarOff]:
    """Amounts ten times off the median of the other formulas of the same purpose and strength.

    What is used as it is and what is diluted first are never compared. A stock solution of one chemical may be of any
    strength.
    """
    groups: dict[tuple[str, bool, tuple[str, str]], dict[str, Decimal]] = {}
    for place in amounts:
        groups.setdefault(_compared_with(place), {}).setdefault(place.formula.id, place.strength)
    for place in amounts:
        group = groups[_compared_with(place)].items()
        others = [strength for formula_id, strength in group if formula_id != place.formula.id]
        if len(others) >= OTHERS and place.formula.purpose != "stock solution":
            yield from _compared(place, others)


def _compared_with(place: Place) -> tuple[str, bool, tuple[str, str]]:
    return place.formula.purpose, place.formula.strength == "working", place.basis


def _compared(place: Place, others: list[Decimal]) -> Iterator[FarOff]:
    usual = median(others)
    times = max(place.strength, usual) / min(place.strength, usual)
    if times > TIMES:
        in_form = usual * place.per_litre / place.strength
        yield FarOff(place, in_form, len(others), times, place.strength > usual)


def _dissolves(formula: Formula, form: Form) -> Decimal:
    """Grams in a litre at the warmth of mixing: of the recorded figures the highest that is not for hotter water."""
    warm = [span for span in (formula.mix_temperature, formula.start_temperature) if span is not None]
    if not warm:
        return max(solubility.grams_per_litre for solubility in form.solubility)
    warmth = max(celsius(span.high, span.unit) for span in warm)
    cooler = [s.grams_per_litre for s in form.solubility if celsius(s.at.low, s.at.unit) <= warmth]
    return max(cooler) if cooler else min(solubility.grams_per_litre for solubility in form.solubility)


def _of_formula(formula: Formula, catalogue: Catalogue) -> Iterator[Place]:
    for index, ingredient in enumerate(formula.ingredients):
        for number, item in enumerate((ingredient, *ingredient.alternatives)):
            path = ("ingredients", index, *(("or", number - 1) if number else ()))
            chemical = catalogue.chemicals.get(item.chemical or "")
            form = chemical.form(item.form or "") if chemical else None
            if chemical is None or form is None:
                continue
            try:
                per_litre = PerLitre(base_amount(item.amount, form) * LITRE / formula.makes.base)
            except ValueFault:
                continue
            try:
                active = chemical.active or Active(entity=chemical.id)
                strength, basis = per_litre * moles_per_unit(form) * active.moles, (active.entity, "")
            except ValueFault:
                strength, basis = per_litre, (chemical.id, form.id)
            if strength > 0:
                yield Place(formula, item, path, form, per_litre, strength, basis)
