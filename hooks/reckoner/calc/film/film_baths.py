"""A plan's film and the baths that it goes through, as plans, sessions and kits alike count them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.bath_life import films_at_once
from reckoner.calc.film.capacity import doing, life
from reckoner.calc.film.days import MONTH, Figure, longest
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import ZERO, Piece, piece_of, spread, tankful, whole_down, whole_up
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.plan import Plan
from reckoner.records.settings import Tank
from reckoner.records.values import Range
from reckoner.units import Litres, Rolls, RollsPerLitre

ONE = Decimal(1)
NO_ROLLS = RollsPerLitre(ZERO)
#: How long exposed film waits for a session where the plan does not say; common practice.
WAIT = Range(Decimal(3), Decimal(3), "months")
#: So many films are followed one by one; more are counted in equal parts of at most so many.
FOLLOWED = 2000


@dataclass(frozen=True)
class PlannedFilms:
    """What a plan puts through one process.

    Attributes:
        counts: by format, in the plan's order.
        pieces: in the order in which they come, each format evenly; the film of one part.
        parts: that the plan is counted in: 1, but for very much film.
    """

    counts: tuple[tuple[str, int], ...]
    pieces: tuple[Piece, ...]
    parts: int

    @property
    def count(self) -> int:
        """Films in all."""
        return sum(count for _, count in self.counts)


def planned_films(plan: Plan, process_id: str, catalogue: Catalogue) -> PlannedFilms:
    """The films of a plan that go through a process."""
    counts: dict[str, int] = {}
    for want in plan.wants:
        for film in want.films if want.process == process_id else ():
            if film.format in catalogue.films:
                counts[film.format] = counts.get(film.format, 0) + film.count
    parts = max(1, whole_up(Decimal(sum(counts.values())) / FOLLOWED))
    part = ((name, whole_up(Decimal(count) / parts)) for name, count in counts.items())
    pieces = tuple(piece_of(catalogue.films[name]) for name in spread(part))
    return PlannedFilms(tuple(counts.items()), pieces, parts)


def plan_days(plan: Plan) -> Decimal:
    """Days that a plan reaches over."""
    return longest(plan.over)


def months_waiting(plan: Plan) -> Decimal:
    """Months that exposed film may wait for a session."""
    return longest(plan.wait or WAIT) / MONTH


def film_bath(
    formula: Formula, films: Iterable[Piece], litres: Litres, tanks: Iterable[Tank], figure: Figure = "cautious"
) -> Bath:
    """A bath as film uses it; without ``does`` where no capacity is recorded.

    Args:
        litres: of one batch.
    """
    does = doing(formula)
    rolls: RollsPerLitre = getattr(does, figure) if does else NO_ROLLS
    once = bool(does) and getattr(does, f"{figure}_once")
    owned = tuple(tanks)
    # A bath without a figure of its own has to fill the tank all the same.
    tankfuls = {
        piece.format: tankful(piece, rolls, once and rolls > 0, litres, owned) for piece in dict.fromkeys(films)
    }
    keeps = life(formula)
    return Bath(
        id=formula.id,
        does=Rolls(rolls * litres) if rolls else None,
        days=getattr(keeps, figure) if keeps and rolls else None,
        once=once,
        tankfuls=tankfuls,
    )


def films_coming(rate: Decimal, months: Decimal) -> int:
    """Whole films that come in so many months, at so many a month."""
    return whole_down(rate * months)


def films_together(baths: Iterable[Bath], films: tuple[Piece, ...]) -> int | None:
    """Films that one batch does of each bath that is used again; None where no such bath has a figure.

    A bath that is poured away after each load sets no end to a session: another load takes another batch.
    """
    known = [bath for bath in baths if bath.does is not None]
    again = [bath for bath in known if not bath.once] or known
    return min((films_at_once(bath, films) for bath in again), default=None)


def session_films(baths: Iterable[Bath], films: tuple[Piece, ...], rate: Decimal, months: Decimal) -> int:
    """Films that gather for one session: as many as a batch does, or as come while film may wait."""
    come, does = films_coming(rate, months), films_together(baths, films)
    return max(1, come if does is None else min(come, does))
