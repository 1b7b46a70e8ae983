"""What a roll costs in used chemicals: cost of a litre over what a litre does, cautious and generous."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.capacity import Doing, SetCapacity, doing, set_capacity
from reckoner.calc.costing import Cost
from reckoner.money import Money
from reckoner.records.formula import Formula


@dataclass(frozen=True)
class PerRoll:
    """Used cost of one roll of 80 square inches.

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
        one = _over(per_litre, together.doing.get(bath.id) or together.doing[together.first_out])
        total = one if total is None else PerRoll(total.cautious + one.cautious, total.generous + one.generous)
    assert total is not None, "a set that gives out has a bath"
    return PerRoll(total.cautious, total.generous, _followed(together))


def _over(per_litre: Money, does: Doing) -> PerRoll:
    return PerRoll(per_litre.times(1 / does.cautious), per_litre.times(1 / does.generous))


def _followed(together: SetCapacity) -> tuple[str, ...]:
    return tuple(bath for bath in together.baths if bath not in together.doing)


def of_format(cost: PerRoll, rolls: Decimal) -> PerRoll:
    """The cost of a film that counts as so many rolls."""
    return PerRoll(cost.cautious.times(rolls), cost.generous.times(rolls), cost.followed)
