"""Which cautions of the trade belong to which step of mixing and processing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from reckoner.calc.film.temperature import celsius
from reckoner.calc.hazards.composition import Composition
from reckoner.calc.hazards.jar import jar_label
from reckoner.records.catalogue import Catalogue
from reckoner.records.caution import Caution, Moment
from reckoner.records.formula import Formula, Item
from reckoner.records.process import Process
from reckoner.records.values import Range

#: A bath is called an acid below this pH: above it the table of incompatibilities lets a ferricyanide bleach stand,
#: and what such a bath must not meet is told by what it holds. Common practice.
ACID_BELOW = Decimal(6)
#: A chemical with the form of it that stands on the bench, by their ids.
JarId = tuple[str, str]


@dataclass(frozen=True)
class Scene:
    """What is on the bench at one moment.

    Attributes:
        chemicals: ids of what the caution could be about: one ingredient, or everything in the bath.
        jars: with their forms, where one ingredient is meant: as the formula asks and as bought.
        codes: hazard statements of the jars, or of every record where no jars are known.
        others: everything in the same bath.
        before: chemicals of the bath before, without a wash between.
        kind: of the process, where a step is meant.
        warmth: °C, or None where nothing is recorded.
        acidity: its stated pH, or None.
        moles: of what is in a litre, where a whole bath is meant.
    """

    chemicals: frozenset[str]
    jars: frozenset[JarId] = frozenset()
    codes: frozenset[str] = frozenset()
    others: frozenset[str] = frozenset()
    before: frozenset[str] = frozenset()
    purpose: str = ""
    kind: str = ""
    warmth: Decimal | None = None
    acidity: Range | None = None
    moles: Mapping[str, Decimal] = field(default_factory=dict)


@dataclass(frozen=True)
class FormulaCautions:
    """The cautions of one formula.

    Attributes:
        ingredients: by place in mixing order and number of the alternative, 0 for the ingredient itself.
    """

    before: tuple[Caution, ...] = ()
    batch: tuple[Caution, ...] = ()
    ingredients: Mapping[tuple[int, int], tuple[Caution, ...]] = field(default_factory=dict)
    mixing: tuple[Caution, ...] = ()
    keeping: tuple[Caution, ...] = ()
    label: tuple[Caution, ...] = ()


Condition = Callable[[Caution, Scene, Catalogue], bool]


def _about(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    """Chemicals, groups, roles and statements each name what it is about: one hit in any of them is enough."""
    if not _names_something(caution) or any(code.startswith(caution.statements) for code in scene.codes):
        return True
    named = set(caution.chemicals) | _in_groups(caution.groups, catalogue)
    return any(c in named or catalogue.chemicals[c].role in caution.roles for c in scene.chemicals)


def _names_something(caution: Caution) -> bool:
    return bool(caution.chemicals or caution.groups or caution.roles or caution.statements)


def _says_more(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not any(code.startswith(caution.unless) for code in scene.codes) if caution.unless else True


def _form(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.forms or any(form in caution.forms for _, form in scene.jars)


def _state(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    if caution.state is None:
        return True
    forms = (catalogue.chemicals[chemical].form(form) for chemical, form in scene.jars)
    return any(form is not None and form.state == caution.state for form in forms)


def _beside(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.beside or bool(scene.others & _in_groups(caution.beside, catalogue))


def _purpose(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.purposes or scene.purpose in caution.purposes


def _kind(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.kinds or scene.kind in caution.kinds


def _warm(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    if caution.warmer is None:
        return True
    return scene.warmth is not None and scene.warmth >= celsius(caution.warmer.low, caution.warmer.unit)


def _after(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    return not caution.after or bool(scene.before & _in_groups(caution.after, catalogue))


def _acid(caution: Caution, scene: Scene, catalogue: Catalogue) -> bool:
    """In doubt it is acid: a trace of a weak acid beside much soda is not."""
    if not caution.acid_against:
        return True
    if scene.acidity is not None:
        return scene.acidity.low < ACID_BELOW
    named = (set(caution.chemicals) | _in_groups(caution.groups, catalogue)) & scene.chemicals
    if any(catalogue.chemicals[chemical].strong == "acid" for chemical in named):
        return True
    against = _in_groups(caution.acid_against, catalogue) - named
    return _sum_of(named, scene.moles) >= _sum_of(against, scene.moles)


def _sum_of(chemicals: set[str], moles: Mapping[str, Decimal]) -> Decimal:
    return sum((moles.get(chemical, Decimal(0)) for chemical in chemicals), Decimal(0))


#: What is quickly told comes first.
CONDITIONS: tuple[Condition, ...] = (_purpose, _kind, _form, _state, _warm, _about, _says_more, _beside, _acid, _after)


def _in_groups(groups: Iterable[str], catalogue: Catalogue) -> set[str]:
    table = catalogue.incompatibilities
    return {c for group in groups for c in table.group(group).chemicals} if table else set()


def recorded(chemicals: Iterable[str], catalogue: Catalogue) -> Iterator[str]:
    """Hazard statements of every record of some chemicals, whatever the strength."""
    for chemical in chemicals:
        for record in catalogue.chemicals[chemical].hazards:
            yield from (entry.h for entry in record.classes)
            yield from (limit.h for limit in record.limits)


def on_jars(jars: Iterable[JarId], catalogue: Catalogue) -> Iterator[str]:
    """Hazard statements that the labels of some jars carry at their strength."""
    for chemical_id, form_id in jars:
        chemical = catalogue.chemicals[chemical_id]
        form, record = chemical.form(form_id), chemical.hazards_of(form_id)
        if form is not None and record is not None:
            yield from jar_label(chemical, form, record).statements


def warmest(temperatures: Iterable[Range | None]) -> Decimal | None:
    """The highest of some recorded temperatures in °C, or None where nothing is recorded."""
    return max(
        (celsius(temperature.high, temperature.unit) for temperature in temperatures if temperature is not None),
        default=None,
    )


def cautions_at(moment: Moment, scene: Scene, catalogue: Catalogue) -> tuple[Caution, ...]:
    """The cautions for one moment, in the table's order."""
    table = catalogue.cautions
    timely = (c for c in table.cautions if c.at == moment) if table else iter(())
    return tuple(c for c in timely if all(condition(c, scene, catalogue) for condition in CONDITIONS))


