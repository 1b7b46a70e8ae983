"""A process's baths bought together: how many complete sets the packs make and what ends them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.mixing.rollup import WATER, Need, Rollup
from reckoner.calc.prices.costing import Cost, CostRow, Market, cost_of
from reckoner.money import Money, sum_money
from reckoner.records.formula import Formula
from reckoner.records.process import Process
from reckoner.rounding import down, up
from reckoner.units import Litres


@dataclass(frozen=True)
class Sets:
    """One set is the first batch's volume of each bath of the process.

    Attributes:
        baths: ids of the formulas in a set, in the order of the steps, each once.
        cost: of a litre of every bath, and of the packs for the first set.
        made: complete sets that the packs make, water apart; None while a price is missing.
        ends_with: chemical that is short for the next set.
        restock: what has to be bought for the next set.
    """

    baths: tuple[str, ...]
    cost: Cost
    made: int | None
    ends_with: str | None
    restock: tuple[tuple[str, int], ...]
    restock_cost: Money | None


def usual_baths(process: Process) -> tuple[str, ...]:
    """The first accepted bath of each step that is not optional, each formula once."""
    baths: dict[str, None] = {}
    for step in process.steps:
        if step.baths and not step.optional:
            baths.setdefault(step.baths[0].formula, None)
    return tuple(baths)


def sets_of(baths: Iterable[Formula], rollup: Rollup, market: Market, batch_litres: Litres) -> Sets:
    """Pool all baths' needs over chemicals and buy whole packs for one set."""
    used = tuple(baths)
    needs: list[Need] = [need for formula in used for need in rollup.needs(formula)]
    cost = cost_of(needs, market, batch_litres)
    ids = tuple(formula.id for formula in used)
    limits = [row for row in cost.rows if row.litres is not None and row.chemical != WATER]
    if cost.missing or not limits:
        return Sets(ids, cost, None, None, (), None)
    made = min(_sets(row, batch_litres) for row in limits)
    first = min(limits, key=lambda row: (row.litres, row.chemical))
    short = [(row, _more_packs(row, (made + 1) * batch_litres)) for row in limits]
    restock = tuple((row.chemical, more) for row, more in short if more > 0)
    sums = (row.offer.price * more for row, more in short if more > 0 and row.offer)
    total = sum_money(sums, market.currency)
    return Sets(ids, cost, made, first.chemical, restock, total)


def _sets(row: CostRow, batch_litres: Litres) -> int:
    assert row.litres is not None
    return down(row.litres / batch_litres)


def _more_packs(row: CostRow, litres: Decimal) -> int:
    assert row.litres is not None and row.litres_per_pack is not None
    missing = litres - row.litres
    return 0 if missing <= 0 else up(missing / row.litres_per_pack)
