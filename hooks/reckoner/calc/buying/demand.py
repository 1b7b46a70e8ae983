"""What a plan needs mixed: litres of each bath, in whole batches where it is film that is planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from reckoner.calc.film.bath_life import BatchInUse, Stream, sessions_of
from reckoner.calc.film.capacity import rolls_of
from reckoner.calc.film.days import MONTH
from reckoner.calc.film.film_baths import (
    PlannedFilms,
    film_bath,
    months_waiting,
    plan_days,
    planned_films,
    session_films,
)
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import Piece, Tankful, whole_up
from reckoner.calc.mixing.scaling import first_litres
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.records.catalogue import Catalogue
from reckoner.records.plan import Plan
from reckoner.units import Litres, Proportion, Rolls

ZERO = Decimal(0)
NONE = Proportion(ZERO)
NO_LITRES, NO_ROLLS = Litres(ZERO), Rolls(ZERO)


@dataclass(frozen=True)
class FilmUse:
    """Whole films of one format in one bath.

    Attributes:
        films: that one batch does, or the batches that are mixed together.
        batches: mixed together: for one film, or to fill the tank.
        once: the bath is poured away after each tankful.
        tankful: the tank and what it holds.
    """

    format: str
    films: int
    batches: int
    once: bool
    tankful: Tankful

    @property
    def loads(self) -> int:
        """Tankfuls that go through the same bath one after another."""
        each = self.tankful.films if self.once else self.tankful.holds
        return whole_up(Decimal(self.films) / each)


@dataclass(frozen=True)
class BathDemand:
    """One bath of a plan.

    Attributes:
        litres: mixed over the plan.
        batches: whole batches of the owner's first batch; 0 where litres were asked for.
        rolls: film that goes through it, in the trade's rolls.
        session: films that are processed on one day at most.
        unfinished: part of what its batches could do that is poured away undone, 0 to 1; 0 where litres were asked.
        undone: batches that did less than they could.
        ends_by: what ends a batch: ``use``, ``age``, or ``with`` the bath that is exhausted first, where nothing is
            recorded of its own.
        asked: of the litres, those that the plan asks for as such: what becomes of them is the owner's affair.
        uses: how whole films of each format go through it.
    """

    formula: str
    litres: Litres
    batches: int = 0
    rolls: Rolls = NO_ROLLS
    session: int = 0
    unfinished: Proportion = NONE
    undone: int = 0
    ends_by: str = "use"
    asked: Litres = NO_LITRES
    uses: tuple[FilmUse, ...] = ()

    @property
    def poured(self) -> Proportion:
        """The part of all its litres that is poured away undone, 0 to 1."""
        return Proportion(self.unfinished * (self.litres - self.asked) / self.litres)


def plan_rolls(plan: Plan, process_id: str, catalogue: Catalogue) -> Rolls:
    """Rolls of film that a plan puts through a process."""
    each = (
        rolls_of(catalogue.films[film.format]) * film.count
        for want in plan.wants
        if want.process == process_id
        for film in want.films
        if film.format in catalogue.films
    )
    return Rolls(sum(each, ZERO))


def demand(plan: Plan, catalogue: Catalogue) -> tuple[BathDemand, ...]:
    """Every bath that the plan mixes, sorted by formula; what several lines ask of one bath is added up."""
    batch = first_litres(catalogue.settings)
    demands: dict[str, BathDemand] = {}
    for formula_id, litres in _asked_litres(plan, catalogue):
        known = demands.get(formula_id, BathDemand(formula_id, NO_LITRES))
        demands[formula_id] = replace(known, litres=Litres(known.litres + litres))
    for bath in _film_baths(plan, catalogue, batch):
        known = demands.get(bath.formula, BathDemand(bath.formula, NO_LITRES))
        demands[bath.formula] = replace(bath, litres=Litres(known.litres + bath.litres), asked=known.litres)
    return tuple(demands[formula_id] for formula_id in sorted(demands))


def _asked_litres(plan: Plan, catalogue: Catalogue) -> list[tuple[str, Litres]]:
    asked = []
    for want in plan.wants:
        if want.litres is None:
            continue
        baths = usual_baths(catalogue.processes[want.process]) if want.process else (want.formula or "",)
        asked += [(formula_id, want.litres.litres) for formula_id in baths]
    return asked


def _film_baths(plan: Plan, catalogue: Catalogue, batch: Litres) -> list[BathDemand]:
    """Batches of each bath that film goes through, film by film; film of several processes shares a bath's batches."""
    wanted = [film for process in _processes(plan) if (film := _process_film(process, plan, catalogue, batch))]
    parts = max((demanded.films.parts for demanded in wanted), default=1)
    streams = [demanded.stream for demanded in wanted if demanded.stream is not None]
    mixed: dict[str, list[BatchInUse]] = {}
    for session in sessions_of(*streams) if streams else ():
        for mix in session.mixes:
            mixed.setdefault(mix.bath.id, []).append(mix)
    rolls: dict[str, Rolls] = {}
    together: dict[str, int] = {}
    uses: dict[str, tuple[FilmUse, ...]] = {}
    for demanded in wanted:
        for bath in demanded.baths:
            known = rolls.get(bath.id, NO_ROLLS)
            rolls[bath.id] = Rolls(known + plan_rolls(plan, demanded.process, catalogue))
            together[bath.id] = max(together.get(bath.id, 0), demanded.gather)
            uses[bath.id] = tuple(dict.fromkeys((*uses.get(bath.id, ()), *_uses(bath, demanded.films.pieces))))
    return [_batches(i, mixed.get(i, []), parts, batch, rolls[i], together[i], uses[i]) for i in sorted(rolls)]


