"""One process of a plan bought by itself, and how what mixing pays follows from the plan's all-in sum."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from reckoner.calc.buying.all_in import AllIn, all_in
from reckoner.calc.buying.demand import demand
from reckoner.calc.buying.plan_basket import buy
from reckoner.calc.prices.costing import Market
from reckoner.money import Money, money_shares, sum_money
from reckoner.records.catalogue import Catalogue
from reckoner.records.plan import Plan, Want
from reckoner.units import Amount

#: Why a sum is another than the plan's: other baths, nothing pooled, what is left and good, batches, keeping times.
Reason = Literal["others", "alone", "left", "batches", "dying"]


@dataclass(frozen=True)
class Bridge:
    """From the plan's all-in sum to what mixing pays, in whole minor units; the steps add up.

    Attributes:
        plan: all-in, of the whole plan.
        steps: what is added or taken off, with why; none is zero.
        paid: by mixing, up to the plan's end.
    """

    plan: Money
    steps: tuple[tuple[Reason, Money], ...]
    paid: Money


@dataclass(frozen=True)
class Alone:
    """Some baths of one process bought by themselves, in the plan's batches.

    Attributes:
        money: what they cost by the plan's own rule.
    """

    money: AllIn

    @property
    def good(self) -> Money:
        """Worth of what is left over and still good when the plan is done, by the plan's own rule."""
        return sum_money((chemical.left_value for chemical in self.money.chemicals), self.money.total.currency)


def alone(plan: Plan, process: str, replaced: Iterable[str], catalogue: Catalogue, everything: Market) -> Alone:
    """Buy for one process of a plan only, without the baths that something replaces."""
    wants = tuple(want for want in plan.wants if want.process == process)
    baths = demand(plan.model_copy(update={"wants": wants}), catalogue)
    litres = tuple(
        Want(formula=bath.formula, litres=Amount(bath.litres, "L")) for bath in baths if bath.formula not in replaced
    )
    return Alone(all_in(buy(plan.model_copy(update={"wants": litres}), catalogue, everything), catalogue))


def bridge(plan: AllIn, process: str, by_itself: Alone, lasting: Money, paid: Money) -> Bridge:
    """Explain what mixing pays.

    Args:
        plan: money of the whole plan.
        lasting: what mixing would pay if no pack ever died.
        paid: what it pays.
    """
    share = next((cost.parts.total for cost in plan.processes if cost.process == process), plan.parts.total)
    own, good = by_itself.money.parts.total, by_itself.good
    exact: tuple[tuple[Reason, Money], ...] = (
        ("others", share - plan.parts.total),
        ("alone", own - share),
        ("left", good),
        ("batches", lasting - own - good),
        ("dying", paid - lasting),
    )
    whole = money_shares(paid.whole - plan.total, [sum_ for _, sum_ in exact])
    steps = tuple((reason, sum_) for (reason, _), sum_ in zip(exact, whole, strict=True) if sum_.number)
    return Bridge(plan.total, steps, paid.whole)
