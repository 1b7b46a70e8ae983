"""What a formula accepts in place of an ingredient, mole for mole, as far as the vessel has room for it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from reckoner.calc.mixing.scaling import Line, LitreList
from reckoner.calc.mixing.substitution import Jar, convert
from reckoner.problems import ValueFault
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Ingredient
from reckoner.units import LITRE


def stand_ins(listed: LitreList, index: int, chemicals: Mapping[str, Chemical]) -> tuple[tuple[Jar, Decimal], ...]:
    """Jars that may stand in for the ingredient of that place, each with its amount for what the formula makes."""
    formula, lines = listed.formula, listed.lines
    ingredient = formula.ingredients[index]
    if not ingredient.swap or not ingredient.chemical:
        return ()
    chemical = chemicals[ingredient.chemical]
    form = chemical.form(ingredient.form or "")
    assert form is not None, "checks refuse unknown forms"
    (mine,) = (line for line in lines if line.index == index and not line.alternative)
    room = LITRE - sum((line.per_litre for line in lines if _beside(line, index)), Decimal(0))
    fitting = []
    for jar in _jars(ingredient, chemicals):
        try:
            per_litre = mine.per_litre * convert(Jar(chemical, form), jar).factor
        except ValueFault:
            continue
        if jar.unit == "g" or per_litre <= room:
            fitting.append((jar, per_litre * formula.makes.base / LITRE))
    return tuple(fitting)


def _jars(ingredient: Ingredient, chemicals: Mapping[str, Chemical]) -> list[Jar]:
    return [Jar(chemicals[other], form) for other in ingredient.swap for form in chemicals[other].forms]


def _beside(line: Line, index: int) -> bool:
    """Whether a line is a liquid that goes into the bath beside the ingredient of that place."""
    return line.index != index and line.unit == "mL" and not line.alternative and not line.optional
