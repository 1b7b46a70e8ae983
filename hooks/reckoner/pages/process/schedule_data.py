"""What a process's page tells the script that runs its schedule: lines, their times, what may be chosen."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace

from markupsafe import Markup

from reckoner.calc.film.bottles import BottleState
from reckoner.calc.film.schedule import usual_time
from reckoner.calc.film.times import next_time
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.pages.safety.not_working_view import IN_A_TITLE, baths_in_short
from reckoner.pages.shared.capacity_words import figures_words
from reckoner.pages.shared.display import inside_script
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.process import FILM_KINDS, Process, Step
from reckoner.records.values import Range

#: What stands beside a clock that does not run.
IDLE_FILM, IDLE = "Room light, tank shut: the clock runs from the first line.", "The clock runs from the first line."


@dataclass(frozen=True)
class TimeChoice:
    """A time that a line may take, in whole seconds, and what it is.

    Attributes:
        bottle: whose it is, where it is that of a bottle on the shelf.
        until: its last good day as ISO 8601; empty where none is recorded.
        expired: what is said instead of its time after that day.
        old: whether that day is over at the build, whatever the phone's clock says.
        doubt: why a bottle's time is not to be taken as it stands.
        counted: the film that a bottle's time rests on.
    """

    seconds: int
    label: str
    bottle: str = ""
    until: str = ""
    expired: str = ""
    old: bool = False
    doubt: str = ""
    counted: str = ""


def schedule_data(process: Process, writer: PageWriter) -> Markup:
    """The schedule as JSON that may stand inside a page."""
    data = {
        "id": process.id,
        "idle": IDLE_FILM if process.kind in FILM_KINDS else IDLE,
        "beware": baths_in_short(usual_baths(process), writer),
        "steps": [_line(step, number, writer) for number, step in enumerate(process.steps, 1)],
    }
    return inside_script(data)


def _line(step: Step, number: int, writer: PageWriter) -> dict[str, object]:
    return {
        "number": number,
        "name": step.name,
        "temperature": writer.show.range(step.temperature) if step.temperature else "",
        "choices": [_recorded(choice) for choice in choices(step, writer)],
        "may_leave_out": step.optional or step.backing is not None or step.only_for is not None,
    }


def _recorded(choice: TimeChoice) -> dict[str, object]:
    return {name: value for name, value in asdict(choice).items() if value != "" and value is not False}


def choices(step: Step, writer: PageWriter) -> tuple[TimeChoice, ...]:
    """Times of a line: the printed one or its ends, those of other baths, and of bottles on the shelf.

    The one that counts unless another is tapped stands last: the longer end of what is printed for the usual bath, as
    a bath that is left too early spoils film that cannot be mended. Drying is not run by the clock.
    """
    if step.kind == "drying":
        return ()
    printed = usual_time(step)
    whose = _whose(step.baths[0].formula, writer) if len(step.baths) > 1 else ""
    offered = [*_bottles(step, writer), *_others(step, writer)]
    offered += _ends(printed, whose, writer) if printed else []
    return tuple({choice.label: choice for choice in offered}.values())


def _ends(time: Range, whose: str, writer: PageWriter) -> list[TimeChoice]:
    named = f"{whose}: " if whose else ""
    ends = dict.fromkeys((time.low, time.high))
    return [TimeChoice(int(end), f"{named}{writer.show.range(Range(end, end, time.unit))}") for end in ends]


def _whose(formula_id: str, writer: PageWriter) -> str:
    """A bath by its name, beside which stands that it does not work."""
    faulty = f" ({IN_A_TITLE})" if formula_id in writer.results.not_working else ""
    return writer.formula(formula_id).text + faulty


def _others(step: Step, writer: PageWriter) -> list[TimeChoice]:
    return [
        end for bath in step.baths[1:] if bath.time for end in _ends(bath.time, _whose(bath.formula, writer), writer)
    ]


def _bottles(step: Step, writer: PageWriter) -> list[TimeChoice]:
    used, printed = {bath.formula for bath in step.baths}, usual_time(step)
    choices_of_bottles = []
    for state in writer.results.bottles.values():
        time = _next(state, printed, writer) if state.bottle.formula in used else None
        if time is not None:
            until = state.ends.day.isoformat() if state.ends else ""
            ends = _ends(time, f"bottle {state.bottle.id}", writer)
            expired = f"expired, it was good until {writer.show.day(state.ends.day)}" if state.ends else ""
            counted = figures_words(state, writer)
            own = TimeChoice(0, "", state.bottle.id, until, expired, state.old, _doubt(state, writer), counted)
            choices_of_bottles += [replace(own, seconds=end.seconds, label=end.label) for end in ends]
    return choices_of_bottles


def _doubt(state: BottleState, writer: PageWriter) -> str:
    if state.bottle.formula in writer.results.not_working:
        return f"it {IN_A_TITLE}"
    if state.over:
        return "it has done more film than it could"
    return "spent by the cautious figure: test it" if state.spent else ""


def _next(state: BottleState, printed: Range | None, writer: PageWriter) -> Range | None:
    """A bottle's time for the next film; the printed one lengthened, where its rule names no first time."""
    reuse = writer.results.catalogue.formulas[state.bottle.formula].reuse
    if reuse is None:
        return None
    begun = reuse if reuse.time or reuse.steps else reuse.model_copy(update={"time": printed})
    return next_time(begun, state.rolls, state.bottle.volume.litres).seconds
