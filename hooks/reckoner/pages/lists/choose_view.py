"""Formulas of one purpose side by side, to choose one: cost, what the shelf lacks, hazards, keeping, certainty."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.bath import FormulaResult
from reckoner.calc.film.capacity import doing
from reckoner.calc.film.per_roll import formula_per_roll
from reckoner.calc.results import Results
from reckoner.pages.prices.cost_view import roll_cost
from reckoner.pages.safety.not_working_view import in_short
from reckoner.pages.shared.capacity_words import span
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.shared.purposes import OTHER_NAMES, PURPOSES, purpose_title, slug
from reckoner.records.formula import Formula

#: Titles with the strengths that stand below them.
GROUPS = (
    ("Ready to use", frozenset({"working"})),
    ("Stocks and concentrates", frozenset({"stock", "concentrate"})),
)


@dataclass(frozen=True)
class Rival:
    """One formula in the table."""

    name: Link
    strength: str
    does_not_work: str
    use: str
    does: str
    litre: str
    roll: str
    lacks: str
    hazards: str
    keeps: str
    certainty: str


@dataclass(frozen=True)
class RivalGroup:
    """Rivals of the same kind of strength, so that a concentrate's litre is not held against a working bath's."""

    title: str
    rivals: tuple[Rival, ...]


@dataclass(frozen=True)
class ChooseView:
    """The context of ``choose.md.jinja``; ``names`` are what the search finds it by."""

    title: str
    summary: str
    names: tuple[str, ...]
    groups: tuple[RivalGroup, ...]
    parts: tuple[Link, ...]
    shelf: Link | None
    codes: Link

    @property
    def rivals(self) -> tuple[Rival, ...]:
        """Of all groups, as they stand on the page."""
        return tuple(rival for group in self.groups for rival in group.rivals)


def shown_purposes(results: Results) -> Iterator[tuple[str, str]]:
    """Addresses with their purpose, where there is something to choose from."""
    for purpose in PURPOSES:
        if sum(formula.formula.purpose == purpose for formula in results.formulas.values()) > 1:
            yield f"choose/{slug(purpose)}.md", purpose


def choose_view(purpose: str, writer: PageWriter) -> ChooseView:
    """Rivals of one purpose, the cheapest litre first; what is diluted or joined before use stands apart."""
    rivals = [formula for formula in writer.results.formulas.values() if formula.formula.purpose == purpose]
    title = purpose_title(purpose)
    return ChooseView(
        title=f"Choose: {title.lower()}",
        summary=f"{title} side by side",
        names=(purpose, title.lower(), *OTHER_NAMES.get(purpose, ())),
        groups=tuple(_groups(rivals, writer)),
        parts=tuple(writer.formula(rival.formula.id) for rival in rivals if rival.formula.strength == "part"),
        shelf=Link("the shelf", writer.links.path("shelf")) if writer.results.catalogue.shelf else None,
        codes=Link("what the codes say", writer.links.path("hazard-codes")),
    )


def _groups(rivals: Iterable[FormulaResult], writer: PageWriter) -> Iterator[RivalGroup]:
    for title, strengths in GROUPS:
        alike = [rival for rival in rivals if rival.formula.strength in strengths]
        if alike:
            yield RivalGroup(title, tuple(_rival(rival, writer) for rival in sorted(alike, key=_by_cost)))


def _by_cost(result: FormulaResult) -> tuple[bool, Decimal, str]:
    used = result.cost.used_per_litre
    return used is None, used.number if used else Decimal(0), result.formula.id


def _rival(result: FormulaResult, writer: PageWriter) -> Rival:
    formula, show = result.formula, writer.show
    used = result.cost.used_per_litre
    roll = formula_per_roll(formula, result.cost)
    does = doing(formula)
    return Rival(
        name=writer.formula(formula.id),
        strength=formula.strength,
        does_not_work=in_short(formula.id, writer),
        use=_use(formula, writer),
        does=span(does, writer) if does else "not recorded",
        litre=show.money(used) if used else "incomplete",
        roll=roll_cost(roll, writer) if roll else "—",
        lacks=_lacks(formula.id, writer),
        hazards=_hazards(result),
        keeps=_keeps(result, writer),
        certainty=formula.source.certainty + ("; doubts" if formula.doubts else ""),
    )


def _use(formula: Formula, writer: PageWriter) -> str:
    """Time, temperature and what is said of the use."""
    use = formula.use
    if use is None:
        return "not recorded"
    time = writer.show.range(use.time) if use.time else ""
    at = writer.show.range(use.temperature) if use.temperature else ""
    figures = " at ".join(filter(None, (time, at)))
    return ": ".join(filter(None, (figures, use.note))) or "not recorded"


def _lacks(formula_id: str, writer: PageWriter) -> str:
    mixable = writer.results.mixable.get(formula_id)
    if mixable is None:
        return "no shelf recorded"
    if mixable.missing:
        return ", ".join(writer.short_name(chemical) for chemical in mixable.missing)
    return f"nothing up to {writer.show.exactish(mixable.litres, 'L')}" if mixable.litres else "nothing but water"


def _hazards(result: FormulaResult) -> str:
    bath = result.hazards
    words = [f"{bath.label.signal}: {', '.join(bath.label.statements)}"] if bath.label.signal else []
    if not words and bath.label.statements:
        words = [", ".join(bath.label.statements)]
    if bath.unknown:
        words.append("not assessed in part")
    return "; ".join(words) or "no class reached, which is not the same as harmless"


def _keeps(result: FormulaResult, writer: PageWriter) -> str:
    timed = [keeping for keeping in result.formula.keeping if keeping.time]
    return (
        "; ".join(f"{keeping.state}: {writer.show.range(keeping.time)}" for keeping in timed if keeping.time)
        or "not recorded"
    )
