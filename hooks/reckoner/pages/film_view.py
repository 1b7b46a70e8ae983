"""The page of film formats: dimensions, real area, and the trade's unit beside it as a convention."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.film import TRADE_UNIT_SQ_IN, area_m2, area_sq_in, trade_units
from reckoner.pages.parts import Shower, SourceView
from reckoner.records.settings import FilmFormat


@dataclass(frozen=True)
class FilmLine:
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
    formats: tuple[FilmLine, ...]


def film_view(shower: Shower) -> FilmView:
    """Every format in the order of the table."""
    table = shower.results.catalogue.film_formats
    return FilmView(
        title="Film formats",
        summary="Dimensions and real areas of films and sheets",
        unit=f"{shower.show.number(TRADE_UNIT_SQ_IN)} square inches",
        formats=tuple(_line(film, shower) for film in table.formats) if table else (),
    )


def _line(film: FilmFormat, shower: Shower) -> FilmLine:
    show = shower.show
    return FilmLine(
        name=film.name,
        size=f"{show.amount(film.length)} × {show.amount(film.width)}",
        area=f"{show.exactish(area_m2(film), 'm²', 4)}, {show.exactish(area_sq_in(film), 'sq in', 4)}",
        units=show.exactish(trade_units(film), "units"),
        note=film.note or "",
        source=shower.source(film.source),
    )
