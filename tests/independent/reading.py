"""The demonstration data read a second time, for ``independent.py``: nothing here comes from the handbook's core.

Files are read as plain text in plain YAML; every number is a ``Fraction``. What is not understood is refused, so that
a new spelling in the data fails here and is not passed over.
"""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from pathlib import Path
from typing import Any

import yaml

#: IUPAC, Standard atomic weights of the elements 2021, abridged to five figures (Pure Appl. Chem. 94 (2022) 573-600);
#: recalled, not read.
ATOMIC_WEIGHTS = {
    **{"H": "1.0080", "B": "10.81", "C": "12.011", "N": "14.007", "O": "15.999", "F": "18.998", "Na": "22.990"},
    **{"Mg": "24.305", "Al": "26.982", "Si": "28.085", "P": "30.974", "S": "32.06", "Cl": "35.45", "K": "39.098"},
    **{"Ca": "40.078", "Cr": "51.996", "Mn": "54.938", "Fe": "55.845", "Cu": "63.546", "Zn": "65.38"},
    **{"Br": "79.904", "Ag": "107.87", "Sn": "118.71", "I": "126.90"},
}
#: How far two tables of atomic weights may part in the ratio of two molar masses: sulfur is 32.059 to 32.076 in nature,
#: and 32.06 above.
WEIGHTS_DIFFER = Fraction(1, 50_000)
#: Unit -> mass or volume, and how many g or mL.
UNITS = {
    **{"mg": ("mass", "0.001"), "g": ("mass", "1"), "kg": ("mass", "1000")},
    **{"mL": ("volume", "1"), "L": ("volume", "1000")},
}
_PART = re.compile(r"(\d+(?:\.\d+)?)?((?:[A-Z][a-z]?\d*|[(\[]|[)\]]\d*)+)(?:\.|\Z)")

Tree = dict[str, Any]
Amount = tuple[str, Fraction]


def amount(text: str) -> Amount:
    """``2.5 kg`` -> ("mass", 2500)."""
    number, unit = text.split()
    kind, factor = UNITS[unit]
    return kind, Fraction(number) * Fraction(factor)


def mass(formula: str) -> Fraction:
    """Molar mass of ``K2CO3.1.5H2O``."""
    at, total = 0, Fraction(0)
    while at < len(formula):
        part = _PART.match(formula, at)
        assert part, formula
        total += Fraction(part[1] or 1) * _group(part[2])
        at = part.end()
    return total


def _group(text: str) -> Fraction:
    sums = [Fraction(0)]
    for symbol, opens, closes, count in re.findall(r"(?:([A-Z][a-z]?)|([(\[])|([)\]]))(\d*)", text):
        if opens:
            sums.append(Fraction(0))
        elif closes:
            inner = sums.pop()
            sums[-1] += inner * int(count or 1)
        else:
            sums[-1] += Fraction(ATOMIC_WEIGHTS[symbol]) * int(count or 1)
    (total,) = sums
    return total


def strength(text: str) -> tuple[Fraction, str]:
    """``60 % w/w`` -> (60/100, "w/w")."""
    number, sign, basis = text.split()
    assert sign == "%" and basis in {"w/w", "w/v", "v/v"}, text
    return Fraction(number) / 100, basis


def money(text: str) -> tuple[Fraction, str]:
    """``8.90 EUR`` -> (8.90, "EUR")."""
    number, currency = text.split()
    return Fraction(number), currency


def per_cent(text: str) -> Fraction:
    """``20 %`` -> 20/100."""
    number, sign = text.split()
    assert sign == "%", text
    return Fraction(number) / 100


def half_up(value: Fraction, step: Fraction) -> Fraction:
    """To a multiple of a step, halves upwards."""
    return (value / step + Fraction(1, 2)).__floor__() * step


def one(path: Path) -> Tree:
    """A file with every scalar as the text that stands there."""
    tree: Tree = yaml.load(path.read_text("utf-8"), yaml.BaseLoader)
    return tree


def many(folder: Path, pattern: str) -> dict[str, Tree]:
    """Files by their ids; the owner's stand before those of the library."""
    trees = [one(path) for at in (folder / "library", folder) for path in sorted(at.glob(pattern))]
    return {tree["id"]: tree for tree in trees}


def price_lists(folder: Path) -> list[tuple[str, str, bool, list[Tree]]]:
    """Supplier, day, whether the list is complete, and its rows; the older list of a supplier first."""
    found = []
    for path in sorted(folder.glob("*/*")):
        supplier, day = path.parent.name, path.stem
        if path.suffix == ".csv":
            with path.open(encoding="utf-8", newline="") as file:
                rows = [{name: cell for name, cell in row.items() if cell} for row in csv.DictReader(file)]
            found.append((supplier, day, False, rows))
        elif path.name != "supplier.yml":
            tree = one(path)
            found.append((supplier, tree["date"], tree.get("complete") in {"yes", "true"}, tree["offers"]))
    return sorted(found, key=lambda listed: listed[:2])
