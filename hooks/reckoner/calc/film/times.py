"""Development times: after film has gone through the bath, and at another temperature. Only by a recorded rule."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.temperature import celsius
from reckoner.problems import ValueFault
from reckoner.records.use import OtherTemperatures, Reuse
from reckoner.records.values import Range
from reckoner.rounding import round_half_up
from reckoner.units import ONE_LITRE, Litres, Rolls

#: Times are told in whole seconds; a table for other temperatures in whole quarters of a minute, as tables are printed.
SECOND, QUARTER = Decimal(1), Decimal(15)
HUNDRED, TEN = Decimal(100), Decimal(10)


@dataclass(frozen=True)
class NextTime:
    """The time for the next film.

    Attributes:
        seconds: None where the rule ends, or the first time depends on the film.
        factor: by which the film's first time is multiplied, where the rule is in per cent and has not ended.
    """

    seconds: Range | None
    rule: str
    factor: Decimal | None = None

    @property
    def ended(self) -> bool:
        """Whether a litre has done all that the rule allows."""
        return self.seconds is None and self.factor is None


def next_time(reuse: Reuse, rolls: Rolls, litres: Litres) -> NextTime:
    """Time for the next load through ``litres`` that ``rolls`` of film have gone through.

    What counts is rolls a litre of this very bottle. Films of one load share the time, and all of them count after it.

    >>> from reckoner.records.use import Reuse
    >>> rule = Reuse.model_validate({"add": "10 %", "time": "7:30", "most": "10", "certainty": "common practice"})
    >>> str(next_time(rule, Decimal(2), Decimal(1)).seconds.low)
    '540'
    """
    if rolls >= reuse.most * litres:
        return NextTime(None, f"a litre has done its {reuse.most} rolls")
    if reuse.add is not None:
        # Divided last: a quotient that does not end would turn a half second into less than one.
        whole, more = HUNDRED * litres, HUNDRED * litres + reuse.add * rolls
        rule = f"{reuse.add} % more for each roll a litre has done"
        if reuse.time is None:
            return NextTime(None, rule, more / whole)
        low, high = (round_half_up(end * more / whole, SECOND) for end in (reuse.time.low, reuse.time.high))
        return NextTime(Range(low, high, reuse.time.unit), rule, more / whole)
    step = [row for row in reuse.steps if (row.from_roll - 1) * litres <= rolls][-1]
    return NextTime(step.time, f"from roll {step.from_roll} of a litre on")


def time_table(reuse: Reuse) -> Iterator[tuple[int, Range]]:
    """The time for each roll through one litre, the first being 1."""
    for roll in range(1, reuse.most + 1):
        time = next_time(reuse, Rolls(Decimal(roll - 1)), ONE_LITRE).seconds
        if time is not None:
            yield roll, time


def time_at(rule: OtherTemperatures, degrees: Decimal) -> Range:
    """The time at a temperature in °C, in whole quarters of a minute.

    Raises:
        ValueFault: outside the stated range, between the rows of a table, or where the temperature is to be held.
    """
    if rule.hold:
        raise ValueFault(f"no other temperature: {rule.note}")
    if rule.table:
        times = [row.time for row in rule.table if celsius(row.temperature.low, row.temperature.unit) == degrees]
        if not times:
            raise ValueFault(f"{degrees} °C is in no row of the published table (use one of its temperatures)")
        return times[0]
    assert rule.factor and rule.time and rule.temperature and rule.lowest and rule.highest, "the record asks for all"
    low, high = (celsius(end.low, end.unit) for end in (rule.lowest, rule.highest))
    if not low <= degrees <= high:
        raise ValueFault(f"{degrees} °C is outside {low} to {high} °C, for which the rule holds")
    steps = (degrees - celsius(rule.temperature.low, rule.temperature.unit)) / TEN
    factor = rule.factor**-steps
    first, last = (round_half_up(end * factor, QUARTER) for end in (rule.time.low, rule.time.high))
    return Range(first, last, rule.time.unit)


def temperature_table(rule: OtherTemperatures) -> Iterator[tuple[Range, Range]]:
    """Temperatures with their times: the published rows, or each whole °C of the range."""
    if rule.table:
        yield from ((row.temperature, row.time) for row in rule.table)
        return
    if rule.factor is None or rule.lowest is None or rule.highest is None:
        return
    low, high = (celsius(end.low, end.unit) for end in (rule.lowest, rule.highest))
    for degrees in range(math.ceil(low), math.floor(high) + 1):
        at = Decimal(degrees)
        yield Range(at, at, "°C"), time_at(rule, at)
