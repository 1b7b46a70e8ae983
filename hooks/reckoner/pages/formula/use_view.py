"""How a bath is used again: film it does, longer times, replenisher, other temperatures, least volume."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from reckoner.calc.film.capacity import Doing, doing
from reckoner.calc.film.film import TRADE_UNIT_SQ_IN
from reckoner.calc.film.films_per_litre import Reach, ReplenisherRate, owners_films, rates, reach
from reckoner.calc.film.other_times import ListedTime, listed_times
from reckoner.calc.film.times import temperature_table, time_table
from reckoner.calc.film.whole_films import films_of_batch
from reckoner.pages.shared.parts import PageWriter, source_line
from reckoner.records.formula import DEVELOPERS, Formula
from reckoner.records.note import DatedNote
from reckoner.records.settings import FilmFormat
from reckoner.records.use import FilmCapacity, Replenishment, Reuse
from reckoner.units import ONE_LITRE


@dataclass(frozen=True)
class Figures:
    """A short table: a name, its figure and a remark; with what it holds for and where it is from."""

    rows: tuple[tuple[str, str, str], ...]
    words: tuple[str, ...]


@dataclass(frozen=True)
class UseView:
    """Everything about using a bath again; empty where nothing is recorded."""

    capacity: tuple[str, ...]
    films: Figures
    minimum: str
    reuse: Figures
    replenishment: tuple[str, ...]
    replenisher: Figures
    idle: str
    temperatures: Figures
    notes: tuple[tuple[str, str], ...]


NOTHING = Figures((), ())
FILM_DEVELOPERS = DEVELOPERS - {"paper developer"}
LISTED = "A time beside the name of a process is listed there as published or remembered, not calculated."
NO_RULE = "By how much a later film takes longer is not recorded: prove it on film you can lose, or use fresh bath."


def use_view(formula: Formula, writer: PageWriter) -> UseView:
    """Put a bath's use into words."""
    known, films = writer.results.catalogue.films, owners_films(writer.results.catalogue)
    minimum = formula.minimum
    does = doing(formula)
    return UseView(
        capacity=tuple(_capacity(capacity, writer) for capacity in formula.capacity),
        films=_films(does, films, writer) if does else NOTHING,
        minimum=f"At least {writer.show.amount(minimum.per_roll)} for each roll, however small the tank "
        f"({source_line(minimum.certainty, minimum.citation)})"
        if minimum
        else "",
        reuse=_reuse(formula.reuse, writer) if formula.reuse else _no_rule(formula),
        replenishment=tuple(_replenishment(rate, writer) for rate in formula.replenishment),
        replenisher=_replenisher(rates(formula, films, known), writer),
        idle=formula.idle or "",
        temperatures=_temperatures(formula, writer),
        notes=tuple(dated_note(entry, writer) for entry in formula.log),
    )


def dated_note(note: DatedNote, writer: PageWriter) -> tuple[str, str]:
    """A remark with its day, and that it stays out of what is published."""
    return writer.show.day(note.day), note.text if note.public else f"{note.text} (private)"


def _capacity(capacity: FilmCapacity, writer: PageWriter) -> str:
    how = f", {capacity.how}" if capacity.how else ""
    return f"{writer.show.range(capacity.does)} for each {writer.show.amount(capacity.per)}{how} ({capacity.certainty})"


def _films(does: Doing, films: tuple[FilmFormat, ...], writer: PageWriter) -> Figures:
    """Whole films that a litre does in the owner's tanks, and beside it what it does by area alone."""
    catalogue, show = writer.results.catalogue, writer.show
    tanks, known = catalogue.settings.tanks, catalogue.films

    def line(film: FilmFormat, by_litre: Reach) -> tuple[str, str, str]:
        in_tanks = films_of_batch(does, film, ONE_LITRE, tanks)
        low, high = str(in_tanks.cautious), str(max(in_tanks.cautious, in_tanks.generous))
        span = low if low == high else f"{low} to {high}"
        if not in_tanks.cautious:
            span = f"{in_tanks.least} in {show.exactish(in_tanks.litres, 'L')}"
        by_rolls = f"{show.number(by_litre.cautious)} by rolls" if by_litre.cautious != in_tanks.cautious else ""
        by_area = f"{show.number(by_litre.by_area)} by area" if by_litre.by_area is not None else ""
        return writer.film(film), span, ", ".join(part for part in (by_rolls, by_area) if part)

    reaches = reach(does, films, known)
    words = ["Whole films, in your tanks; a bath that is poured away is taken by the tankful"]
    words.append(
        f"by rolls: the lower figure in rolls of {show.number(TRADE_UNIT_SQ_IN)} square inches, not whole films"
    )
    if any(reach_of_film.by_area is not None for reach_of_film in reaches):
        words.append("by area: as much film as that many 135-36 really are, for the lower figure")
    rows = tuple(line(film, by_litre) for film, by_litre in zip(films, reaches, strict=True))
    return Figures(rows, ("; ".join(words) + ". Rounded down.",))


