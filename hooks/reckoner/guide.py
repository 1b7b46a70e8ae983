"""How to write a formula, told by the records themselves, so that the page cannot grow stale.

Keys, meanings, choices and units are read off the records; each mistake is really made in an example, and what stands
beside it is what reading that example says.
"""

from __future__ import annotations

import inspect
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from typing import Any, get_args

from reckoner.loading.examples import Examples
from reckoner.loading.source import parse_yaml
from reckoner.loading.structure import to_record
from reckoner.loading.writing import to_yaml
from reckoner.pages.lists.guide_view import ChemicalIds, GuideView, KeyLine, KeysOf, StarterFile
from reckoner.pages.shared.page import Page
from reckoner.pages.shared.render import render
from reckoner.records.catalogue import Catalogue, Tree
from reckoner.records.formula import Formula, Purpose
from reckoner.records.record import Record, record_in
from reckoner.records.spans import CAPACITY_UNITS, DURATIONS
from reckoner.units import UNITS

PATH = "how-to-write.md"
#: What stands in a template where something is to be filled in.
BLANK = "___"


def _units(*dimensions: str) -> str:
    return ", ".join(unit for unit, (dimension, _) in UNITS.items() if dimension in dimensions)


def _one_of(units: tuple[str, ...]) -> str:
    return f"{', '.join(units[:-1])} or {units[-1]}"


#: A type's example in the schemas -> how such a value is written, and a slip that is often made.
TYPES: dict[str, tuple[str, str]] = {
    "plain text": ("Text.", ""),
    "sodium-sulfite": ("An id: small letters, digits and hyphens.", "Sodium Sulfite"),
    "2026-11-25": ("A day: year-month-day.", "25.11.2026"),
    "yes": ("yes or no.", "maybe"),
    "2": ("A whole number.", "two"),
    "2.5": ("A number.", "2,5"),
    "2.5 g": (f"An amount: {_units('mass', 'volume')}.", "2,5 g"),
    "850 mL": (f"A volume: {_units('volume')}.", "850 cc"),
    "3 oz_avdp 145 grain": ("Old units from the larger to the smaller, with simple fractions.", "3 oz 145 gr"),
    "20 %": ("Per cent.", "20"),
    "1.33 g/mL": ("Grams in a millilitre.", "1.33"),
    "1+9": ("Parts with a plus, water last.", "1:9"),
    "3:15": ("Minutes and seconds, or a span of them.", "3.15"),
    "6 months": (f"{_one_of(DURATIONS)}, or a span of them.", "6"),
    "38 °C": ("A temperature in °C or °F, or a span of it.", "38"),
    "8.6": ("A number from 0 to 14, or a span of it.", "neutral"),
    "4-10 rolls": (f"{_one_of(CAPACITY_UNITS)}, or a span of them.", "4-10 films"),
}
_ITEM = {"chemical": "sodium-sulfite", "form": "anhydrous", "amount": "100 g"}
#: Examples that fit where the schema's do not.
FITTING: dict[str, Any] = {
    "ReuseStep.from_roll": "1",
    "Item.form": "anhydrous",
    "Ingredient.form": "anhydrous",
    "Ingredient.or": [_ITEM],
    "Formula.ingredients": [_ITEM],
    "Formula.keeping": [{"state": "full bottle", "time": "6 months", "certainty": "common practice"}],
    "Formula.other_temperatures": {"hold": "yes", "note": "a colour process", "certainty": "common practice"},
    "Formula.reuse": {"add": "8 %", "most": "4", "certainty": "common practice"},
    "Replenishment.per": "135-36",
    "Replenishment.formula": "my-replenisher",
    "Adjust.with": ["dilute sodium hydroxide solution"],
    "Formula.make_up_with": {"chemical": "water", "form": "purified", "amount": "1 L"},
}
SLIP_FOR_LIST, SLIP_FOR_KEYS = "a text where a list stands", "a text where keys stand"


def guide_page(catalogue: Catalogue) -> Page:
    """The page, with starting lines made of this handbook's own formulas."""
    view = GuideView(
        title="How to write a formula",
        summary="Every key of a formula's file, lines to begin with, and what mistakes are answered",
        blank=BLANK,
        parts=parts(),
        starts=tuple(starts(catalogue)),
        chemicals=tuple(chemical_ids(catalogue)),
    )
    text = render("how_to_write.md.jinja", view)
    return Page(PATH, view.title, text, ("template", "YAML", "member"), summary=view.summary)


def chemical_ids(catalogue: Catalogue) -> Iterator[ChemicalIds]:
    """Every chemical that a formula may name, those of the library without a page here too."""
    for chemical in sorted(catalogue.known_chemicals.values(), key=lambda chemical: chemical.name.lower()):
        yield ChemicalIds(chemical.name, chemical.id, tuple(form.id for form in chemical.forms))


@cache
def parts() -> tuple[KeysOf, ...]:
    """The keys of a formula, then of each record inside it, in the order in which they appear."""
    return tuple(
        KeysOf(
            f"Below {_code(kind)}" if below else "The formula itself",
            f"keys-{kind.__name__.lower()}",
            _about(kind) if not below else f"{_about(kind)} Stands below {', '.join(below)}.",
            tuple(_line(kind, key) for key in kind.by_key()),
        )
        for kind, below in records_inside(Formula).items()
    )


