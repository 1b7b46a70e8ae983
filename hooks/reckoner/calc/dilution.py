"""Dilutions, percent solutions and working strengths: the textbook arithmetic, exact."""

from __future__ import annotations

from decimal import Decimal

from reckoner.records.values import Dilution


def part_volumes(dilution: Dilution, total: Decimal) -> tuple[Decimal, ...]:
    """Volumes of the parts that make ``total``, in the same unit and order.

    >>> [str(v) for v in part_volumes(Dilution((Decimal(1), Decimal(9))), Decimal(1000))]
    ['100', '900']
    """
    return tuple(total * part / dilution.total for part in dilution.parts)


def stock_volume(stock_strength: Decimal, wanted_strength: Decimal, wanted_volume: Decimal) -> Decimal:
    """Volume of a stock that, made up to ``wanted_volume``, has ``wanted_strength`` (C1 V1 = C2 V2).

    Raises:
        ValueError: the stock is weaker than what is wanted.
    """
    if wanted_strength > stock_strength:
        raise ValueError("the stock solution is weaker than the solution wanted")
    return wanted_volume * wanted_strength / stock_strength


def solute_mass(volume_ml: Decimal, density: Decimal, percent_by_mass: Decimal) -> Decimal:
    """Grams of solute in a volume (mL) of solution of given density (g/mL) and % w/w."""
    return volume_ml * density * percent_by_mass / Decimal(100)


def grams_for_molarity(litres: Decimal, moles_per_litre: Decimal, molar_mass: Decimal) -> Decimal:
    """Grams of a compound for a volume of stated molarity."""
    return litres * moles_per_litre * molar_mass
