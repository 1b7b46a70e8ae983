"""How a bath is used again: longer times, replenisher, times at other temperatures."""

from __future__ import annotations

from pydantic import model_validator

from reckoner.problems import ValueFault
from reckoner.records.source import Certainty
from reckoner.records.values import Clock, Count, Flag, Id, Number, Record, TaxRate, Temperature, Text, Volume


class ReuseStep(Record):
    """From this roll through a litre on, this time.

    Attributes:
        from_roll: the first roll that has this time; the first step begins with 1.
        time: minutes and seconds from that roll on.
    """

    from_roll: Count
    time: Clock


class Reuse(Record):
    """How the time grows with the film that has gone through a litre.

    Attributes:
        add: per cent of the first time for each roll that a litre has done, or
        steps: times by roll, as a table.
        time: the first time that ``add`` is reckoned from; left out where it depends on the film.
        most: rolls that a litre may do by this rule.
        certainty: how sure the rule is.
        citation: where the rule stands, if elsewhere than the formula.
        note: what else to know about it.
    """

    add: TaxRate | None = None
    time: Clock | None = None
    steps: tuple[ReuseStep, ...] = ()
    most: Count
    certainty: Certainty
    citation: Text | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _one_rule(self) -> Reuse:
        if (self.add is None) == (not self.steps):
            raise ValueFault("reuse has one rule (write add: 10 %, or steps: with from_roll and time)")
        rolls = [step.from_roll for step in self.steps]
        if rolls and (rolls[0] != 1 or rolls != sorted(set(rolls))):
            raise ValueFault("steps begin with from_roll: 1 and go up (put them in order)", "steps")
        return self


class Replenishment(Record):
    """Replenisher for an amount of film.

    Attributes:
        formula: the replenisher; left out where it is the bath itself or not in the handbook.
        add: for each ``per``.
        per: id of a film format, as ``35mm-100ft``; left out for a roll of 80 square inches.
        certainty: how sure the rate is.
        citation: where the rate stands, if elsewhere than the formula.
        note: what else to know about it.
    """

    formula: Id | None = None
    add: Volume
    per: Id | None = None
    certainty: Certainty
    citation: Text | None = None
    note: Text | None = None


class TimeAt(Record):
    """A time at one temperature.

    Attributes:
        temperature: of the bath.
        time: minutes and seconds at it.
    """

    temperature: Temperature
    time: Clock


class OtherTemperatures(Record):
    """Times at other temperatures, inside a range and never outside it.

    Attributes:
        table: times as published, or
        factor: by which the time falls for 10 °C more, from ``time`` at ``temperature``.
        time: the time that the factor is reckoned from.
        temperature: at which that time holds.
        lowest: the coldest that the rule holds for.
        highest: the warmest that the rule holds for.
        hold: the temperature must be held: no other time is given, and why.
        certainty: how sure the rule is.
        citation: where the rule stands, if elsewhere than the formula.
        note: why the temperature is held, or what else to know.
    """

    table: tuple[TimeAt, ...] = ()
    factor: Number | None = None
    time: Clock | None = None
    temperature: Temperature | None = None
    lowest: Temperature | None = None
    highest: Temperature | None = None
    hold: Flag = False
    certainty: Certainty
    citation: Text | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _one_rule(self) -> OtherTemperatures:
        if [bool(self.table), self.factor is not None, self.hold].count(True) != 1:
            raise ValueFault("one rule for other temperatures (write table:, factor: or hold: yes)")
        needed = (self.time, self.temperature, self.lowest, self.highest)
        if self.factor is not None and None in needed:
            raise ValueFault("a factor needs time, temperature, lowest and highest (write all four)", "factor")
        if self.hold and not self.note:
            raise ValueFault("hold: yes says why (write note: a colour process, hold 37.8 °C)", "hold")
        return self


class MinimumVolume(Record):
    """The least of a bath that one roll needs, however small the tank.

    Attributes:
        per_roll: that volume.
        certainty: how sure it is.
        citation: where it stands, if elsewhere than the formula.
    """

    per_roll: Volume
    certainty: Certainty
    citation: Text | None = None
