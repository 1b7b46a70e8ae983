"""The owner's films and tanks in one process, in words."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.film.tank_loads import LeastBath, Load, TankUse
from reckoner.pages.shared.capacity_words import span
from reckoner.pages.shared.parts import Link, PageWriter


@dataclass(frozen=True)
class TankLine:
    """One load of one tank."""

    name: str
    facts: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class TanksView:
    """Films and tanks: which bath gives out first, how many films a litre of each does, and each tank's load."""

    ends: tuple[tuple[Link, str], ...]
    unrecorded: tuple[Link, ...]
    films: tuple[tuple[str, str], ...]
    loads: tuple[TankLine, ...]


def tanks_view(use: TankUse, writer: PageWriter) -> TanksView:
    """Put films and tanks into words."""
    return TanksView(
        ends=_ends(use, writer),
        unrecorded=tuple(writer.formula(bath) for bath in use.unrecorded),
        films=tuple((film.film.name, _span(film.cautious, film.generous, "film")) for film in use.films),
        loads=tuple(_load(load, writer) for load in use.loads),
    )


def _ends(use: TankUse, writer: PageWriter) -> tuple[tuple[Link, str], ...]:
    """The bath that gives out first; where the generous figures end with another one, that too."""
    ends = []
    for bath in dict.fromkeys(name for name in (use.ends_cautious, use.ends_generous) if name):
        does = use.capacity.doing[bath]
        ends.append((writer.formula(bath), span(does, writer)))
    return tuple(ends)


def _span(cautious: int, generous: int, word: str) -> str:
    if generous == 0:
        return f"not one whole {word}"
    numbers = str(generous) if cautious == generous else f"{cautious} to {generous}"
    return f"{numbers} {word}" if generous == 1 else f"{numbers} {word}s"


def _load(load: Load, writer: PageWriter) -> TankLine:
    volume = writer.show.amount(load.tank.volume)
    facts = [f"{volume} of each bath"]
    short = [bath for bath in load.least if not bath.enough]
    if load.least and not short:
        most = max(load.least, key=lambda bath: bath.needed)
        needed = writer.show.exactish(most.needed, "mL")
        room = f"enough, for {_span(most.films, most.films, 'film')} at once"
        facts.append(f"of {writer.formula(most.formula).text} at least {needed}: {room} ({most.certainty})")
    if not load.least:
        facts.append("no least volume of developer is recorded")
    if load.cautious is not None and load.generous is not None:
        facts.append(f"1\u00a0L of each bath does {_span(load.cautious, load.generous, 'load')}{_again(load, writer)}")
    name = f"{load.tank.name}, {load.count} × {load.film.name}"
    return TankLine(name[0].upper() + name[1:], tuple(facts), tuple(_short(bath, load, writer) for bath in short))


def _again(load: Load, writer: PageWriter) -> str:
    """Why plans count on fewer loads, where they do."""
    if not load.poured or load.planned is None:
        return ""
    fewer = _span(load.planned, load.planned, "load")
    return f" where it is used again; plans count {fewer}, {writer.formula(load.poured).text} poured away after each"


def _short(bath: LeastBath, load: Load, writer: PageWriter) -> str:
    needed, held = writer.show.exactish(bath.needed, "mL"), writer.show.amount(load.tank.volume)
    least = writer.show.exactish(bath.per_roll, "mL")
    allowed = "Not even one film of this format may go in: take a larger tank."
    if bath.films:
        allowed = f"At most {_span(bath.films, bath.films, 'film')} of this format may go in."
    shortage = f"Too little {writer.formula(bath.formula).text}: at {least} a roll this load needs {needed}"
    return f"{shortage}, and the tank holds {held}. {allowed} ({bath.certainty})"
