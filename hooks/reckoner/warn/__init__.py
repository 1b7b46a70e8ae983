"""What a build warns of beside faults in the data: results that the owner should not pass over."""

from __future__ import annotations

from collections.abc import Callable

from reckoner.calc.ageing import Aged, accepted
from reckoner.calc.results import Results
from reckoner.problems import Location, Problem, Severity
from reckoner.records.settings import AcceptedOld
from reckoner.rounding import significant
from reckoner.warn.hazards import limit_warnings, ph_warnings
from reckoner.warn.safety import lost_safety_texts, older_adaptations
from reckoner.warn.words import worded_otherwise


def neighbour_warnings(results: Results) -> tuple[Problem, ...]:
    """Baths that must not meet and have no wash between them."""
    warnings = []
    for process_id, pairs in results.neighbours.items():
        for pair in pairs:
            if pair.danger:
                place = results.catalogue.place("process", process_id, "steps", pair.first_step)
                why = next(m.pair.result for m in pair.meetings if m.danger)
                message = f"{pair.first} and {pair.second} follow one another without a wash: {why}"
                warnings.append(Problem(place, f"{message} (put a wash between them)", Severity.WARNING))
    return tuple(warnings)


def old_warnings(results: Results) -> tuple[Problem, ...]:
    """Everything expired or out of date as warnings, so that a strict build fails; notes where the owner accepts it."""
    return tuple(_old(age, accepted(age, results.catalogue)) for age in results.ages if age.old)


def _old(aged: Aged, entry: AcceptedOld | None) -> Problem:
    if aged.kind == "bottle":
        message = f"bottle {aged.subject} of {aged.day} has expired: it was good until {aged.good_until}"
        return Problem(Location(aged.file), f"{message} (discard it, and take it out)", Severity.WARNING)
    message = f"{aged.kind} {aged.subject} of {aged.day} is out of date since {aged.good_until}"
    if entry is None:
        return Problem(Location(aged.file), f"{message} (check it again and write the new date)", Severity.WARNING)
    message += f", accepted until {entry.until}: {entry.reason} (check it again before that day)"
    return Problem(Location(aged.file), message, Severity.NOTE)


def acceptance_warnings(results: Results) -> tuple[Problem, ...]:
    """What was accepted for a while, and the while is over."""
    catalogue, warnings = results.catalogue, []
    for index, entry in enumerate(catalogue.settings.accept_old):
        if catalogue.today > entry.until:
            place = catalogue.place("settings", "", "accept_old", index, "until")
            message = f"old {entry.kind}: accepted until {entry.until} is over (check them again and take this out)"
            warnings.append(Problem(place, message, Severity.WARNING))
    return tuple(warnings)


def demo_notes(results: Results) -> tuple[Problem, ...]:
    """That a demonstration does not follow the calendar: who made a handbook of it has to know."""
    catalogue = results.catalogue
    if not catalogue.demo:
        return ()
    message = f"a demonstration: every date is judged as of {catalogue.today} (take this out of a handbook of your own)"
    return (Problem(catalogue.place("settings", "", "demo_day"), message, Severity.NOTE),)


def plan_warnings(results: Results) -> tuple[Problem, ...]:
    """Plans that no basket fills, or none within their budget."""
    catalogue, warnings = results.catalogue, []
    for plan_id, result in results.plans.items():
        bought = result.bought
        if bought.missing:
            names = ", ".join(bought.missing)
            message = f"nothing for sale to this plan fills {names} (add an offer, or let the plan use more suppliers)"
            warnings.append(Problem(catalogue.place("plan", plan_id, "wants"), message, Severity.WARNING))
        elif bought.impossible:
            message = "no basket meets the suppliers' minimum orders (want more, or let the plan use more suppliers)"
            warnings.append(Problem(catalogue.place("plan", plan_id, "wants"), message, Severity.WARNING))
        if bought.over_budget:
            message = f"the budget of {bought.plan.budget} is below the cheapest basket, {bought.total}"
            message += " (raise it, or want less)"
            warnings.append(Problem(catalogue.place("plan", plan_id, "budget"), message, Severity.WARNING))
    return tuple(warnings)


def bottle_warnings(results: Results) -> tuple[Problem, ...]:
    """Bottles that have done more film than they can; those that have expired are told with everything old."""
    catalogue, warnings = results.catalogue, []
    order = {bottle.id: index for index, bottle in enumerate(catalogue.shelf.bottles if catalogue.shelf else ())}
    for bottle_id, state in results.bottles.items():
        at = catalogue.place("shelf", "", "bottles", order[bottle_id], "through")
        if state.over and state.could is not None:
            message = (
                f"bottle {bottle_id} has done {state.rolls:.3g} rolls, more than the {state.could.generous:.3g} it can"
            )
            warnings.append(Problem(at, f"{message} (check the films, or discard it)", Severity.WARNING))
        elif state.spent and state.could is not None:
            message = f"bottle {bottle_id} is spent: {state.rolls:.3g} rolls of {state.could.cautious:.3g} to "
            message += f"{state.could.generous:.3g} (test it before another film, or discard it)"
            warnings.append(Problem(at, message, Severity.WARNING))
    return tuple(warnings)


def price_warnings(results: Results) -> tuple[Problem, ...]:
    """Prices many times, or a small part of, what the former list asked: probably a slip of the decimal point."""
    catalogue, warnings = results.catalogue, []
    for jump in results.history.jumps:
        times = f"{significant(jump.times, 2).normalize():f} times"
        day = jump.before_day
        compared = (
            f"is {times} the price of {day}" if jump.up else f"is too little: the price of {day} is {times} as much"
        )
        at = catalogue.places[jump.file].at("offers", jump.index, "price")
        ask = "is the decimal point right? (mend this price or that, or leave it where it is true)"
        warnings.append(Problem(at, f"{jump.offer.price} {compared}: {ask}", Severity.WARNING))
    return tuple(warnings)


WARNINGS: tuple[Callable[[Results], tuple[Problem, ...]], ...] = (
    lost_safety_texts,
    demo_notes,
    worded_otherwise,
    ph_warnings,
    limit_warnings,
    older_adaptations,
    old_warnings,
    acceptance_warnings,
    neighbour_warnings,
    plan_warnings,
    bottle_warnings,
    price_warnings,
)
