"""Rules about formulas and processes: what they name exists, fits and does not go in circles."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.mixing.rollup import WATER, cycle_from
from reckoner.calc.mixing.scaling import published_difference
from reckoner.calc.mixing.substitution import base_amount
from reckoner.problems import Location, Problem, Severity, ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula, Ingredient, Item
from reckoner.rounding import significant
from reckoner.spelling import unknown_chemical, unknown_name


def formula_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Chemicals, forms and solutions that a formula names exist, and their amounts fit."""
    for formula in catalogue.formulas.values():
        for item, path in items_of(formula):
            yield from _item(catalogue, formula.id, item, path)
            if isinstance(item, Ingredient):
                yield from _swaps(catalogue, formula.id, item, path)
        yield from _water(catalogue, formula)
        for index, used in enumerate(formula.of):
            message = unknown_name("formula", used, catalogue)
            if message:
                yield Problem(catalogue.place("formula", formula.id, "of", index), message)


def _water(catalogue: Catalogue, formula: Formula) -> Iterator[Problem]:
    """The water it is made with stands among the chemicals, in that form."""
    at = catalogue.place("formula", formula.id, "water")
    fault = form_fault(catalogue, WATER, formula.water, at, at)
    if fault:
        yield fault


def items_of(formula: Formula) -> Iterator[tuple[Item, tuple[str | int, ...]]]:
    """Every item of a formula with its path in the file."""
    for index, ingredient in enumerate(formula.ingredients):
        yield ingredient, ("ingredients", index)
        for number, item in enumerate(ingredient.alternatives):
            yield item, ("ingredients", index, "or", number)
    if formula.make_up_with is not None:
        yield formula.make_up_with, ("make_up_with",)


def _item(catalogue: Catalogue, formula_id: str, item: Item, path: tuple[str | int, ...]) -> Iterator[Problem]:
    if item.formula:
        message = unknown_name("formula", item.formula, catalogue)
        if message:
            yield Problem(catalogue.place("formula", formula_id, *path, "formula"), message)
        return
    assert item.chemical and item.form
    at = catalogue.place("formula", formula_id, *path, "chemical")
    form_at = catalogue.place("formula", formula_id, *path, "form")
    fault = form_fault(catalogue, item.chemical, item.form, at, form_at)
    if fault:
        yield fault
        return
    chemical = catalogue.chemicals.get(item.chemical)
    form = chemical.form(item.form) if chemical else None
    if form:
        try:
            base_amount(item.amount, form)
        except ValueFault as reason:
            yield Problem(catalogue.place("formula", formula_id, *path, "amount"), str(reason))


def form_fault(catalogue: Catalogue, chemical_id: str, form_id: str, at: Location, form_at: Location) -> Problem | None:
    """What is wrong with a chemical and form named somewhere, or None."""
    if message := unknown_chemical(chemical_id, catalogue):
        return Problem(at, message)
    chemical = catalogue.known_chemicals.get(chemical_id)
    if chemical and chemical.form(form_id) is None:
        forms = ", ".join(form.id for form in chemical.forms)
        return Problem(form_at, f"{chemical.name} has no form '{form_id}' (write one of: {forms})")
    return None


def _swaps(catalogue: Catalogue, formula_id: str, item: Ingredient, path: tuple[str | int, ...]) -> Iterator[Problem]:
    asked = catalogue.chemicals.get(item.chemical or "")
    for index, other_id in enumerate(item.swap):
        place = catalogue.place("formula", formula_id, *path, "swap", index)
        if message := unknown_chemical(other_id, catalogue):
            yield Problem(place, message)
            continue
        other = catalogue.chemicals.get(other_id)
        same = asked and other and asked.active and other.active and asked.active.entity == other.active.entity
        if asked and other and not same:
            message = f"{other.name} does not supply the same thing as {asked.name} (use or: with an amount of its own)"
            yield Problem(place, message)


def names_in_faulty_files(catalogue: Catalogue) -> Iterator[Problem]:
    """A file with other faults is no record, but a wrong name in it is told in the same run."""
    for reference in catalogue.references:
        if reference.kind != "chemical":
            message = unknown_name(reference.kind, reference.name, catalogue)
            if message:
                yield Problem(reference.at, message)
        elif message := unknown_chemical(reference.name, catalogue):
            yield Problem(reference.at, message)
        elif reference.form and reference.form_at:
            fault = form_fault(catalogue, reference.name, reference.form, reference.at, reference.form_at)
            if fault:
                yield fault


def cycles(catalogue: Catalogue) -> Iterator[Problem]:
    """No formula may use itself, not through others either."""
    for formula_id in catalogue.formulas:
        chain = cycle_from(formula_id, catalogue.formulas)
        if chain:
            message = f"the formula uses itself: {' uses '.join(chain)} (take one of them out of the circle)"
            yield Problem(catalogue.place("formula", formula_id, "id"), message)


def process_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Baths that a process names exist."""
    for process in catalogue.processes.values():
        for step_index, step in enumerate(process.steps):
            for bath_index, bath in enumerate(step.baths):
                message = unknown_name("formula", bath.formula, catalogue)
                if message:
                    path = ("steps", step_index, "baths", bath_index, "formula")
                    yield Problem(catalogue.place("process", process.id, *path), message)


#: Per cent by which a metric amount may differ from the old units beside it: books round, and none by a fifth.
ROUNDED = 20


def published_slips(catalogue: Catalogue) -> Iterator[Problem]:
    """A metric amount far from the old units beside it is a point in the wrong place, or another volume."""
    for formula in catalogue.formulas.values():
        for index, ingredient in enumerate(formula.ingredients):
            differs = published_difference(formula, ingredient)
            if differs is not None and abs(differs) > ROUNDED:
                old = significant(1 + differs / 100, 2).normalize()
                message = (
                    f"as_published is {old:f} times the amount for the same volume "
                    "(check both, and makes and published_for)"
                )
                place = catalogue.place("formula", formula.id, "ingredients", index, "as_published")
                yield Problem(place, message, Severity.WARNING)


def volumes(catalogue: Catalogue) -> Iterator[Problem]:
    """The liquids of a formula leave room for each other, and each alternative does in its ingredient's place."""
    for formula in catalogue.formulas.values():
        liquids = [_millilitres(i, catalogue) for i in formula.ingredients if not i.optional]
        total = sum(liquids, Decimal(0))
        if total > formula.makes.base:
            message = f"the liquids add up to more than the {formula.makes} the formula makes (check amounts and makes)"
            yield Problem(catalogue.place("formula", formula.id, "makes"), message)
            continue
        for index, ingredient in enumerate(formula.ingredients):
            beside = total - (Decimal(0) if ingredient.optional else _millilitres(ingredient, catalogue))
            for number, item in enumerate(ingredient.alternatives):
                if beside + _millilitres(item, catalogue) > formula.makes.base:
                    message = (
                        f"with this instead, the liquids add up to more than the {formula.makes} the formula makes"
                    )
                    place = catalogue.place("formula", formula.id, "ingredients", index, "or", number, "amount")
                    yield Problem(place, f"{message} (check amounts and makes)")


def _millilitres(item: Item, catalogue: Catalogue) -> Decimal:
    """What an item pours into the vessel; nothing of a solid, and of what other rules refuse."""
    chemical = catalogue.chemicals.get(item.chemical or "")
    form = chemical.form(item.form or "") if chemical else None
    if item.amount.dimension == "volume":
        return item.amount.base
    if form is None or form.state == "solid" or form.density is None:
        return Decimal(0)
    return base_amount(item.amount, form)
