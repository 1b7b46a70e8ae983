"""What can be mixed now from the packs at hand: the largest batch of each formula, and the chemical that ends it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from reckoner.calc.buying.demand import BathDemand
from reckoner.calc.buying.pools import Pool, Wanted, asked_jar, filling, from_shelf, on_shelf, pools
from reckoner.calc.film.bottles import BottleState
from reckoner.calc.mixing.rollup import WATER, Rollup
from reckoner.calc.mixing.scaling import first_litres
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.calc.prices.costing import Market, pooled
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.units import Litres, Proportion

ZERO = Decimal(0)


@dataclass(frozen=True)
class Mixable:
    """One formula against the shelf.

    Attributes:
        litres: the largest batch, water apart.
        limited_by: chemical that ends it.
        missing: chemicals of which the shelf holds nothing that counts.
    """

    formula: str
    litres: Litres
    limited_by: str
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Lack:
    """What a process needs and the shelf does not hold.

    Attributes:
        wanted: the missing amount, in the form that is asked first.
        held: part of what a set needs that the shelf holds, 0 to 1.
    """

    wanted: Wanted
    held: Proportion


def lacking(
    catalogue: Catalogue, rollup: Rollup, market: Market, standing: frozenset[str]
) -> Mapping[str, tuple[Lack, ...]]:
    """For a set of each process, the first batch of every usual bath: what the shelf is short of.

    Args:
        standing: formulas of which a bottle is at hand, see ``standing_baths``; nothing is needed for these.
    """
    litres = first_litres(catalogue.settings)
    return {
        process.id: _lacks(
            [BathDemand(i, litres) for i in usual_baths(process) if i not in standing], catalogue, rollup, market
        )
        for process in catalogue.processes.values()
    }


def standing_baths(bottles: Iterable[BottleState], catalogue: Catalogue) -> frozenset[str]:
    """Formulas of which a bottle holds the first batch, neither expired nor spent by the cautious figure."""
    least = catalogue.settings.first_batch.base
    return frozenset(
        bottle.bottle.formula
        for bottle in bottles
        if not (bottle.old or bottle.spent) and bottle.bottle.volume.base >= least
    )


def standing_until(bottles: Iterable[BottleState], catalogue: Catalogue) -> Mapping[str, date]:
    """The last day on which a bottle of each standing bath is good; a bath that no day ends is left out."""
    ends: dict[str, list[date]] = {}
    for bottle in bottles:
        if standing_baths((bottle,), catalogue):
            ends.setdefault(bottle.bottle.formula, []).append(bottle.ends.day if bottle.ends else date.max)
    return {formula: max(days) for formula, days in ends.items() if max(days) < date.max}


def _lacks(baths: list[BathDemand], catalogue: Catalogue, rollup: Rollup, market: Market) -> tuple[Lack, ...]:
    packs = catalogue.shelf.packs if catalogue.shelf else ()
    lacks = []
    for pool in pools(baths, catalogue.formulas, rollup, market):
        if pool.chemical == WATER:
            continue
        held = sum((taken.share for taken in from_shelf(pool, packs, catalogue)), ZERO)
        whole = filling(pool.wanted, asked_jar(pool.first, catalogue.chemicals), catalogue.chemicals)
        if held < 1 and whole:
            lacks.append(Lack(Wanted(pool.first, whole * (1 - held)), Proportion(held)))
    return tuple(lacks)


def mixable(catalogue: Catalogue, rollup: Rollup, market: Market) -> Mapping[str, Mixable]:
    """Every formula against the packs on the shelf; each alone, as if nothing else were mixed."""
    return {i: _of_formula(formula, catalogue, rollup, market) for i, formula in catalogue.formulas.items()}


def _of_formula(formula: Formula, catalogue: Catalogue, rollup: Rollup, market: Market) -> Mixable:
    packs = catalogue.shelf.packs if catalogue.shelf else ()
    held_parts: list[tuple[Decimal, str]] = []
    for needs in pooled(rollup.needs(formula), market):
        if needs[0].chemical == WATER:
            continue
        wanted = tuple(Wanted(need, need.per_litre) for need in needs)
        litre = Pool(needs[0].chemical, needs[0].chemical, wanted, (), ())
        shelf = on_shelf(litre, packs, catalogue)
        held_parts.append(
            (
                sum((pack.left / pack.whole for pack in shelf if not pack.over and pack.reaches == 1), ZERO),
                litre.chemical,
            )
        )
    if not held_parts:
        return Mixable(formula.id, Litres(ZERO), "", ())
    litres, limit = min(held_parts)
    missing = tuple(sorted(chemical for held, chemical in held_parts if not held))
    return Mixable(formula.id, Litres(litres), limit, missing)
