"""Which cautions of the trade belong to which step of mixing and processing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from reckoner.calc.temperature import celsius
from reckoner.records.catalogue import Catalogue
from reckoner.records.caution import Caution, Moment
from reckoner.records.formula import Formula, Item
from reckoner.records.process import Process
from reckoner.records.values import Range


@dataclass(frozen=True)
class Scene:
    """What is on the bench at one moment.

    Attributes:
        chemicals: ids of what the caution could be about: one ingredient, or everything in the bath.
        forms: ids of their forms, where one ingredient is meant.
        others: everything in the same bath.
        before: chemicals of the bath before, without a wash between.
        warmth: °C, or None where nothing is recorded.
    """

    chemicals: frozenset[str]
    forms: frozenset[str] = frozenset()
    others: frozenset[str] = frozenset()
    before: frozenset[str] = frozenset()
    purpose: str = ""
    warmth: Decimal | None = None


@dataclass(frozen=True)
class FormulaCautions:
    """The cautions of one formula; ``ingredients`` by place in mixing order."""

    before: tuple[Caution, ...] = ()
    ingredients: Mapping[int, tuple[Caution, ...]] = field(default_factory=dict)
    mixing: tuple[Caution, ...] = ()
    keeping: tuple[Caution, ...] = ()


Condition = Callable[[Caution, Scene, Catalogue], bool]


def _about(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    """Chemicals, groups, roles and statements each name what it is about: one hit in any of them is enough."""
    named = set(caution.chemicals) | _in_groups(caution.groups, catalogue)
    if not _names_something(caution):
        return True
    return any(
        chemical in named or catalogue.chemicals[chemical].role in caution.roles or _says(chemical, caution, catalogue)
        for chemical in scene.chemicals
    )


def _names_something(caution: Caution) -> bool:
    return bool(caution.chemicals or caution.groups or caution.roles or caution.statements)


def _form(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.forms or bool(scene.forms & set(caution.forms))


def _beside(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.beside or bool(scene.others & _in_groups(caution.beside, catalogue))


def _purpose(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.purposes or scene.purpose in caution.purposes


def _warm(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    if caution.warmer is None:
        return True
    return scene.warmth is not None and scene.warmth >= celsius(caution.warmer.low, caution.warmer.unit)


def _after(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.after or bool(scene.before & _in_groups(caution.after, catalogue))


CONDITIONS: tuple[Condition, ...] = (_about, _form, _beside, _purpose, _warm, _after)


def _in_groups(groups: Iterable[str], catalogue: Catalogue) -> set[str]:
    table = catalogue.incompatibilities
    return {c for group in groups for c in table.group(group).chemicals} if table else set()


def _says(chemical_id: str, caution: Caution, catalogue: Catalogue) -> bool:
    """Whether the jar of any of its forms carries one of the statements; a letter behind it (H360FD) is the same."""
    stems = tuple(caution.statements)
    records = catalogue.chemicals[chemical_id].hazards if stems else ()
    return any(entry.h.startswith(stems) for record in records for entry in record.classes)


def warmest(temperatures: Iterable[Range | None]) -> Decimal | None:
    """The highest of some recorded temperatures in °C, or None where nothing is recorded."""
    return max((celsius(one.high, one.unit) for one in temperatures if one is not None), default=None)


def said(moment: Moment, scene: Scene, catalogue: Catalogue) -> tuple[Caution, ...]:
    """The cautions for one moment, in the table's order."""
    table = catalogue.cautions
    found = (c for c in table.cautions if c.at == moment) if table else iter(())
    return tuple(c for c in found if all(condition(c, scene, catalogue) for condition in CONDITIONS))


def formula_cautions(formula: Formula, inside: frozenset[str], catalogue: Catalogue) -> FormulaCautions:
    """The cautions of mixing and keeping a formula; ``inside`` is everything in the finished bath."""
    warmth = warmest((formula.mix_temperature, formula.start_temperature))
    scene = Scene(inside, others=inside, purpose=formula.purpose, warmth=warmth)
    by_line = {}
    for index, ingredient in enumerate(formula.ingredients):
        found = dict.fromkeys(
            caution
            for item in (ingredient, *ingredient.alternatives)
            for caution in said("ingredient", _of_item(item, scene), catalogue)
        )
        by_line[index] = tuple(found)
    return FormulaCautions(
        said("before work", scene, catalogue),
        by_line,
        said("mixing", scene, catalogue),
        said("keeping", scene, catalogue),
    )


def _of_item(item: Item, scene: Scene) -> Scene:
    one = frozenset({item.chemical}) if item.chemical else frozenset()
    form = frozenset({item.form}) if item.form else frozenset()
    return Scene(one, form, scene.others, purpose=scene.purpose, warmth=scene.warmth)


def step_cautions(
    process: Process, inside: Mapping[str, frozenset[str]], catalogue: Catalogue
) -> tuple[tuple[Caution, ...], ...]:
    """The cautions at each step of a process; ``inside`` is what each formula's bath holds.

    A wash that may be left out keeps nothing apart. What is not about the bath (warm mains heaters) is said at the
    first step where it holds, and not again.
    """
    found, before = [], frozenset[str]()
    general: set[Caution] = set()
    for step in process.steps:
        baths = frozenset(chemical for bath in step.baths for chemical in inside[bath.formula])
        purposes: set[str] = {catalogue.formulas[bath.formula].purpose for bath in step.baths} or {""}
        warmth = warmest((step.temperature, *(bath.temperature for bath in step.baths)))
        scenes = [Scene(baths, others=baths, before=before, purpose=p, warmth=warmth) for p in sorted(purposes)]
        here = dict.fromkeys(c for s in scenes for c in said("process step", s, catalogue))
        found.append(tuple(caution for caution in here if caution not in general))
        general |= {caution for caution in here if not _names_something(caution)}
        if step.kind == "bath":
            before = baths
        elif step.keeps_apart:
            before = frozenset()
    return tuple(found)
