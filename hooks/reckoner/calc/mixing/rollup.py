"""A formula rolled up to raw chemicals through the stock solutions it uses."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.mixing.room import Poured, poured, rooms
from reckoner.calc.mixing.scaling import MADE_UP, Line, LitreList
from reckoner.records.formula import Formula, Ingredient
from reckoner.units import LITRE, PerLitre

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
        line: place in the mixing order of the formula itself; ``MADE_UP`` for water and what stands for it.
        alternative: 0 for the published ingredient, else the number of the alternative taken.
        room: mL of a jar that the vessel has room for, for each g or mL asked; None where every known jar has room.
    """

    chemical: str
    form: str
    per_litre: PerLitre
    unit: str
    swap: tuple[str, ...] = ()
    via: tuple[str, ...] = ()
    line: int = MADE_UP
    alternative: int = 0
    room: Decimal | None = None

    def times(self, factor: Decimal) -> Need:
        """The need of what takes ``factor`` litres of the formula for one of its own."""
        return replace(self, per_litre=PerLitre(self.per_litre * factor))


Priceable = Callable[[Need], bool]
#: What each jar at hand or for sale takes for 1 g or 1 mL of a need: mL of a liquid one, 0 of a solid one.
Factors = Callable[[Need], tuple[Decimal, ...]]
Needs = tuple[Need, ...]


def _no_jars(_: Need) -> tuple[Decimal, ...]:
    return ()


@dataclass(frozen=True)
class _Option:
    """One way to fill a place of the list: the ingredient or an alternative, with what it needs."""

    line: Line
    needs: Needs


@dataclass(frozen=True)
class Rollup:
    """Works out needs over one set of records.

    Attributes:
        lists: every formula's list for a litre, by id.
        priceable: whether a need has an offer; decides between a published ingredient and its alternatives.
        with_optional: for hazards, what may be in the bath counts; for cost it does not.
        factors: the jars that are known; they decide how much room each line has in the vessel.
    """

    lists: Mapping[str, LitreList]
    priceable: Priceable
    with_optional: bool = False
    factors: Factors = _no_jars

    def needs(self, formula: Formula) -> Needs:
        """Everything one litre takes: ingredients in mixing order, then water. Optional ingredients are left out.

        Raises:
            RecursionError: never for a checked catalogue; cycles are refused before.
        """
        return self._needs(self.lists[formula.id], ())

    def _needs(self, listed: LitreList, via: tuple[str, ...]) -> Needs:
        if len(via) > MAX_DEPTH:
            raise RecursionError(f"{listed.formula.id} uses solutions more than {MAX_DEPTH} deep")
        places: dict[int, list[_Option]] = {}
        reserved = []
        for line in listed.lines:
            if self.with_optional or not line.optional:
                places.setdefault(line.index, []).append(_Option(line, self._line_needs(line, via)))
            elif not line.alternative:
                reserved.append(poured(line.per_litre if line.unit == "mL" else Decimal(0), ()))
        in_order = [places[index] for index in sorted(places)]
        if listed.top_up is not None:
            in_order.append([_Option(listed.top_up, self._line_needs(listed.top_up, via))])
        needs = [need for chosen in self._choose(in_order, reserved) for need in chosen]
        if listed.water > 0:
            needs.append(Need(WATER, listed.formula.water, listed.water, "mL", via=via))
        return tuple(needs)

    def _choose(self, places: list[list[_Option]], reserved: list[Poured]) -> list[Needs]:
        """For each place the first of ingredient and alternatives that can be bought whole, else the published one.

        What can be bought depends on the room that the other places leave, so a choice that is too weak gives way to
        the next and all are judged again.
        """
        left = [[*(o for o in options if self._sold(o.needs)), options[0]] for options in places]
        while True:
            needs = self._with_room([options[0] for options in left], reserved)
            weak = [i for i, some in enumerate(needs) if len(left[i]) > 1 and not self._sold(some)]
            if not weak:
                return needs
            left[weak[0]].pop(0)

    def _sold(self, needs: Needs) -> bool:
        return all(self.priceable(need) for need in needs)

    def _with_room(self, chosen: list[_Option], reserved: list[Poured]) -> list[Needs]:
        """What the chosen lines need, each told how much room it has where a jar could be too weak."""
        lines = [self._poured(option) for option in chosen]
        roomed = []
        for option, line, room in zip(chosen, lines, rooms([*lines, *reserved])[: len(lines)], strict=True):
            tight = option.line.chemical and line.jars and line.jars[-1] > room
            each = room / option.line.per_litre if tight else None
            roomed.append(tuple(replace(need, room=each) for need in option.needs) if tight else option.needs)
        return roomed

    def _poured(self, option: _Option) -> Poured:
        line = option.line
        jars = [line.per_litre * factor for factor in self.factors(option.needs[0])] if line.chemical else []
        return poured(line.per_litre if line.unit == "mL" else Decimal(0), jars)

    def _line_needs(self, line: Line, via: tuple[str, ...]) -> tuple[Need, ...]:
        if line.formula:
            inner = self._needs(self.lists[line.formula], (*via, line.formula))
            litres = line.per_litre / LITRE
            return tuple(replace(need.times(litres), line=line.index, alternative=line.alternative) for need in inner)
        swap = line.item.swap if isinstance(line.item, Ingredient) else ()
        assert line.chemical and line.form
        return (Need(line.chemical, line.form, line.per_litre, line.unit, swap, via, line.index, line.alternative),)


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
        circle = _search(goal, (*path, used), formulas, done)
        if circle:
            return circle
    return None
