"""A bottle's page: film through it, the next time, when to discard it, and its log to print."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from reckoner.calc.film.bottles import BottleState
from reckoner.calc.film.times import NextTime
from reckoner.calc.mixing.scaling import scale
from reckoner.pages.formula.use_view import FILM_DEVELOPERS, dated_note
from reckoner.pages.safety.not_working_view import with_reasons
from reckoner.pages.shared.capacity_words import figures_words, rolls_words
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.shelf.bottle_data import bottle_data
from reckoner.pages.trust.dates_view import DatedView, dates_view
from reckoner.records.shelf import Passed
from reckoner.rounding import significant

#: Boxes for rolls on a printed log; those that have gone through are crossed.
MOST_BOXES = 24


@dataclass(frozen=True)
class Then:
    """A bottle once it has expired: shown after a day in ISO 8601, by the reader's calendar."""

    until: str
    facts: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class BottleLine:
    """A bottle in a list; ``then`` is what it will be, unless it has expired or nothing ends it."""

    name: Link
    formula: str
    facts: tuple[str, ...]
    warnings: tuple[str, ...]
    then: Then | None


@dataclass(frozen=True)
class BottleView:
    """The context of ``bottle.md.jinja``; ``then`` as for ``BottleLine``."""

    id: str
    title: str
    summary: str
    demo: str
    formula: Link
    label: str
    facts: tuple[str, ...]
    warnings: tuple[str, ...]
    then: Then | None
    films: tuple[tuple[str, str], ...]
    amounts: tuple[tuple[str, str], ...]
    volume: str
    batch: str
    mixed: str
    discard: str
    measured: str
    boxes: tuple[tuple[int, bool], ...]
    notes: tuple[tuple[str, str], ...]
    data: Markup
    scripts: tuple[str, ...]
    dates: tuple[DatedView, ...]


def bottle_view(bottle_id: str, writer: PageWriter) -> BottleView:
    """Put one bottle into words."""
    state = writer.results.bottles[bottle_id]
    bottle, show = state.bottle, writer.show
    formats = _formats(writer)
    formula = writer.results.catalogue.formulas[bottle.formula]
    room = int(state.could.generous) if state.could else 0
    return BottleView(
        id=bottle.id,
        title=f"Bottle {bottle.id}",
        summary=f"{show.amount(bottle.volume)} of {formula.name}",
        demo=writer.demo,
        formula=writer.formula(bottle.formula),
        label=writer.links.path(f"bottles/labels/{bottle.id}"),
        facts=bottle_facts(state, writer),
        warnings=bottle_warnings(state, writer),
        then=_then(state, writer),
        films=tuple((show.day(poured.day), _film(poured, formats, writer)) for poured in bottle.through),
        amounts=_amounts(state, writer),
        volume=show.amount(bottle.volume),
        batch=bottle.batch or "",
        mixed=show.day(bottle.mixed),
        discard=show.day(state.ends.day) if state.ends else "",
        measured=bottle.measured or "",
        boxes=tuple((box, box <= state.rolls) for box in range(1, min(room, MOST_BOXES) + 1)),
        notes=tuple(dated_note(entry, writer) for entry in bottle.log),
        data=bottle_data(state, writer),
        scripts=tuple(writer.links.file(f"assets/{name}.js") for name in ("decimal", "bottle", "count")),
        dates=dates_view((("bottle", bottle.id, None), ("formula", bottle.formula, None)), writer),
    )


def bottle_line(state: BottleState, writer: PageWriter) -> BottleLine:
    """A bottle in the list of the shelf."""
    name = writer.results.catalogue.formulas[state.bottle.formula].name
    return BottleLine(
        writer.bottle(state.bottle.id),
        name,
        bottle_facts(state, writer),
        bottle_warnings(state, writer),
        _then(state, writer),
    )


def _then(state: BottleState, writer: PageWriter) -> Then | None:
    if state.old or state.ends is None:
        return None
    expired = replace(state, old=True)
    return Then(state.ends.day.isoformat(), bottle_facts(expired, writer), bottle_warnings(expired, writer))