def formula_cautions(
    formula: Formula, composition: Composition, bought: Mapping[tuple[int, int], JarId], catalogue: Catalogue
) -> FormulaCautions:
    """The cautions of mixing and keeping a formula.

    Args:
        composition: of the finished bath.
        bought: the jar that was bought, by line and by number of the alternative (0 for the ingredient itself).
    """
    inside = frozenset(substance.chemical for substance in composition.substances)
    warmth = warmest((formula.mix_temperature, formula.start_temperature))
    codes = frozenset(recorded(inside, catalogue))
    scene = Scene(inside, codes=codes, others=inside, purpose=formula.purpose, warmth=warmth)
    scene = replace(scene, acidity=formula.acidity, moles=composition.moles(catalogue.chemicals))
    by_item = {}
    for index, ingredient in enumerate(formula.ingredients):
        above: frozenset[str] = frozenset()
        for number, item in enumerate((ingredient, *ingredient.alternatives)):
            opened = _of_item(item, bought.get((index, number)), scene, catalogue)
            # What the rows above it on the same line ask for holds for a jar that may be taken instead.
            above |= opened.codes
            cautions = cautions_at("ingredient", opened, catalogue)
            by_item[index, number] = tuple(
                c for c in cautions if _says_more(c, replace(opened, codes=above), catalogue)
            )
    return FormulaCautions(
        cautions_at("before work", scene, catalogue),
        cautions_at("batch", scene, catalogue),
        by_item,
        cautions_at("mixing", scene, catalogue),
        cautions_at("keeping", scene, catalogue),
        cautions_at("label", scene, catalogue),
    )


def jar_cautions(chemical_id: str, jars: Iterable[JarId], catalogue: Catalogue) -> tuple[str, ...]:
    """What is said of some jars of a chemical: made from their classes, then in its author's words."""
    held = frozenset(jars)
    scene = Scene(frozenset({chemical_id}), jars=held, codes=frozenset(on_jars(held, catalogue)))
    made = (caution.text for caution in cautions_at("chemical", scene, catalogue))
    return tuple(dict.fromkeys((*made, *catalogue.chemicals[chemical_id].cautions)))


def _of_item(item: Item, bought: JarId | None, scene: Scene, catalogue: Catalogue) -> Scene:
    asked = {(item.chemical, item.form)} if item.chemical and item.form else set()
    jars = frozenset(asked | ({bought} if bought else set()))
    codes = frozenset(on_jars(jars, catalogue))
    return replace(scene, chemicals=frozenset(chemical for chemical, _ in jars), jars=jars, codes=codes)


def step_cautions(
    process: Process, inside: Mapping[str, frozenset[str]], catalogue: Catalogue
) -> tuple[tuple[Caution, ...], ...]:
    """The cautions at each step of a process; ``inside`` is what each formula's bath holds.

    A wash that may be left out keeps nothing apart. What is not about the bath (warm mains heaters) is said at the
    first step where it holds, and not again.
    """
    by_step, before = [], frozenset[str]()
    general: set[Caution] = set()
    for step in process.steps:
        baths = frozenset(chemical for bath in step.baths for chemical in inside[bath.formula])
        purposes: set[str] = {catalogue.formulas[bath.formula].purpose for bath in step.baths} or {""}
        warmth = warmest((step.temperature, *(bath.temperature for bath in step.baths)))
        codes = frozenset(recorded(baths, catalogue))
        scene = Scene(baths, codes=codes, others=baths, before=before, kind=process.kind, warmth=warmth)
        scenes = [replace(scene, purpose=p) for p in sorted(purposes)]
        cautions = dict.fromkeys(c for s in scenes for c in cautions_at("process step", s, catalogue))
        by_step.append(tuple(caution for caution in cautions if caution not in general))
        general |= {caution for caution in cautions if not _names_something(caution)}
        if step.kind == "bath":
            before = baths
        elif step.keeps_apart:
            before = frozenset()
    return tuple(by_step)
