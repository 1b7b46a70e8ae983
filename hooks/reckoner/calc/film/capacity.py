"""How much film a bath does before it is spent or too old: cautious and generous figures, both kept.

Rolls are the trade's: one 135-36, one 120, four sheets 4x5 or one 8x10, 80 square inches each (common practice).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.days import longest, shortest
from reckoner.calc.film.film import TRADE_UNIT_SQ_IN, trade_units
from reckoner.records.formula import Formula
from reckoner.records.settings import FilmFormat
from reckoner.records.use import Keeping
from reckoner.units import Rolls, RollsPerLitre, factor

#: What one of a capacity's units is in rolls.
ROLLS: dict[str, Decimal] = {
    "rolls": Decimal(1),
    "sheets_8x10": Decimal(1),
    "sq_in": 1 / TRADE_UNIT_SQ_IN,
    "m2": factor("m2") / factor("sq_in") / TRADE_UNIT_SQ_IN,
}
#: A bath that is used again stands in a bottle that is not full; what is recorded for less air comes after.
STATES = ("part-full bottle", "full bottle", "working")


@dataclass(frozen=True)
class Doing:
    """What a litre of a bath does, in rolls.

    Attributes:
        cautious: the least that any way of use recorded gives; plans and sessions count on it.
        generous: the most that any gives.
        cautious_how: the condition that the least is stated with, as "used once"; empty where none is.
        generous_how: the condition of the most, as "with the time lengthened" or "replenished".
        cautious_once, generous_once: whether the bath is then poured away after one use.
    """

    cautious: RollsPerLitre
    generous: RollsPerLitre
    cautious_how: str = ""
    generous_how: str = ""
    cautious_once: bool = False
    generous_once: bool = False


@dataclass(frozen=True)
class Life:
    """How long a mixed bath keeps, in days, cautious and generous."""

    cautious: Decimal
    generous: Decimal


@dataclass(frozen=True)
class SetCapacity:
    """What one litre of each bath of a process does together.

    Attributes:
        doing: by formula id; baths without a recorded capacity are missing here.
        first_out: the bath whose capacity ends first by the cautious figure, or None where none is recorded.
    """

    baths: tuple[str, ...]
    doing: dict[str, Doing]
    first_out: str | None

    @property
    def cautious(self) -> RollsPerLitre | None:
        """Rolls of the bath that gives out first, by its cautious figure."""
        return self.doing[self.first_out].cautious if self.first_out else None

    @property
    def generous(self) -> RollsPerLitre | None:
        """Rolls of the bath that gives out first by the generous figures."""
        return min((does.generous for does in self.doing.values()), default=None)


def rolls_of(film: FilmFormat) -> Rolls:
    """A film in the trade's rolls: as the trade counts it, else by its area."""
    return Rolls(film.counts_as if film.counts_as is not None else trade_units(film))


def doing(formula: Formula) -> Doing | None:
    """Rolls a litre does, over every way of use that is recorded: the least and the most; None where none is.

    Where two ways give the same, the one recorded first tells its condition.
    """
    each = [(use, ROLLS[use.does.unit] / use.per.litres) for use in formula.capacity]
    if not each:
        return None
    least, of_least = min(each, key=lambda pair: pair[0].does.low * pair[1])
    most, of_most = max(each, key=lambda pair: pair[0].does.high * pair[1])
    return Doing(
        cautious=RollsPerLitre(least.does.low * of_least),
        generous=RollsPerLitre(most.does.high * of_most),
        cautious_how=least.how or "",
        generous_how=most.how or "",
        cautious_once=least.once,
        generous_once=most.once,
    )


def doing_again(formula: Formula) -> Doing | None:
    """Rolls a litre does that is kept and used again: ways of one use count only where nothing else is recorded."""
    again = tuple(use for use in formula.capacity if not use.once)
    return doing(formula.model_copy(update={"capacity": again})) if again else doing(formula)


def life(formula: Formula) -> Life | None:
    """Days a mixed bath keeps, from the state that a bath in use is kept in."""
    timed: dict[str, Keeping] = {keeping.state: keeping for keeping in formula.keeping if keeping.time is not None}
    for state in STATES:
        span = timed[state].time if state in timed else None
        if span is not None:
            return Life(shortest(span), longest(span))
    return None


def set_capacity(baths: Iterable[Formula], of: Callable[[Formula], Doing | None] = doing) -> SetCapacity:
    """Capacity of equal volumes of some baths used together; ``of`` is what a litre of one of them does."""
    used = tuple(baths)
    does = {bath.id: rolls for bath in used if (rolls := of(bath)) is not None}
    return SetCapacity(
        tuple(bath.id for bath in used),
        does,
        min(does, key=lambda i: (does[i].cautious, i), default=None),
    )
