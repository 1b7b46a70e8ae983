"""Bottles on the shelf: film through each against what it can do, the next time, and when to discard it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from reckoner.calc.film.capacity import STATES, doing_again, rolls_of
from reckoner.calc.film.days import shortest
from reckoner.calc.film.film import area_m2
from reckoner.calc.film.times import NextTime, next_time
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.settings import FilmFormat, Tank
from reckoner.records.shelf import Bottle, Passed
from reckoner.records.values import Range
from reckoner.rounding import down
from reckoner.units import Rolls, RollsPerLitre

ZERO = Decimal(0)


@dataclass(frozen=True)
class Ends:
    """The last good day of a bottle by age.

    Attributes:
        state: the keeping state that counts, or None where the owner set the day.
        days, start: what is added to what.
    """

    day: date
    state: str | None = None
    days: int = 0
    start: date | None = None


@dataclass(frozen=True)
class Could:
    """What all of a bottle does, by both figures of its formula's capacity."""

    cautious: Rolls
    generous: Rolls


@dataclass(frozen=True)
class BottleState:
    """A bottle as of a day.

    Attributes:
        rolls, area: film that went through it, in the trade's rolls and in m².
        loads: tankfuls that this film was: films of one line that the owner's tank holds at once are one.
        litre: rolls that a litre of it has done; half a litre has done twice as much a litre for the same film.
        could: what its volume does, or None where nothing is recorded.
        left: rolls it still does by the cautious figure; None where nothing is recorded.
        next: the time for the next film, where the formula has a rule.
        ends: last good day by age; None where no keeping time is recorded.
        spent, over, old: past the cautious figure, past the generous one, expired.
    """

    bottle: Bottle
    rolls: Rolls
    area: Decimal
    loads: int
    litre: RollsPerLitre
    could: Could | None
    left: Rolls | None
    next: NextTime | None
    ends: Ends | None
    spent: bool
    over: bool
    old: bool


def bottle_states(catalogue: Catalogue) -> tuple[BottleState, ...]:
    """Every bottle on the shelf: the expired ones first, then those that expire next, on whatever day they are read."""
    bottles = catalogue.shelf.bottles if catalogue.shelf else ()
    states = [state_of(bottle, catalogue) for bottle in bottles]
    return tuple(sorted(states, key=lambda state: (state.ends.day if state.ends else date.max, state.bottle.id)))


def state_of(bottle: Bottle, catalogue: Catalogue) -> BottleState:
    """One bottle as of the catalogue's day."""
    formula = catalogue.formulas[bottle.formula]
    litres = bottle.volume.litres
    through = [(passed, catalogue.films[passed.format]) for passed in bottle.through]
    films = [(film, films_in(passed, film)) for passed, film in through]
    rolls = Rolls(sum((rolls_of(film) * count for film, count in films), ZERO))
    area = sum((area_m2(film) * count for film, count in films), ZERO)
    each = doing_again(formula)
    could = None if each is None else Could(Rolls(each.cautious * litres), Rolls(each.generous * litres))
    ends = last_day(bottle, formula)
    return BottleState(
        bottle=bottle,
        rolls=rolls,
        area=area,
        loads=sum(loads_of(passed.count, at_once(film, catalogue.settings.tanks)) for passed, film in through),
        litre=RollsPerLitre(rolls / litres),
        could=could,
        left=None if could is None else Rolls(max(ZERO, could.cautious - rolls)),
        next=next_time(formula.reuse, rolls, litres) if formula.reuse else None,
        ends=ends,
        spent=could is not None and rolls >= could.cautious,
        over=could is not None and rolls > could.generous,
        old=ends is not None and catalogue.today > ends.day,
    )


def at_once(film: FilmFormat, tanks: Iterable[Tank]) -> int | None:
    """Films of a format that the owner's largest tank for it holds; None where no tank does."""
    return max((hold.count for tank in tanks for hold in tank.holds if hold.format == film.id), default=None)


def loads_of(count: int, held: int | None) -> int:
    """Loads of so many films of one day; one, where nothing is known of the tank."""
    return 1 if held is None else -(-count // held)


def films_in(passed: Passed, film: FilmFormat) -> Decimal:
    """How many films went through: their count, or a length as part of the format's own."""
    return Decimal(passed.count) if passed.length is None else passed.length.base / film.length.base


def last_day(bottle: Bottle, formula: Formula) -> Ends | None:
    """The last good day by age, by the cautious keeping time; None where none is recorded.

    A bottle keeps as a full one until it is opened or film goes through it; from then on as a part-full one, and from
    the first film on as a working bath, whichever ends first.
    """
    if bottle.discard is not None:
        return Ends(bottle.discard)
    return min(_lasts(bottle, formula), key=lambda end: end.day, default=None)


def _lasts(bottle: Bottle, formula: Formula) -> Iterator[Ends]:
    kept = {keeping.state: keeping.time for keeping in formula.keeping if keeping.time is not None}
    films = [passed.day for passed in bottle.through]
    begun = films + ([bottle.opened] if bottle.opened else [])
    part_full = bottle.fill == "part full" or bool(begun)
    states = STATES if part_full else ("full bottle", "part-full bottle", "working")
    state = next((state for state in states if state in kept), None)
    if state is not None:
        # A full bottle's time counts from mixing, a part-full one's from the day it was broached.
        yield _after(state, kept[state], min(begun) if part_full and begun else bottle.mixed)
    if films and "working" in kept:
        yield _after("working", kept["working"], min(films))
    spans = [capacity.within for capacity in formula.capacity if capacity.within is not None]
    if films and spans:
        yield _after("in use", min(spans, key=shortest), min(films))


def _after(state: str, span: Range, start: date) -> Ends:
    days = down(shortest(span))
    return Ends(start + timedelta(days=days), state, days, start)
