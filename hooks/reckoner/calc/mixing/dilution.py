"""Dilutions by parts: exact, and as measured parts that add up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from reckoner.calc.mixing.instruments import Measured
from reckoner.records.values import Dilution


def part_volumes(dilution: Dilution, total: Decimal) -> tuple[Decimal, ...]:
    """Volumes of the parts that make ``total``, in the same unit and order.

    >>> [str(v) for v in part_volumes(Dilution((Decimal(1), Decimal(9))), Decimal(1000))]
    ['100', '900']
    """
    return tuple(total * part / dilution.total for part in dilution.parts)


def adding_up(exact: Sequence[Decimal], measured: Sequence[Measured], volume: Decimal) -> list[Measured]:
    """The parts with the largest of them, of equal ones the last, as what is left of the volume beside the others.

    250 mL of 1+1 in steps of 2 mL are 126 and 124 mL, not twice 126: nobody measures 252 mL for a jar of 250.

    Args:
        exact: mL of each part; water is the last.
        measured: each part by itself.
        volume: mL of all.
    """
    largest = max(range(len(exact)), key=lambda part: (exact[part], part))
    others = sum((part.rounded for at, part in enumerate(measured) if at != largest), Decimal(0))
    left = max(Decimal(0), volume - others)
    # What is left may lie between two marks of its instrument, and is shown with the decimals that it has.
    step = min(measured[largest].step, Decimal(1).scaleb(-_decimals(left)))
    parts = list(measured)
    parts[largest] = replace(measured[largest], rounded=left, step=step)
    return parts


def _decimals(value: Decimal) -> int:
    return len(format(value.normalize(), "f").partition(".")[2])
