"""What film costs in used chemicals: a roll by what a litre does, a film by how many whole films a batch takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reckoner.calc.film.capacity import Doing, SetCapacity, doing, set_capacity
from reckoner.calc.film.whole_films import films_of_batch
from reckoner.calc.mixing.scaling import first_litres
from reckoner.calc.prices.costing import Cost
from reckoner.money import Money
from reckoner.records.formula import Formula
from reckoner.records.settings import FilmFormat, Settings


@dataclass(frozen=True)
class PerRoll:
    """Used cost of one roll of 80 square inches, or of one film.

    Attributes:
        cautious: by the cautious capacity, the dearer figure.
        generous: by the generous capacity.
        followed: ids of baths without a recorded capacity, reckoned with that of the bath that gives out first.
    """

    cautious: Money
    generous: Money
    followed: tuple[str, ...] = ()


def formula_per_roll(formula: Formula, cost: Cost) -> PerRoll | None:
    """A single bath's cost for a roll; None where its cost or its capacity is not known."""
    does = doing(formula)
    if does is None or cost.used_per_litre is None:
        return None
    return _over(cost.used_per_litre, does)


def process_per_roll(baths: Iterable[Formula], costs: Mapping[str, Cost]) -> PerRoll | None:
    """All usual baths of a process together; None where a cost is missing or no capacity at all is recorded."""
    used = tuple(baths)
    together = set_capacity(used)
    if together.first_out is None:
        return None
    total: PerRoll | None = None
    for bath in used:
        per_litre = costs[bath.id].used_per_litre
        if per_litre is None:
            return None
        roll = _over(per_litre, together.doing.get(bath.id) or together.doing[together.first_out])
        total = roll if total is None else PerRoll(total.cautious + roll.cautious, total.generous + roll.generous)
    assert total is not None, "a set that gives out has a bath"
    return PerRoll(total.cautious, total.generous, _followed(together))


def _over(per_litre: Money, does: Doing) -> PerRoll:
    return PerRoll(per_litre * (1 / does.cautious), per_litre * (1 / does.generous))


def _followed(together: SetCapacity) -> tuple[str, ...]:
    return tuple(bath for bath in together.baths if bath not in together.doing)


def film_cost(
    baths: Iterable[Formula], costs: Mapping[str, Cost], film: FilmFormat, settings: Settings
) -> PerRoll | None:
    """One film of a format: what its batches cost over the whole films that they take, in the owner's tanks.

    A bath without a recorded capacity is counted with that of the bath that is exhausted first. None where a cost is
    missing, or no capacity is recorded at all.
    """
    used = tuple(baths)
    together = set_capacity(used)
    if together.first_out is None:
        return None
    litres = first_litres(settings)
    rolls: list[PerRoll] = []
    for bath in used:
        per_litre = costs[bath.id].used_per_litre
        if per_litre is None:
            return None
        does = together.doing.get(bath.id) or together.doing[together.first_out]
        takes = films_of_batch(does, film, litres, settings.tanks)
        cautious = takes.litres / takes.least
        generous = litres / takes.generous if takes.generous else cautious
        rolls.append(PerRoll(per_litre * cautious, per_litre * min(cautious, generous)))
    total = rolls[0]
    for roll in rolls[1:]:
        total = PerRoll(total.cautious + roll.cautious, total.generous + roll.generous)
    return PerRoll(total.cautious, total.generous, _followed(together))
