"""Catalogues from text: a test reads as the files an author writes and the figures that come out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from textwrap import dedent

from reckoner.calc.results import Results, work_out
from reckoner.checks import check
from reckoner.loading.catalogue import build_catalogue, require
from reckoner.loading.files import data_file, kind_of
from reckoner.pages.kinds import pages
from reckoner.records.catalogue import Catalogue

TODAY = date(2026, 11, 25)
SOURCE = "source: {certainty: common practice, checked: 2026-11-25}"

SETTINGS = f"""
format: 1
title: Small handbook (invented)
currency: EUR
locale: en_GB
batch_sizes: [500 mL, 1 L]
first_batch: 1 L
rolls_a_month: 2
balances:
  - {{name: fine, step: 0.01 g, capacity: 50 g}}
  - {{name: coarse, step: 0.1 g, capacity: 500 g}}
cylinders:
  - {{name: syringe, step: 0.1 mL, capacity: 10 mL}}
  - {{name: small, step: 1 mL, capacity: 100 mL}}
  - {{name: large, step: 10 mL, capacity: 1 L}}
age_limits: {{prices: 6 months, exchange_rates: 2 months, formulas: 2 years, chemicals: 2 years, processes: 2 years,
  hazards: 2 years,
  disposal: 2 years}}
tap_water: {{price: 4 EUR, per: 1000 L, {SOURCE}}}
"""

WATER = f"""
id: water
name: Water
use: solvent
role: solvent
forms: [{{id: purified, name: purified water, state: liquid}}, {{id: tap, name: tap water, state: liquid}}]
{SOURCE}
"""


def chemical(chemical_id: str, forms: str, role: str = "other", active: str = "") -> str:
    """A chemical's file; ``forms`` is YAML flow text."""
    extra = f"active: {active}\n" if active else ""
    return f"id: {chemical_id}\nname: {chemical_id}\nuse: a test\nrole: {role}\n{extra}forms: {forms}\n{SOURCE}\n"


def formula(formula_id: str, ingredients: str, purpose: str = "fixer", more: str = "") -> str:
    """A formula that makes 1 L with tap water; ``ingredients`` is YAML flow text."""
    disposal = "ferricyanide" if "ferricyanide" in ingredients else "silver-bearing"
    return (
        f"id: {formula_id}\nname: {formula_id}\npurpose: {purpose}\nstrength: working\nmakes: 1 L\nwater: tap\n"
        f"ingredients: {ingredients}\ncautions: [wear gloves]\ndisposal: {disposal}\n{more}{SOURCE}\n"
    )


def process(*formulas: str) -> str:
    """The file of a process ``pr``: one bath after another, without washes."""
    steps = "".join(
        f"  - {{name: {f}, kind: bath, light: room light, certainty: common practice,"
        f" baths: [{{formula: {f}, certainty: common practice}}]}}\n"
        for f in formulas
    )
    return f"id: pr\nname: pr\nkind: colour negative\ndarkness: none\ncautions: [gloves]\nsteps:\n{steps}{SOURCE}\n"


def supplier(currency: str = "EUR", vat_included: str = "yes") -> str:
    """A supplier's file."""
    return (
        f"name: Test supplier (invented)\ncountry: Nowhere\ncurrency: {currency}\nvat_included: {vat_included}\n"
        f"vat: 20 %\ninvented: yes\n{SOURCE}\n"
    )


def load(files: Mapping[str, str | bytes], today: date = TODAY) -> Catalogue:
    """A checked catalogue from file names below ``formulas/`` and their text, or the bytes of a workbook.

    Raises:
        HandbookError: with every fault.
    """
    texts: dict[str, str | bytes] = {"settings.yml": SETTINGS, "chemicals/water.yml": WATER, **files}
    data = []
    for name, text in texts.items():
        kind = kind_of(Path(name))
        assert kind is not None, name
        data.append(data_file(f"formulas/{name}", kind, dedent(text) if isinstance(text, str) else text))
    catalogue, problems = build_catalogue(data, today)
    if catalogue is not None:
        problems = problems + check(catalogue)
    return require(catalogue, problems)


def results(files: dict[str, str], today: date = TODAY) -> Results:
    """Everything worked out from some files."""
    return work_out(load(files, today))


def page_text(found: Results, path: str) -> str:
    """The Markdown of one page."""
    return next(one.markdown for one in pages(found) if one.path == path)
