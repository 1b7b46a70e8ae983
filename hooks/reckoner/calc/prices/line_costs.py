"""What each line of a formula has part in of its cost: the used cost of a litre, split over the mixing order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal

from reckoner.calc.prices.costing import Cost, CostRow
from reckoner.money import Money, nothing

Line = tuple[int, int]
#: Water and whatever else the bath is made up with.
MAKE_UP: Line = (-1, 0)


def line_costs(cost: Cost) -> Mapping[Line, Money | None]:
    """Cost used of a litre by place in mixing order and number of the alternative; None while a price is missing.

    A line that is a solution costs what is in it, its water too. Lines that the cost does not count are not there.
    The sum over all lines is ``cost.used_per_litre``.
    """
    costs: dict[Line, Money | None] = {}
    for row in cost.rows:
        for line, part in _parts(row):
            before = costs.get(line, nothing(part.currency) if part else None)
            costs[line] = before + part if before is not None and part is not None else None
    return costs


def _parts(row: CostRow) -> Iterator[tuple[Line, Money | None]]:
    """Each need that a row fills with its part, by amount, of what the row costs."""
    # Metered water is asked in the unit it is drawn in: nothing is converted.
    factors = [conversion.factor for conversion in row.conversions] or [Decimal(1)] * len(row.asked)
    for need, factor in zip(row.asked, factors, strict=True):
        line = (need.line, need.alternative)
        if row.used is None or row.per_litre is None:
            yield line, None
        else:
            yield line, row.used * (need.per_litre * factor / row.per_litre)
