"""Dilutions by parts, exact."""

from __future__ import annotations

from decimal import Decimal

from reckoner.records.values import Dilution


def part_volumes(dilution: Dilution, total: Decimal) -> tuple[Decimal, ...]:
    """Volumes of the parts that make ``total``, in the same unit and order.

    >>> [str(v) for v in part_volumes(Dilution((Decimal(1), Decimal(9))), Decimal(1000))]
    ['100', '900']
    """
    return tuple(total * part / dilution.total for part in dilution.parts)
