"""How many of the owner's films a volume does, by the trade's counting and by the film's real area."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from reckoner.calc.film.capacity import Doing, rolls_of
from reckoner.calc.film.film import area_m2
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.settings import FilmFormat
from reckoner.records.use import Replenishment

#: The film that a figure "in rolls" was found with; its own area is a little less than the trade's 80 square inches.
ROLL = "135-36"
TENTH = Decimal("0.1")


@dataclass(frozen=True)
class Reach:
    """Films of one format that a litre does, rounded down to a tenth: a bath is never credited with more than it does.

    Attributes:
        cautious, generous: by rolls of 80 square inches, or as the trade counts the format.
        by_area: the cautious figure by the real area of as many films 135-36; None where that is no other figure.
    """

    film: FilmFormat
    cautious: Decimal
    generous: Decimal
    by_area: Decimal | None


@dataclass(frozen=True)
class ReplenisherRate:
    """Replenisher for one film of a format, in mL, by the film's area from a published rate.

    Attributes:
        of: the format that the rate is published for.
        published: whether the rate is for this format itself.
    """

    film: FilmFormat
    millilitres: Decimal
    of: FilmFormat | None
    published: bool


def owners_films(catalogue: Catalogue) -> tuple[FilmFormat, ...]:
    """The formats that the owner uses, in the owner's order."""
    return tuple(catalogue.films[name] for name in catalogue.settings.formats if name in catalogue.films)


def reach(does: Doing, films: Iterable[FilmFormat], known: Mapping[str, FilmFormat]) -> tuple[Reach, ...]:
    """What a litre does of each format."""
    return tuple(_reach(does, film, known.get(ROLL)) for film in films)


def _reach(does: Doing, film: FilmFormat, roll: FilmFormat | None) -> Reach:
    each = rolls_of(film)
    by_area = None
    if roll is not None and film.counts_as is None:
        by_area = _down(does.cautious * area_m2(roll) / area_m2(film))
    return Reach(film, _down(does.cautious / each), _down(does.generous / each), by_area)


def rates(
    formula: Formula, films: Iterable[FilmFormat], known: Mapping[str, FilmFormat]
) -> tuple[ReplenisherRate, ...]:
    """Replenisher for each of the owner's films, from the published rate of the format nearest in width.

    A rate for 16 mm is published as half of that for 35 mm, which is not the ratio of the areas (0.456); hence the
    nearest width, and area only from there.
    """
    return tuple(_rate(film, formula.replenishment, known) for film in films) if formula.replenishment else ()


def _rate(film: FilmFormat, published: tuple[Replenishment, ...], known: Mapping[str, FilmFormat]) -> ReplenisherRate:
    by_film = [(known[rate.per], rate) for rate in published if rate.per and rate.per in known]
    if not by_film:
        rate = next(rate for rate in published if rate.per is None)
        return ReplenisherRate(film, rate.add.base * rolls_of(film), None, film.counts_as == 1)
    nearest, rate = min(by_film, key=lambda pair: (abs(pair[0].width.base - film.width.base), pair[0].id))
    return ReplenisherRate(film, rate.add.base * area_m2(film) / area_m2(nearest), nearest, nearest.id == film.id)


def _down(value: Decimal) -> Decimal:
    return value.quantize(TENTH, rounding=ROUND_FLOOR)
