"""Rules across records: references, cycles, units that fit forms, dates. Every rule looks at everything."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal

from reckoner.calc.molar import molar_mass
from reckoner.calc.rollup import cycle_from
from reckoner.calc.substitution import base_amount
from reckoner.money import rate_in_force
from reckoner.problems import Location, Problem, Severity, ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula, Ingredient, Item
from reckoner.spelling import chemical_hint, id_hint

Check = Callable[[Catalogue], Iterator[Problem]]
#: The version of the data files that this engine reads.
FORMAT = 1


def data_format(catalogue: Catalogue) -> Iterator[Problem]:
    """The data must be of the version this engine knows."""
    stated = catalogue.settings.format
    if stated != FORMAT:
        age = "newer" if stated > FORMAT else "older"
        what = f"format {stated} is {age} than this engine, which reads format {FORMAT} (take the engine that fits)"
        yield Problem(catalogue.place("settings", "", "format"), what)


def chemical_formulas(catalogue: Catalogue) -> Iterator[Problem]:
    """Every chemical formula can be weighed; liquids that have one state strength and density."""
    for chemical in catalogue.chemicals.values():
        for index, form in enumerate(chemical.forms):
            path = ("forms", index)
            if form.formula is None:
                continue
            try:
                molar_mass(form.formula)
            except ValueFault as fault:
                yield Problem(catalogue.place("chemical", chemical.id, *path, "formula"), str(fault))
            if form.state == "liquid" and form.strength is None:
                what = f"{form.name} has no strength (add strength: as 60 % w/w)"
                yield Problem(catalogue.place("chemical", chemical.id, *path), what)
            elif form.state == "liquid" and form.density is None:
                what = f"{form.name} has no density (add density: as 1.33 g/mL)"
                yield Problem(catalogue.place("chemical", chemical.id, *path), what)


def hazard_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Hazard records speak of forms that the chemical has, and every statement has a text."""
    texts = {phrase.code for phrase in catalogue.phrases.phrases} if catalogue.phrases else None
    for chemical in catalogue.chemicals.values():
        forms = ", ".join(form.id for form in chemical.forms)
        for index, record in enumerate(chemical.hazards):
            for name in (*record.forms, *([record.basis] if record.basis else [])):
                if chemical.form(name) is None:
                    what = f"{chemical.name} has no form '{name}' (write one of: {forms})"
                    yield Problem(catalogue.place("chemical", chemical.id, "hazards", index), what)
            for code in (*(c.h for c in record.classes), *record.euh):
                if texts is not None and code not in texts:
                    what = f"no text for {code} (add it to hazard_phrases.yml)"
                    yield Problem(catalogue.place("chemical", chemical.id, "hazards", index), what)


def formula_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Chemicals, forms and solutions that a formula names exist, and their amounts fit."""
    for formula in catalogue.formulas.values():
        for item, path in items_of(formula):
            yield from _item(catalogue, formula.id, item, path)
            if isinstance(item, Ingredient):
                yield from _swaps(catalogue, formula.id, item, path)
        for index, used in enumerate(formula.of):
            if ("formula", used) not in catalogue.file_of:
                what = f"unknown formula '{used}' ({id_hint(used, catalogue.formulas)})"
                yield Problem(catalogue.place("formula", formula.id, "of", index), what)


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
        if ("formula", item.formula) not in catalogue.file_of:
            what = f"unknown formula '{item.formula}' ({id_hint(item.formula, catalogue.formulas)})"
            yield Problem(catalogue.place("formula", formula_id, *path, "formula"), what)
        return
    assert item.chemical and item.form
    at = catalogue.place("formula", formula_id, *path, "chemical")
    form_at = catalogue.place("formula", formula_id, *path, "form")
    fault = _form_fault(catalogue, item.chemical, item.form, at, form_at)
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


def _form_fault(
    catalogue: Catalogue, chemical_id: str, form_id: str, at: Location, form_at: Location
) -> Problem | None:
    if ("chemical", chemical_id) not in catalogue.file_of:
        return Problem(at, f"unknown chemical '{chemical_id}' ({chemical_hint(chemical_id, catalogue)})")
    chemical = catalogue.chemicals.get(chemical_id)
    if chemical and chemical.form(form_id) is None:
        forms = ", ".join(form.id for form in chemical.forms)
        return Problem(form_at, f"{chemical.name} has no form '{form_id}' (write one of: {forms})")
    return None


def _swaps(catalogue: Catalogue, formula_id: str, item: Ingredient, path: tuple[str | int, ...]) -> Iterator[Problem]:
    asked = catalogue.chemicals.get(item.chemical or "")
    for index, other_id in enumerate(item.swap):
        place = catalogue.place("formula", formula_id, *path, "swap", index)
        if ("chemical", other_id) not in catalogue.file_of:
            yield Problem(place, f"unknown chemical '{other_id}' ({chemical_hint(other_id, catalogue)})")
            continue
        other = catalogue.chemicals.get(other_id)
        same = asked and other and asked.active and other.active and asked.active.entity == other.active.entity
        if asked and other and not same:
            what = f"{other.name} does not supply the same thing as {asked.name} (use or: with an amount of its own)"
            yield Problem(place, what)


def cycles(catalogue: Catalogue) -> Iterator[Problem]:
    """No formula may use itself, not through others either."""
    for formula_id in catalogue.formulas:
        chain = cycle_from(formula_id, catalogue.formulas)
        if chain:
            what = f"the formula uses itself: {' uses '.join(chain)} (take one of them out of the circle)"
            yield Problem(catalogue.place("formula", formula_id, "id"), what)


def process_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Baths that a process names exist."""
    for process in catalogue.processes.values():
        for step_index, step in enumerate(process.steps):
            for bath_index, bath in enumerate(step.baths):
                if ("formula", bath.formula) not in catalogue.file_of:
                    path = ("steps", step_index, "baths", bath_index, "formula")
                    what = f"unknown formula '{bath.formula}' ({id_hint(bath.formula, catalogue.formulas)})"
                    yield Problem(catalogue.place("process", process.id, *path), what)