def records_inside(kind: type[Record]) -> dict[type[Record], tuple[str, ...]]:
    """A record class and all inside it, each with the keys that it stands below."""
    keys_of: dict[type[Record], tuple[str, ...]] = {kind: ()}
    todo = [kind]
    for record in todo:
        for key, field in record.by_key().items():
            inner = record_in(field.annotation)
            if inner is not None:
                todo += [] if inner in keys_of else [inner]
                keys_of[inner] = tuple(dict.fromkeys((*keys_of.get(inner, ()), key)))
    return keys_of


def _about(kind: type[Record]) -> str:
    return " ".join((inspect.getdoc(kind) or "").split("\n\n")[0].replace("``", "").split())


def _code(kind: type[Record]) -> str:
    return " and ".join(records_inside(Formula)[kind])


@cache
def meanings(kind: type[Record]) -> dict[str, str]:
    """What each key is, from the attributes in the docstrings of a record and of those it builds on."""
    meaning_of: dict[str, str] = {}
    for class_ in reversed(kind.__mro__):
        text = (inspect.getdoc(class_) or "").partition("Attributes:\n")[2] if issubclass(class_, Record) else ""
        for match in re.finditer(r"^ {4}(\w+): ((?:.+\n?)(?: {8}.+\n?)*)", text, re.MULTILINE):
            sentence = " ".join(match[2].replace("``", "").split())
            meaning_of[match[1]] = f"{sentence[0].upper()}{sentence[1:].rstrip('.').removesuffix(', or')}."
    # What the docstrings call by the field's name may have another key.
    return {
        (f.alias or name): meaning_of.get(name) or meaning_of.get(f.alias or "", "")
        for name, f in kind.model_fields.items()
    }


def _line(kind: type[Record], key: str) -> KeyLine:
    example = Examples(fixed=FITTING).key(kind, key)
    written, slip = _written(kind, key, Examples().key(kind, key))
    return KeyLine(
        key=key,
        needed=kind.by_key()[key].is_required(),
        meaning=meanings(kind)[key],
        written=written,
        example=to_yaml({key: example}).rstrip(),
        slip=to_yaml({key: slip}).rstrip(),
        message=_message(kind, key, slip),
    )


def _written(kind: type[Record], key: str, example: Any) -> tuple[str, str]:
    """How a value is written, and a slip."""
    if isinstance(example, dict):
        return "Keys, indented.", SLIP_FOR_KEYS
    if isinstance(example, list):
        return "A list, one line each with a hyphen, or in square brackets.", SLIP_FOR_LIST
    choices = _choices(kind.by_key()[key].annotation)
    if choices:
        return f"One of: {', '.join(choices)}.", choices[0][:-1]
    return TYPES.get(example, ("", ""))


def _choices(annotation: Any) -> list[str]:
    words = [part for part in get_args(annotation) if isinstance(part, str)]
    return words or [choice for part in get_args(annotation) for choice in _choices(part)]


def _message(kind: type[Record], key: str, slip: str) -> str:
    """What reading a record with a slip in it says of that key."""
    tree = {**Examples(fixed=FITTING).record(kind, needed_only=True), key: slip}
    parsed = parse_yaml(to_yaml(tree), "my-formula.yml")
    _, problems = to_record(parsed, kind)
    return next((problem.message for problem in problems if problem.at == parsed.places.at(key)), "")


def starts(catalogue: Catalogue) -> Iterator[StarterFile]:
    """Lines for each purpose, with the chemicals of the plainest formula that the handbook has for it."""
    for purpose in get_args(Purpose):
        formulas = [
            f for f in catalogue.formulas.values() if f.purpose == purpose and any(i.chemical for i in f.ingredients)
        ]
        usual = Counter(line.chemical for formula in formulas for line in formula.ingredients)
        like = min(formulas, key=lambda formula: _awkward(formula, usual), default=None)
        yield StarterFile(purpose.capitalize(), f"begin-{purpose.replace(' ', '-')}", _start(purpose, like).rstrip())


def _awkward(formula: Formula, usual: Counter[str | None]) -> tuple[bool | float | str, ...]:
    """Sorts what a beginner had better not begin with to the end: chromium, formaldehyde, parts, doubts.

    Of the rest the most like the others of its purpose comes first: the one whose chemicals are in most of them.
    """
    lines = formula.ingredients
    return (
        formula.disposal in {"hexavalent chromium", "formaldehyde"},
        any(line.formula or line.optional for line in lines),
        formula.strength == "part",
        bool(formula.doubts),
        not 2 <= len(lines) <= 6,
        -sum(usual[line.chemical] for line in lines) / len(lines),
        len(lines),
        formula.id,
    )


def _start(purpose: str, like: Formula | None) -> str:
    chemicals = [i for i in like.ingredients if i.chemical and not i.optional] if like else []
    lines: list[Tree] = [
        {
            "chemical": str(item.chemical),
            "form": str(item.form),
            "amount": f"{BLANK} {'g' if item.amount.dimension == 'mass' else 'mL'}",
        }
        for item in chemicals
    ]
    return to_yaml(
        {
            "id": BLANK,
            "name": BLANK,
            "purpose": purpose,
            "strength": like.strength if like else "working",
            "makes": "1 L",
            "start_water": f"{BLANK} mL",
            "ingredients": lines or [{"chemical": BLANK, "form": BLANK, "amount": f"{BLANK} g"}],
            "mixing": [BLANK],
            "cautions": [BLANK],
            "disposal": like.disposal if like else "general",
            "notes": [BLANK],
            "source": {"certainty": BLANK, "citation": BLANK, "checked": BLANK},
        }
    )