def _processes(plan: Plan) -> list[str]:
    return sorted({want.process for want in plan.wants if want.process and want.films})


@dataclass(frozen=True)
class _ProcessFilm:
    """The film of one process with its baths; ``stream`` is None where no bath has a recorded capacity."""

    process: str
    films: PlannedFilms
    baths: tuple[Bath, ...]
    gather: int
    stream: Stream | None


def _process_film(process_id: str, plan: Plan, catalogue: Catalogue, batch: Litres) -> _ProcessFilm | None:
    films = planned_films(plan, process_id, catalogue)
    if not films.pieces:
        return None
    formulas = (catalogue.formulas[i] for i in usual_baths(catalogue.processes[process_id]))
    baths = tuple(film_bath(formula, films.pieces, batch, catalogue.settings.tanks) for formula in formulas)
    rate = films.count / (plan_days(plan) / MONTH)
    gather = session_films(baths, films.pieces, rate, months_waiting(plan))
    count = len(films.pieces)
    stream = Stream(baths, rate / films.parts, count, gather, count, films.pieces)
    return _ProcessFilm(process_id, films, baths, gather, stream if any(bath.does for bath in baths) else None)


def _uses(bath: Bath, pieces: Iterable[Piece]) -> Iterator[FilmUse]:
    """How whole films of each format go through a bath."""
    if bath.does is None:
        return
    for piece in dict.fromkeys(pieces):
        needs = bath.tankful(piece)
        count = needs.at_once(bath.does)
        yield FilmUse(piece.format, needs.whole_films(Rolls(bath.does * count)), count, bath.once, needs)


def _batches(
    formula_id: str,
    mixed: list[BatchInUse],
    parts: int,
    batch: Litres,
    rolls: Rolls,
    together: int,
    uses: tuple[FilmUse, ...],
) -> BathDemand:
    """What one bath comes to; a bath of which nothing is recorded is mixed new whenever the first to end is."""
    count = sum(mix.count for mix in mixed) or 1
    left = sum((mix.count * (1 - mix.done) for mix in mixed), Fraction(0)) / count
    return BathDemand(
        formula=formula_id,
        litres=Litres(count * parts * batch),
        batches=count * parts,
        rolls=rolls,
        session=together,
        unfinished=Proportion(Decimal(left.numerator) / left.denominator) if uses else NONE,
        undone=sum(mix.count for mix in mixed if mix.done < 1) * parts if uses else 0,
        ends_by=_ends(mixed) if uses else "with",
        uses=uses,
    )


def _ends(mixed: list[BatchInUse]) -> str:
    return "age" if any(mix.aged for mix in mixed) else "use"
