"""A formula rolled up to raw chemicals through the stock solutions it uses."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.scaling import LITRE, Line, line_of, lines_of, water_per_litre
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula, Ingredient

WATER = "water"
#: How many solutions deep a chain of stock solutions may go.
MAX_DEPTH = 12


@dataclass(frozen=True)
class Need:
    """A raw chemical that a litre of a formula takes.

    Attributes:
        chemical, form: ids as the formula asks.
        per_litre: in ``unit``, g for solids and mL for liquids.
        swap: ids of chemicals that may stand in, mole for mole.
        via: ids of the stock solutions it comes through, outermost first.
        line: place in the mixing order of the formula itself; -1 for water.
        alternative: 0 for the published ingredient, else the number of the alternative taken.
    """

    chemical: str
    form: str
    per_litre: Decimal
    unit: str
    swap: tuple[str, ...] = ()
    via: tuple[str, ...] = ()
    line: int = -1
    alternative: int = 0

    def times(self, factor: Decimal) -> Need:
        """The need of ``factor`` litres."""
        return replace(self, per_litre=self.per_litre * factor)


Priceable = Callable[[Need], bool]


@dataclass(frozen=True)
class Rollup:
    """Works out needs over one set of records.

    Attributes:
        priceable: whether a need has an offer; decides between a published ingredient and its alternatives.
        with_optional: for hazards, what may be in the bath counts; for cost it does not.
    """

    formulas: Mapping[str, Formula]
    chemicals: Mapping[str, Chemical]
    priceable: Priceable
    with_optional: bool = False

    def needs(self, formula: Formula) -> tuple[Need, ...]:
        """Everything one litre takes: ingredients in mixing order, then water. Optional ingredients are left out.

        Raises:
            RecursionError: never for a checked catalogue; cycles are refused before.
        """
        return self._needs(formula, ())

    def _needs(self, formula: Formula, via: tuple[str, ...]) -> tuple[Need, ...]:
        if len(via) > MAX_DEPTH:
            raise RecursionError(f"{formula.id} uses solutions more than {MAX_DEPTH} deep")
        found: list[Need] = []
        choices: dict[int, list[Line]] = {}
        for line in lines_of(formula, self.chemicals):
            if self.with_optional or not line.optional:
                choices.setdefault(line.index, []).append(line)
        for index in sorted(choices):
            found.extend(self._cheapest_choice(choices[index], via))
        found.extend(self._solvents(formula, via))
        return tuple(found)

    def _cheapest_choice(self, lines: list[Line], via: tuple[str, ...]) -> tuple[Need, ...]:
        """The first of ingredient and alternatives that can be bought whole, else the published one."""
        options = [self._line_needs(line, via) for line in lines]
        for option in options:
            if all(self.priceable(need) for need in option):
                return option
        return options[0]

    def _line_needs(self, line: Line, via: tuple[str, ...]) -> tuple[Need, ...]:
        if line.formula:
            inner = self._needs(self.formulas[line.formula], (*via, line.formula))
            litres = line.per_litre / LITRE
            return tuple(replace(need.times(litres), line=line.index, alternative=line.alternative) for need in inner)
        swap = line.item.swap if isinstance(line.item, Ingredient) else ()
        assert line.chemical and line.form
        return (Need(line.chemical, line.form, line.per_litre, line.unit, swap, via, line.index, line.alternative),)

    def _solvents(self, formula: Formula, via: tuple[str, ...]) -> tuple[Need, ...]:
        found: list[Need] = []
        top_up = formula.make_up_with
        if top_up is not None:
            line = line_of(formula, top_up, -1, self.chemicals)
            found.extend(self._line_needs(line, via))
        water = water_per_litre(formula, self.chemicals)
        if water > 0:
            found.append(Need(WATER, formula.water, water, "mL", via=via))
        return tuple(found)


def cycle_from(formula_id: str, formulas: Mapping[str, Formula]) -> tuple[str, ...] | None:
    """The chain of ids by which a formula uses itself, or None.

    Returns:
        ids from the formula back to itself, both ends included.
    """
    return _search(formula_id, (formula_id,), formulas, set())


def uses(formula: Formula) -> tuple[str, ...]:
    """Ids of the solutions a formula uses directly, alternatives included, in order."""
    return (*formula.of, *(item.formula for item in formula.items if item.formula))


def _search(
    goal: str, path: tuple[str, ...], formulas: Mapping[str, Formula], done: set[str]
) -> tuple[str, ...] | None:
    current = formulas.get(path[-1])
    for used in uses(current) if current else ():
        if used == goal:
            return (*path, goal)
        if used in done:
            continue
        done.add(used)
        found = _search(goal, (*path, used), formulas, done)
        if found:
            return found
    return None
