"""Packs on the shelf that more than one plan counts on: each plan is reckoned as if the shelf were its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.plan_basket import PlanBought
from reckoner.calc.buying.pools import ShelfUse
from reckoner.calc.mixing.substitution import base_amount
from reckoner.records.chemical import Chemical

ZERO = Decimal(0)


@dataclass(frozen=True)
class Shared:
    """What other plans take from a pack that a plan takes from.

    Attributes:
        plans: ids of the others.
        together: g or mL that all of them and the plan itself take.
        enough: whether the pack holds that much.
    """

    plans: tuple[str, ...]
    together: Decimal
    enough: bool


def shared(
    taken: ShelfUse, plan_id: str, plans: Mapping[str, PlanBought], chemicals: Mapping[str, Chemical]
) -> Shared | None:
    """The other plans that count on a pack, or None where it is this plan's alone."""
    others = {i: _amount(taken, bought) for i, bought in plans.items() if i != plan_id}
    counting = {i: amount for i, amount in others.items() if amount}
    form = chemicals[taken.pack.chemical].form(taken.pack.form)
    if not counting or form is None:
        return None
    together = _amount(taken, plans[plan_id]) + sum(counting.values(), ZERO)
    return Shared(tuple(counting), together, together <= base_amount(taken.pack.left, form))


def _amount(taken: ShelfUse, bought: PlanBought) -> Decimal:
    return sum((used.amount for pool in bought.pools for used in pool.shelf if used.pack == taken.pack), ZERO)
