"""Formulas of one purpose side by side, to choose one: cost, what the shelf lacks, hazards, keeping, certainty."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.bath import FormulaResult
from reckoner.calc.per_roll import formula_per_roll
from reckoner.calc.results import Results
from reckoner.pages.parts import Link, Shower
from reckoner.pages.purposes import PURPOSES, purpose_title, slug


@dataclass(frozen=True)
class Rival:
    """One formula in the table."""

    name: Link
    strength: str
    litre: str
    roll: str
    lacks: str
    hazards: str
    keeps: str
    certainty: str


@dataclass(frozen=True)
class ChooseView:
    """The context of ``choose.md.jinja``; ``names`` are what the search finds it by."""

    title: str
    summary: str
    names: tuple[str, ...]
    rivals: tuple[Rival, ...]
    parts: tuple[Link, ...]
    shelf: Link | None


def shown_purposes(results: Results) -> Iterator[tuple[str, str]]:
    """Addresses with their purpose, where there is something to choose from."""
    for purpose in PURPOSES:
        if sum(one.formula.purpose == purpose for one in results.formulas.values()) > 1:
            yield f"choose/{slug(purpose)}.md", purpose


def choose_view(purpose: str, shower: Shower) -> ChooseView:
    """Rivals of one purpose, the cheapest litre first; parts that are joined before use stand apart."""
    found = [one for one in shower.results.formulas.values() if one.formula.purpose == purpose]
    whole = [one for one in found if one.formula.strength != "part"]
    title = purpose_title(purpose)
    return ChooseView(
        title=f"Choose: {title.lower()}",
        summary=f"{title} side by side",
        names=(purpose, title.lower()),
        rivals=tuple(_rival(one, shower) for one in sorted(whole, key=_by_cost)),
        parts=tuple(shower.formula(one.formula.id) for one in found if one.formula.strength == "part"),
        shelf=Link("the shelf", shower.links.path("shelf")) if shower.results.catalogue.shelf else None,
    )


def _by_cost(result: FormulaResult) -> tuple[bool, Decimal, str]:
    used = result.cost.used_per_litre
    return used is None, used.number if used else Decimal(0), result.formula.id


def _rival(result: FormulaResult, shower: Shower) -> Rival:
    formula, show = result.formula, shower.show
    used = result.cost.used_per_litre
    roll = formula_per_roll(formula, result.cost)
    return Rival(
        name=shower.formula(formula.id),
        strength=formula.strength,
        litre=show.money(used) if used else "incomplete",
        roll=" to ".join(dict.fromkeys((show.money(roll.generous), show.money(roll.cautious)))) if roll else "—",
        lacks=_lacks(formula.id, shower),
        hazards=_hazards(result),
        keeps=_keeps(result, shower),
        certainty=formula.source.certainty + ("; doubts" if formula.doubts else ""),
    )


def _lacks(formula_id: str, shower: Shower) -> str:
    found = shower.results.mixable.get(formula_id)
    if found is None:
        return "no shelf recorded"
    if found.missing:
        return ", ".join(shower.short_name(one) for one in found.missing)
    return f"nothing up to {shower.show.exactish(found.litres, 'L')}" if found.litres else "nothing but water"


def _hazards(result: FormulaResult) -> str:
    bath = result.hazards
    words = [f"{bath.label.signal}: {', '.join(bath.label.statements)}"] if bath.label.signal else []
    if not words and bath.label.statements:
        words = [", ".join(bath.label.statements)]
    if bath.unknown:
        words.append("not assessed in part")
    return "; ".join(words) or "no class reached, which is not the same as harmless"


def _keeps(result: FormulaResult, shower: Shower) -> str:
    timed = [one for one in result.formula.keeping if one.time]
    return "; ".join(f"{one.state}: {shower.show.range(one.time)}" for one in timed if one.time) or "not recorded"
