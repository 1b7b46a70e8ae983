"""How a bath is used, keeps and is used again: film it does, longer times, replenisher, other temperatures."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from reckoner.problems import ValueFault
from reckoner.records.source import Certainty
from reckoner.records.values import (
    Capacity,
    Clock,
    Count,
    Duration,
    Flag,
    Id,
    Number,
    Record,
    TaxRate,
    Temperature,
    Text,
    Volume,
)


class Use(Record):
    """How the bath is used outside a process page.

    Attributes:
        temperature: of the bath in use.
        time: minutes and seconds in it.
        note: what else to know, how to agitate say.
        certainty: how sure these values are.
    """

    temperature: Temperature | None = None
    time: Clock | None = None
    note: Text | None = None
    certainty: Certainty


class Keeping(Record):
    """How long it keeps in one state; without a time the note says why.

    Attributes:
        state: how full the bottle is, or that the bath has been worked with, or stands open.
        time: how long it keeps so.
        note: what the time depends on, or why there is none.
        certainty: how sure this time is.
    """

    state: Literal["full bottle", "part-full bottle", "working", "open tray"]
    time: Duration | None = None
    note: Text | None = None
    certainty: Certainty

    @model_validator(mode="after")
    def _says_something(self) -> Keeping:
        if self.time is None and self.note is None:
            raise ValueFault("keeping needs a time or a note (write time: 6 months, or note: discard after use)")
        return self


class FilmCapacity(Record):
    """How much film or paper a volume does before it is spent.

    Attributes:
        does: rolls, sheets or square metres, cautious to generous.
        per: the volume that does it.
        how: what it depends on.
        once: it is poured away after one use.
        within: all of it from the first film on; a bottle that film has gone through is good so long.
        certainty: how sure this value is.
    """

    does: Capacity
    per: Volume
    how: Text | None = None
    once: Flag = False
    within: Duration | None = None
    certainty: Certainty


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
