"""Molar masses from chemical formulas, and the moles in an amount of a form.

Atomic weights are those of the ``molmass`` package (IUPAC); the tests compare every form with ``periodictable``.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

from molmass import ELEMENTS, FormulaError
from molmass import Formula as Molecule

from reckoner.problems import ValueFault
from reckoner.records.chemical import Form
from reckoner.records.values import Strength

#: A point that joins the parts of a hydrate or salt, not the point of a number: Na2CO3.10H2O, X.1.5H2SO4.H2O
_JOIN = re.compile(r"(?<=[A-Za-z\)\]0-9])\.(?=\d*\.?\d*[A-Z\(\[])")
_SYMBOL = re.compile(r"[A-Z][a-z]?")
_PLAIN = re.compile(r"(?:[(\[]|(?:[A-Z][a-z]?|[)\]])(?:[0-9]{1,3}(?![0-9]))?)+\Z")
_PART = re.compile(r"(\d+(?:\.\d+)?)?(.+)\Z")
HUNDRED = Decimal(100)


@cache
def molar_mass(formula: str) -> Decimal:
    """Molar mass in g/mol, to 0.001.

    ``molmass`` reads ``.1.5H2SO4`` as fifteen tenths twice over, so the parts are weighed one by one.

    Raises:
        ValueFault: the text is no chemical formula.

    >>> molar_mass("Na2CO3.10H2O")
    Decimal('286.141')
    >>> molar_mass("K2CO3.1.5H2O")
    Decimal('165.228')
    """
    total = Decimal(0)
    for part in split_hydrate(formula):
        count, rest = part
        try:
            # molmass also reads Me, Et, isotopes and peptides; in a jar's formula they are slips.
            if not 0 < count < 1000 or not _PLAIN.match(rest) or any(s not in ELEMENTS for s in _SYMBOL.findall(rest)):
                raise ValueError(rest)
            mass = Decimal(repr(float(Molecule(rest).mass)))
        except (FormulaError, ValueError, KeyError, ArithmeticError):
            raise ValueFault(f"'{formula}' is no chemical formula (write it as Na2CO3.10H2O)") from None
        total += count * mass
    return total.quantize(Decimal("0.001"))


def split_hydrate(formula: str) -> tuple[tuple[Decimal, str], ...]:
    """The parts of a formula with their counts.

    >>> split_hydrate("K2CO3.1.5H2O")
    ((Decimal('1'), 'K2CO3'), (Decimal('1.5'), 'H2O'))
    """
    parts = []
    for text in _joined(formula):
        match = _PART.match(text)
        if match is None:
            raise ValueFault(f"'{formula}' is no chemical formula (write it as Na2CO3.10H2O)")
        parts.append((Decimal(match[1] or 1), match[2]))
    return tuple(parts)


def _joined(formula: str) -> list[str]:
    pieces: list[str] = []
    for piece in _JOIN.split(formula):
        # "1.5H2SO4" was split at its own point when the digit before it looked like the end of a part.
        if pieces and re.fullmatch(r"\d+", pieces[-1]):
            pieces[-1] += "." + piece
        else:
            pieces.append(piece)
    return pieces


def solute_per_unit(form: Form, assay: Strength | None = None) -> Decimal:
    """Grams of the pure compound in 1 g of a solid form or 1 mL of a liquid one.

    Args:
        form: as catalogued; its strength is the nominal one.
        assay: of a particular jar, overrides the form's strength.

    Raises:
        ValueFault: a liquid without the strength or density that the sum needs.
    """
    strength = assay or form.strength
    if form.state == "solid":
        if strength is None:
            return Decimal(1)
        return strength.percent / HUNDRED
    if strength is None:
        raise ValueFault(f"{form.name} has no strength in the catalogue (add strength: as 60 % w/w)")
    if strength.basis == "w/v":
        return strength.percent / HUNDRED
    if strength.basis == "v/v":
        raise ValueFault(f"{form.name} is given in % v/v, which does not tell its mass (write % w/w and a density)")
    if form.density is None:
        raise ValueFault(f"{form.name} has no density in the catalogue (add density: as 1.33 g/mL)")
    return form.density * strength.percent / HUNDRED


def moles_per_unit(form: Form, assay: Strength | None = None) -> Decimal:
    """Moles of formula units in 1 g (solid) or 1 mL (liquid) of a form.

    Raises:
        ValueFault: no chemical formula, strength or density in the catalogue.
    """
    if form.formula is None:
        raise ValueFault(f"{form.name} has no chemical formula and converts to nothing else")
    return solute_per_unit(form, assay) / molar_mass(form.formula)
