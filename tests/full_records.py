"""A handbook in which every key of every record is written: a new field is in it without a word here.

Values come from the records' own JSON Schema, and free text from the caller. ``FIXED`` holds what an example cannot
know: ids that must exist, and keys that exclude one another.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from reckoner.loading.examples import Examples
from reckoner.records.caution import Cautions
from reckoner.records.chemical import Chemical, LookAlikes
from reckoner.records.formula import Formula, Ingredient, Item
from reckoner.records.hazard import Phrases
from reckoner.records.incompatibility import Incompatibilities
from reckoner.records.kit import Kit
from reckoner.records.plan import Plan
from reckoner.records.practice import ControlTests, Variation
from reckoner.records.prices import ExchangeRates, PriceList, Supplier
from reckoner.records.process import Process, Step
from reckoner.records.settings import FilmFormats, Settings
from reckoner.records.shelf import Bottle, Passed, Shelf
from reckoner.records.source import Source
from reckoner.records.use import Replenishment

#: A variation has one of these.
TIMES = {"time", "longer", "shorter"}
DROP = {"amount": "8.8 mL", "as_published": "1/4 US_fl_oz"}
SULFITE = {"chemical": "sodium-sulfite", "form": "anhydrous"}
#: Key of a class -> what stands there instead of the example.
FIXED: dict[str, Any] = {
    **{f"{of}.{key}": value for of in ("Item", "Ingredient", "Offer", "ShelfPack") for key, value in SULFITE.items()},
    **{f"{of}.pack": "100 g" for of in ("Offer", "ShelfPack")},
    **{f"{of}.currency": "EUR" for of in ("Supplier", "Settings")},
    **{f"{of}.formula": "fixer" for of in ("Item", "Ingredient", "AcceptedBath", "Bottle", "Replenishment")},
    **{f"{of}.format": "135-36" for of in ("Passed", "PlannedFilm", "TankLoad")},
    **{f"{of}.chemicals": ["sodium-sulfite"] for of in ("Caution", "LookAlike")},
    # Every acid of the small handbook is in a pair.
    "SubstanceGroup.chemicals": ["sodium-sulfite", "acetic-acid"],
    # More than any formula asks for.
    "Solubility.grams_per_litre": "900",
    "SpecificLimit.h": "H332",
    **{f"{of}.forms": ["anhydrous"] for of in ("Caution", "Hazards", "Restriction")},
    # As much as the old units beside it, in a litre for 850 mL.
    **{f"{of}.amount": "111 g" for of in ("Item", "Ingredient")},
    # A class and a figure that agree.
    "AcuteValue.way": "dust or mist",
    "AcuteValue.value": "1.5 mg/L",
    "Classification.hazard": "Acute Tox. 4",
    "Classification.h": "H332",
    "Classification.inhaled": "dust or mist",
    "LimitIon.formula": "SO3",
    "Active.entity": "sulfite",
    "Balance.capacity": "500 g",
    "Bottle.discard": "2027-01-01",
    "Caution.acid_against": ["group"],
    "Caution.after": ["group"],
    "Caution.beside": ["group"],
    "Caution.groups": ["group"],
    "Caution.statements": ["H319"],
    "Caution.unless": ["H318"],
    "FilmFormat.id": "135-36",
    "Form.cas": "7757-83-7",
    "Form.formula": "Na2SO3",
    "Form.id": "anhydrous",
    "Variation.shorter": "0:05",
    "CsvWord.ours": "sodium-sulfite",
    "Formula.makes": "1 L",
    "Formula.of": ["fixer"],
    "Formula.start_water": "500 mL",
    "Formula.start_temperature": "20 °C",
    "FilmCapacity.per": "1 L",
    "Hazards.basis": "anhydrous",
    "Hazards.euh": ["EUH031"],
    "Hazards.index": "016-063-00-2",
    "Hazards.not_classified": "no",
    "Beyond.h": "H332",
    "Ingredient.optional": "no",
    "Ingredient.swap": ["sodium-sulfite"],
    "Kit.kind": "concentrate",
    "Kit.process": "fixing",
    "Kit.replaces": ["fixer"],
    "LocalDisposal.link": "https://example.org/waste",
    "OtherTemperatures.hold": "no",
    "OtherTemperatures.lowest": "20 °C",
    "OtherTemperatures.highest": "40 °C",
    "Pair.groups": ["group", "group"],
    "Phrase.code": "H332",
    "PoisonCentre.number": "+00 00 000 000",
    "Replenishment.per": "135-36",
    "RateRow.base": "GBP",
    "RateRow.quote": "EUR",
    "ReuseStep.from_roll": "1",
    "Settings.format": "1",
    "Settings.formats": ["135-36"],
    "Settings.locale": "en_GB",
    "ShelfPack.left": "50 g",
    "SpecificLimit.below": "70 % w/w",
    "SubstanceGroup.id": "group",
    "Supplier.csv_locale": "en",
}


def filler_of(text: Callable[[str], str], fixed: Mapping[str, Any] | None = None) -> Examples:
    """Fills records with ``text``, and ids that exist."""
    return Examples(text, {**FIXED, **(fixed or {})})


def own_records(filler: Examples, name: str) -> dict[str, Any]:
    """Every kind that may be private, in full: file name to tree. ``name`` begins all their ids and folders."""
    first, second = f"{name}-a", f"{name}-b"
    given = {"formerly": [f"{name}-old"], "source": filler.record(Source)}
    asked = filler.record(Ingredient, "Ingredient.formula", "Item.formula")
    asked["or"].append(filler.record(Item, "Item.chemical", "Item.form", **DROP))
    one_of = {
        "ingredients": [
            asked,
            filler.record(
                Ingredient, "Ingredient.chemical", "Ingredient.form", "Ingredient.swap", "Ingredient.or", **DROP
            ),
        ],
        "make_up_with": filler.record(Item, "Item.formula", chemical="water", form="purified", **DROP),
        "replenishment": [filler.record(Replenishment, formula=second)],
    }
    formula = filler.record(
        Formula,
        *(f"Formula.{key}" for key in ("dilution", "of", "ph_not_stated")),
        *("Reuse.steps", "OtherTemperatures.factor"),
    )
    diluted = filler.record(
        Formula,
        *(f"Formula.{key}" for key in ("ingredients", "make_up_with", "published_for", "replenishment", "formerly")),
        *("Formula.ph", "Formula.adjust"),
        *("Reuse.add", "OtherTemperatures.table"),
    )
    wants = [
        {"formula": first, "litres": "1 L"},
        {"process": name, "films": [{"format": "135-36", "count": "2"}]},
    ]
    bottle = filler.record(Bottle, "Passed.length", id=name, formula=first)
    part = {**bottle, "id": f"{name}-part", "through": [filler.record(Passed, "Passed.count")]}
    steps = [filler.record(Step, optional="no"), filler.record(Step, "Step.only_for", optional="no")]
    varied = filler.record(Process, id=name, adapts="fixing", **given)
    return {
        f"solutions/{name}/{first}.yml": {**formula, **given, **one_of, "id": first},
        f"solutions/{name}/{second}.yml": {**diluted, "id": second, "name": f"{diluted['name']} 2"},
        f"processes/{name}.yml": {
            **varied,
            "steps": [{**step, "baths": [{**step["baths"][0], "formula": first}]} for step in steps],
            "variations": [
                filler.record(Variation, *(f"Variation.{key}" for key in TIMES - {kept}), step=steps[0]["name"])
                for kept in sorted(TIMES)
            ],
        },
        f"kits/{name}.yml": filler.record(Kit, id=name, process=name, replaces=[first]),
        f"plans/{name}.yml": filler.record(
            Plan, id=name, formerly=[f"{name}-old"], wants=wants, avoid=[name], compare=[name], budget="900 EUR"
        ),
        f"prices/{name}/supplier.yml": filler.record(Supplier),
        f"prices/{name}/2026-11-20.yml": filler.record(PriceList, date="2026-11-20"),
        "shelf.yml": {**filler.record(Shelf), "bottles": [bottle, part]},
    }


def common_records(filler: Examples) -> dict[str, Any]:
    """Every kind that is never private, in full."""
    chemical = filler.record(Chemical, "Chemical.keep_apart", id="sodium-sulfite", formerly=["old-sulfite"])
    phrases = filler.record(Phrases)
    return {
        "settings.yml": filler.record(Settings, "Settings.library"),
        "film_formats.yml": filler.record(FilmFormats),
        "look_alikes.yml": filler.record(LookAlikes),
        "hazard_phrases.yml": {
            **phrases,
            "phrases": [*phrases["phrases"], {"code": "EUH031", "text": filler.text("Phrase.text")}],
        },
        "incompatibilities.yml": filler.record(Incompatibilities),
        "cautions.yml": filler.record(Cautions),
        "exchange_rates.yml": filler.record(ExchangeRates),
        "control_tests.yml": filler.record(ControlTests),
        "chemicals/sodium-sulfite.yml": chemical,
    }


def write(folder: Path, trees: dict[str, Any]) -> None:
    """Lay files down; JSON is YAML too."""
    for name, tree in trees.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(json.dumps(tree, indent=2, ensure_ascii=False), "utf-8")