def _no_rule(formula: Formula) -> Figures:
    """A developer that is used again, but nobody says for how much longer."""
    again = any(not capacity.once for capacity in formula.capacity)
    return Figures((), (NO_RULE,)) if formula.purpose in FILM_DEVELOPERS and again else NOTHING


def _reuse(rule: Reuse, writer: PageWriter) -> Figures:
    show = writer.show
    times = [(roll, show.range(time)) for roll, time in time_table(rule)]
    if not times and rule.add is not None:
        added = ((roll, rule.add * (roll - 1)) for roll in range(1, rule.most + 1))
        times = [(roll, f"+{show.number(more)} %" if more else "its own time") for roll, more in added]
    words = [
        "Rolls that a litre has done: two through half a litre are four. Films of one load share the time of the first."
    ]
    words += [f"After roll {rule.most} the rule ends: discard the bath."]
    words += [f"{rule.note} " if rule.note else ""]
    words += [f"({source_line(rule.certainty, rule.citation)})"]
    return Figures(_runs(times), (" ".join(word.strip() for word in words if word),))


def _runs(times: list[tuple[int, str]]) -> tuple[tuple[str, str, str], ...]:
    """Rolls of the same time in one line."""
    lines = []
    for time, group in groupby(times, key=lambda pair: pair[1]):
        rolls = [roll for roll, _ in group]
        lines.append((f"Rolls {rolls[0]} to {rolls[-1]}" if len(rolls) > 1 else f"Roll {rolls[0]}", time, ""))
    return tuple(lines)


def _replenishment(rate: Replenishment, writer: PageWriter) -> str:
    films = writer.results.catalogue.films
    per = films[rate.per].name if rate.per else f"each roll of {writer.show.number(TRADE_UNIT_SQ_IN)} square inches"
    added = writer.formula(rate.formula).text if rate.formula else "its replenisher"
    note = f" {rate.note}" if rate.note else ""
    return f"{writer.show.amount(rate.add)} of {added} for {per} ({source_line(rate.certainty, rate.citation)}).{note}"


def _replenisher(film_rates: tuple[ReplenisherRate, ...], writer: PageWriter) -> Figures:
    if not film_rates:
        return NOTHING
    lines = [(writer.film(rate.film), writer.show.exactish(rate.millilitres, "mL", 2), "") for rate in film_rates]
    used = sorted({rate.of.name for rate in film_rates if rate.of})
    words = "By area, from the rate of the film nearest in width" if used else "As the trade counts rolls"
    tail = " The published half for 16 mm is a convention, not the ratio of the areas." if len(used) > 1 else ""
    return Figures(tuple(lines), (f"{words} (computed).{tail}",))


def _temperatures(formula: Formula, writer: PageWriter) -> Figures:
    rule = formula.other_temperatures
    listed = tuple(
        _listed(listed_time, writer)
        for listed_time in listed_times(formula.id, writer.results.catalogue.processes.values())
    )
    if rule is None:
        return Figures(listed, (LISTED,)) if listed else NOTHING
    cited = f"({source_line(rule.certainty, rule.citation)})"
    if rule.hold:
        words = [f"No time is calculated for another temperature: {rule.note} {cited}.", *([LISTED] if listed else [])]
        return Figures(listed, (" ".join(words),))
    rows = tuple((writer.show.range(at), writer.show.range(time), "") for at, time in temperature_table(rule))
    words = ["Only these temperatures; outside them no time is given."]
    if rule.factor is not None:
        words.append(f"The time falls by a factor of {writer.show.number(rule.factor)} for 10 °C more.")
    words += [rule.note] if rule.note else []
    words += [LISTED] if listed else []
    return Figures((*rows, *listed), (" ".join((*words, cited)),))


def _listed(listed: ListedTime, writer: PageWriter) -> tuple[str, str, str]:
    """A time that a process lists, with its name there and how sure it is."""
    variation = listed.variation
    assert variation.temperature is not None, "only variations with a temperature are listed"
    time = writer.show.range(variation.time) if variation.time else "see the process"
    note = f"; {variation.note}" if variation.note else ""
    where = f"{writer.process(listed.process).text}, {variation.name}{note} ({variation.certainty})"
    return writer.show.range(variation.temperature), time, where