def prices(catalogue: Catalogue) -> Iterator[Problem]:
    """Offers name known chemicals and forms, a supplier's record stands beside its lists, currencies convert."""
    for listed in catalogue.price_lists:
        places = catalogue.places[listed.file]
        if ("supplier", listed.supplier) not in catalogue.file_of:
            yield Problem(places.at(), f"supplier '{listed.supplier}' has no supplier.yml (add it beside this list)")
        for index, offer in enumerate(listed.prices.offers):
            at = ("offers", index)
            fault = _form_fault(
                catalogue, offer.chemical, offer.form, places.at(*at, "chemical"), places.at(*at, "form")
            )
            if fault:
                yield fault
            elif offer.chemical in catalogue.chemicals:
                form = catalogue.chemicals[offer.chemical].form(offer.form)
                assert form is not None
                try:
                    base_amount(offer.pack, form)
                except ValueFault as reason:
                    yield Problem(places.at(*at, "pack"), str(reason))
            own = catalogue.settings.currency
            if rate_in_force(catalogue.rates, offer.price.currency, own, catalogue.today) is None:
                what = f"no exchange rate from {offer.price.currency} to {own} (add one to exchange_rates.yml)"
                yield Problem(places.at(*at, "price"), what)


def repeated_offers(catalogue: Catalogue) -> Iterator[Problem]:
    """A list has one price for each pack; 1 kg and 1000 g are the same pack."""
    for listed in catalogue.price_lists:
        seen: set[tuple[str, str, Decimal, int]] = set()
        for index, offer in enumerate(listed.prices.offers):
            key = (offer.chemical, offer.form, offer.pack.base, offer.count)
            if key in seen:
                place = catalogue.places[listed.file].at("offers", index)
                what = f"{offer.chemical}, {offer.form}, {offer.pack} stands twice (keep one price for each pack)"
                yield Problem(place, what)
            seen.add(key)


def look_alikes(catalogue: Catalogue) -> Iterator[Problem]:
    """The table of look-alikes names known chemicals."""
    table = catalogue.look_alikes
    for group_index, group in enumerate(table.groups if table else ()):
        for index, chemical in enumerate(group.chemicals):
            if ("chemical", chemical) not in catalogue.file_of:
                what = f"unknown chemical '{chemical}' ({chemical_hint(chemical, catalogue)})"
                yield Problem(catalogue.place("look_alikes", "", "groups", group_index, "chemicals", index), what)


def volumes(catalogue: Catalogue) -> Iterator[Problem]:
    """The liquids of a formula leave room for each other."""
    for formula in catalogue.formulas.values():
        liquids = [i for i in formula.ingredients if i.amount.dimension == "volume" and not i.optional]
        total = sum(i.amount.base for i in liquids)
        if total > formula.makes.base:
            what = f"the liquids add up to more than the {formula.makes} the formula makes (check amounts and makes)"
            yield Problem(catalogue.place("formula", formula.id, "makes"), what)


def former_ids(catalogue: Catalogue) -> Iterator[Problem]:
    """An old id leads to one page only and is not in use again."""
    for kind, records in (
        ("formula", catalogue.formulas),
        ("chemical", catalogue.chemicals),
        ("process", catalogue.processes),
    ):
        seen: dict[str, str] = {}
        for record_id, record in records.items():
            for index, old in enumerate(record.formerly):
                place = catalogue.place(kind, record_id, "formerly", index)
                if (kind, old) in catalogue.file_of:
                    yield Problem(place, f"'{old}' is the id of a {kind} in use (take it out of formerly)")
                elif old in seen:
                    yield Problem(place, f"'{old}' is also a former id of {seen[old]} (keep it in one place)")
                seen[old] = record_id


def dates(catalogue: Catalogue) -> Iterator[Problem]:
    """Days after today: a price list waits for its day; anything else is probably a slip."""
    for kind, records in (
        ("formula", catalogue.formulas),
        ("chemical", catalogue.chemicals),
        ("process", catalogue.processes),
    ):
        for record_id, record in records.items():
            checked = record.source.checked
            if checked > catalogue.today:
                place = catalogue.place(kind, record_id, "source", "checked")
                what = f"checked on {checked}, which is after today, {catalogue.today} (write the day it was checked)"
                yield Problem(place, what, Severity.WARNING)
    for listed in catalogue.price_lists:
        if listed.prices.date > catalogue.today:
            what = f"price list dated {listed.prices.date} is not in force before that day (nothing to do)"
            yield Problem(catalogue.places[listed.file].at("date"), what, Severity.NOTE)


CHECKS: tuple[Check, ...] = (
    data_format,
    chemical_formulas,
    hazard_references,
    formula_references,
    cycles,
    process_references,
    prices,
    repeated_offers,
    look_alikes,
    volumes,
    former_ids,
    dates,
)


def check(catalogue: Catalogue) -> list[Problem]:
    """Every fault that no single file shows."""
    return [problem for rule in CHECKS for problem in rule(catalogue)]
