"""The page of film formats: dimensions, real area, and the trade's unit beside it as a convention."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.film.capacity import Doing
from reckoner.calc.film.film import TRADE_UNIT_SQ_IN, area_m2, area_sq_in, trade_units
from reckoner.calc.film.films_per_litre import owners_films, reach
from reckoner.pages.shared.parts import PageWriter, SourceView
from reckoner.records.settings import FilmFormat
from reckoner.units import RollsPerLitre

#: Rolls 135-36 that a litre of motion-picture colour developer does when it is used again; common practice.
ROLLS_OF_A_LITRE = RollsPerLitre(Decimal(12))


@dataclass(frozen=True)
class FilmFormatLine:
    """One format."""

    name: str
    size: str
    area: str
    units: str
    note: str
    source: SourceView


@dataclass(frozen=True)
class FilmView:
    """The context of ``film_formats.md.jinja``."""

    title: str
    summary: str
    unit: str
    thumb: tuple[str, ...]
    formats: tuple[FilmFormatLine, ...]


def film_view(writer: PageWriter) -> FilmView:
    """Every format in the order of the table."""
    return FilmView(
        title="Film formats",
        summary="Dimensions and real areas of films and sheets",
        unit=f"{writer.show.number(TRADE_UNIT_SQ_IN)} square inches",
        thumb=_thumb(writer),
        formats=tuple(_line(film, writer) for film in writer.results.catalogue.films.values()),
    )


def _thumb(writer: PageWriter) -> tuple[str, ...]:
    """Where the rule of thumb for a litre of cine developer and the areas agree."""
    catalogue, show = writer.results.catalogue, writer.show
    films = [film for film in owners_films(catalogue) if film.counts_as is None]
    does = Doing(ROLLS_OF_A_LITRE, ROLLS_OF_A_LITRE)
    rolls = show.number(ROLLS_OF_A_LITRE)
    return tuple(
        f"{writer.film(film_reach.film)}: {rolls} rolls are {show.number(film_reach.cautious)} by units"
        + (f", {show.number(film_reach.by_area)} by real area" if film_reach.by_area is not None else "")
        for film_reach in reach(does, films, catalogue.films)
    )


def _line(film: FilmFormat, writer: PageWriter) -> FilmFormatLine:
    show = writer.show
    return FilmFormatLine(
        name=film.name,
        size=f"{show.amount(film.length)} × {show.amount(film.width)}",
        area=f"{show.exactish(area_m2(film), 'm²', 4)}, {show.exactish(area_sq_in(film), 'sq in', 4)}",
        units=show.exactish(trade_units(film), "units"),
        note=film.note or "",
        source=writer.source(film.source),
    )