def bottle_facts(state: BottleState, writer: PageWriter) -> tuple[str, ...]:
    """What a bottle holds, has done and, unless it has expired, still does, and until when."""
    show = writer.show
    facts = [f"{show.amount(state.bottle.volume)}, mixed {show.day(state.bottle.mixed)}"]
    rolls_done = f"{rolls_words(state.rolls, writer)} ({show.exactish(state.area, 'm²')})"
    if state.could is None or state.left is None:
        facts.append(f"Done: {rolls_done}; no capacity is recorded")
    else:
        could = show.number(state.could.cautious)
        if state.could.generous != state.could.cautious:
            could += f" to {show.number(state.could.generous)}"
        left = "" if state.old else f"; {writer.show.number(significant(state.left, 3))} left by the cautious figure"
        facts.append(f"Done: {rolls_done} of {could}{left}")
    formula = writer.results.catalogue.formulas[state.bottle.formula]
    if state.old:
        facts.append("Next film: none, the bottle has expired")
    elif state.next is not None:
        facts.append(f"Next film: {next_words(state.next, writer)}{counted_words(state, writer)}")
    elif formula.purpose in FILM_DEVELOPERS:
        facts.append("Next film: no rule for its time is recorded")
    facts.append(_until(state, writer))
    if state.bottle.through:
        facts += [
            f"In use: {keeping.note} ({keeping.certainty})"
            for keeping in formula.keeping
            if keeping.state == "working" and keeping.note
        ]
    return tuple(facts)


def _until(state: BottleState, writer: PageWriter) -> str:
    """The last good day by age, and what it is from."""
    ends = state.ends
    if ends is None:
        formula = writer.results.catalogue.formulas[state.bottle.formula]
        notes = dict.fromkeys(f"{keeping.state}: {keeping.note}" for keeping in formula.keeping if keeping.note)
        reason = f"its formula says: {'; '.join(notes)}" if notes else "no keeping time is recorded"
        return f"No date to discard it by; {reason}"
    why = "the owner's own day"
    if ends.start is not None:
        days = "1 day" if ends.days == 1 else f"{ends.days} days"
        why = f"{ends.state}: {days} from {writer.show.day(ends.start)}"
    return f"{'Expired: it was good' if state.old else 'Good'} until {writer.show.day(ends.day)} ({why})"


def next_words(next_time: NextTime, writer: PageWriter) -> str:
    """The time for the next film, and the rule that gives it."""
    time = time_words(next_time, writer)
    return time if next_time.ended else f"{time}, {next_time.rule}"


def time_words(next_time: NextTime, writer: PageWriter) -> str:
    """The time for the next film, by what the film's own is multiplied, or why there is none; as ``bottle.js``."""
    if next_time.seconds is not None:
        return writer.show.range(next_time.seconds)
    if next_time.factor is not None:
        return f"{writer.show.number(significant(next_time.factor, 3))} times the film's own time"
    return f"none: {next_time.rule}"


def counted_words(state: BottleState, writer: PageWriter) -> str:
    """What the time for the next film rests on, to stand behind it."""
    figures = figures_words(state, writer)
    return f". Counted: {figures}; films of one load share one time" if figures else ""


def bottle_warnings(state: BottleState, writer: PageWriter) -> tuple[str, ...]:
    """What is wrong with a bottle as of the build."""
    faulty = with_reasons(state.bottle.formula, writer)
    warnings = [faulty] if faulty else []
    if state.old and state.ends is not None:
        warnings.append(f"{expired_words(state, writer)}.")
    if state.over and state.could is not None:
        most = writer.show.number(state.could.generous)
        warnings.append(f"More film than it could have done: {rolls_words(state.rolls, writer)} of {most}.")
    elif state.spent:
        warnings.append("Spent by the cautious figure: test it before another film.")
    return tuple(warnings)


def expired_words(state: BottleState, writer: PageWriter) -> str:
    """That a bottle has expired, or will have; nothing where nothing ends it."""
    if state.ends is None:
        return ""
    return f"Expired: it was good until {writer.show.day(state.ends.day)}. Discard it"


def _film(passed: Passed, formats: dict[str, str], writer: PageWriter) -> str:
    how_much = f"{passed.count} ×" if passed.length is None else f"{writer.show.amount(passed.length)} of"
    return f"{how_much} {formats[passed.format]}"


def _formats(writer: PageWriter) -> dict[str, str]:
    return {name: writer.film(film) for name, film in writer.results.catalogue.films.items()}


def _amounts(state: BottleState, writer: PageWriter) -> tuple[tuple[str, str], ...]:
    """The weighing list for the bottle's own volume."""
    catalogue, amounts = writer.results.catalogue, []
    listed = writer.results.formulas[state.bottle.formula].listed
    for row in scale(listed, state.bottle.volume, catalogue.settings).rows:
        line = row.line
        if line.alternative:
            continue
        if line.chemical and line.form:
            name = writer.named(line.chemical, line.form)
        else:
            name = writer.formula(line.formula or "").text
        amounts.append((name, writer.show.stepped(row.measured.rounded, row.measured.step, row.measured.unit)))
    return tuple(amounts)
