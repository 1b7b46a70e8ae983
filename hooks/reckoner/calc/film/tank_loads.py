"""The owner's tanks in one process: whether a load has enough developer, and how many loads a set of baths does."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.capacity import SetCapacity, doing_again, rolls_of, set_capacity
from reckoner.calc.film.films_per_litre import owners_films
from reckoner.calc.film.whole_films import films_of_batch, loads_of, whole_down
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.process import Process
from reckoner.records.settings import FilmFormat, Tank
from reckoner.rounding import down
from reckoner.units import LITRE, ONE_LITRE, Rolls


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
        planned: loads that plans count on, by the way of use that does least; None as above.
        poured: the bath that is then poured away after each load, where that is why it is fewer; else empty.
    """

    tank: Tank
    film: FilmFormat
    count: int
    rolls: Rolls
    least: tuple[LeastBath, ...]
    cautious: int | None
    generous: int | None
    planned: int | None = None
    poured: str = ""


@dataclass(frozen=True)
class FilmsDone:
    """Whole films of one format that a litre of each usual bath does in the owner's tanks; 0 where not one."""

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
        films=tuple(_films(films, capacity, catalogue.settings.tanks)),
        loads=tuple(_loads(catalogue.settings.tanks, catalogue.films, accepted, usual)),
    )


def _films(films: Iterable[FilmFormat], capacity: SetCapacity, tanks: tuple[Tank, ...]) -> Iterator[FilmsDone]:
    if not capacity.doing:
        return
    for film in films:
        each = [films_of_batch(does, film, ONE_LITRE, tanks) for does in capacity.doing.values()]
        yield FilmsDone(film, min(batch.cautious for batch in each), min(batch.generous for batch in each))


def _loads(
    tanks: Iterable[Tank], table: Mapping[str, FilmFormat], accepted: list[Formula], usual: list[Formula]
) -> Iterator[Load]:
    again = set_capacity(usual, doing_again)
    poured_away = any(bath.capacity and all(capacity.once for capacity in bath.capacity) for bath in usual)
    for tank in tanks:
        for held in tank.holds:
            if held.format not in table:
                continue
            film = table[held.format]
            rolls = Rolls(rolls_of(film) * held.count)
            least = tuple(bath for formula in accepted if (bath := least_bath(formula, tank, film, held.count)))
            fillings = down(LITRE / tank.volume.base)
            does = (again.cautious, again.generous) if fillings else (None, None)
            loads = [None if litre is None else whole_down(litre / rolls) for litre in does]
            if poured_away:
                loads = [None if load is None else min(load, fillings) for load in loads]
            planned = _planned(tank, rolls, set_capacity(usual))
            few = planned is not None and loads[0] is not None and planned[0] < loads[0]
            yield Load(
                tank=tank,
                film=film,
                count=held.count,
                rolls=rolls,
                least=least,
                cautious=loads[0],
                generous=loads[1],
                planned=planned[0] if planned else None,
                poured=planned[1] if planned and few else "",
            )


def _planned(tank: Tank, rolls: Rolls, capacity: SetCapacity) -> tuple[int, str] | None:
    """Loads of a tank that a litre does by the cautious figures, and the bath that does least if it is poured away."""
    if not capacity.doing or tank.volume.base > LITRE:
        return None
    each = {
        bath: (loads_of(does.cautious, does.cautious_once, ONE_LITRE, tank, rolls), does.cautious_once)
        for bath, does in capacity.doing.items()
    }
    bath = min(each, key=lambda name: (each[name][0], name))
    return each[bath][0], bath if each[bath][1] else ""


def least_bath(formula: Formula, tank: Tank, film: FilmFormat, count: int) -> LeastBath | None:
    """Whether the tank's volume is enough of one bath for so many films; None where no least volume is recorded."""
    if formula.minimum is None:
        return None
    per_roll, each = formula.minimum.per_roll.base, rolls_of(film)
    needed = per_roll * each * count
    films = down(tank.volume.base / (per_roll * each))
    enough = needed <= tank.volume.base
    return LeastBath(formula.id, per_roll, needed, films, formula.minimum.certainty, enough)
