"""The owner's tanks in one process: whether a load has enough developer, and how many loads a set of baths does."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.capacity import SetCapacity, doing_again, rolls_of, set_capacity
from reckoner.calc.reach import owners_films
from reckoner.calc.scaling import LITRE
from reckoner.calc.sets import usual_baths
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.process import Process
from reckoner.records.settings import FilmFormat, Tank
from reckoner.rounding import down


@dataclass(frozen=True)
class LeastBath:
    """The least of one bath that a load needs.

    Attributes:
        needed: mL for the whole load.
        films: how many films of this format the tank's volume is enough for.
    """

    formula: str
    per_roll: Decimal
    needed: Decimal
    films: int
    certainty: str
    enough: bool


@dataclass(frozen=True)
class Load:
    """Films of one format in one tank.

    Attributes:
        rolls: the load in the trade's rolls.
        least: every accepted bath of the process that has a least volume.
        cautious, generous: loads that a litre of each usual bath does, kept and used again where that is recorded, and
            else as often as it fills the tank; None where no capacity is recorded, or where it does not fill it once.
    """

    tank: Tank
    film: FilmFormat
    count: int
    rolls: Decimal
    least: tuple[LeastBath, ...]
    cautious: int | None
    generous: int | None


@dataclass(frozen=True)
class FilmsDone:
    """Whole films of one format that a litre of each usual bath does; 0 where it is not enough for one."""

    film: FilmFormat
    cautious: int
    generous: int


@dataclass(frozen=True)
class TankUse:
    """Everything about films and tanks of one process.

    Attributes:
        ends_cautious, ends_generous: the bath that gives out first by either figure.
        unrecorded: usual baths without a recorded capacity.
    """

    capacity: SetCapacity
    ends_cautious: str | None
    ends_generous: str | None
    unrecorded: tuple[str, ...]
    films: tuple[FilmsDone, ...]
    loads: tuple[Load, ...]


def tank_use(process: Process, catalogue: Catalogue) -> TankUse:
    """Work out films and loads; formats that the table does not hold are refused before."""
    usual = [catalogue.formulas[bath] for bath in usual_baths(process)]
    capacity = set_capacity(usual)
    does = capacity.doing
    named = dict.fromkeys(bath.formula for step in process.steps for bath in step.baths)
    accepted = [catalogue.formulas[formula_id] for formula_id in named]
    films = owners_films(catalogue)
    return TankUse(
        capacity=capacity,
        ends_cautious=capacity.first_out,
        ends_generous=min(does, key=lambda i: (does[i].generous, i), default=None),
        unrecorded=tuple(bath for bath in capacity.baths if bath not in does),
        films=tuple(_films(films, capacity)),
        loads=tuple(_loads(catalogue.settings.tanks, catalogue.films, accepted, usual)),
    )


def _films(films: Iterable[FilmFormat], capacity: SetCapacity) -> Iterator[FilmsDone]:
    if capacity.cautious is None or capacity.generous is None:
        return
    for film in films:
        rolls = rolls_of(film)
        yield FilmsDone(film, down(capacity.cautious / rolls), down(capacity.generous / rolls))


def _loads(
    tanks: Iterable[Tank], table: Mapping[str, FilmFormat], accepted: list[Formula], usual: list[Formula]
) -> Iterator[Load]:
    again = set_capacity(usual, doing_again)
    poured_away = any(bath.capacity and all(way.once for way in bath.capacity) for bath in usual)
    for tank in tanks:
        for held in tank.holds:
            if held.format not in table:
                continue
            film = table[held.format]
            rolls = rolls_of(film) * held.count
            least = tuple(found for formula in accepted if (found := least_bath(formula, tank, film, held.count)))
            fillings = down(LITRE / tank.volume.base)
            does = (again.cautious, again.generous) if fillings else (None, None)
            loads = [None if one is None else down(one / rolls) for one in does]
            if poured_away:
                loads = [None if one is None else min(one, fillings) for one in loads]
            yield Load(tank, film, held.count, rolls, least, *loads)


def least_bath(formula: Formula, tank: Tank, film: FilmFormat, count: int) -> LeastBath | None:
    """Whether the tank's volume is enough of one bath for so many films; None where no least volume is recorded."""
    if formula.minimum is None:
        return None
    per_roll, each = formula.minimum.per_roll.base, rolls_of(film)
    needed = per_roll * each * count
    films = down(tank.volume.base / (per_roll * each))
    enough = needed <= tank.volume.base
    return LeastBath(formula.id, per_roll, needed, films, formula.minimum.certainty, enough)
