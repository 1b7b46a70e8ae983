"""What a build warns of beside faults in the data: results that the owner should not pass over."""

from __future__ import annotations

from collections.abc import Callable

from reckoner.calc.ageing import Aged, accepted
from reckoner.calc.results import Results
from reckoner.money import in_currency
from reckoner.problems import Location, Problem, Severity
from reckoner.records.settings import AcceptedOld
from reckoner.rounding import significant
from reckoner.warn.hazards import limit_warnings, ph_warnings
from reckoner.warn.safety import lost_safety_texts, older_adaptations
from reckoner.warn.words import worded_otherwise


def neighbour_warnings(results: Results) -> tuple[Problem, ...]:
    """Baths that must not meet and have no wash between them."""
    found = []
    for process_id, pairs in results.neighbours.items():
        for pair in pairs:
            if pair.danger:
                place = results.catalogue.place("process", process_id, "steps", pair.first_step)
                why = next(m.pair.result for m in pair.meetings if m.danger)
                what = f"{pair.first} and {pair.second} follow one another without a wash: {why}"
                found.append(Problem(place, f"{what} (put a wash between them)", Severity.WARNING))
    return tuple(found)


def old_warnings(results: Results) -> tuple[Problem, ...]:
    """Everything expired or out of date as warnings, so that a strict build fails; notes where the owner accepts it."""
    return tuple(_old(age, accepted(age, results.catalogue)) for age in results.ages if age.old)


def _old(one: Aged, entry: AcceptedOld | None) -> Problem:
    if one.kind == "bottle":
        what = f"bottle {one.subject} of {one.day} has expired: it was good until {one.good_until}"
        return Problem(Location(one.file), f"{what} (discard it, and take it out)", Severity.WARNING)
    what = f"{one.kind} {one.subject} of {one.day} is out of date since {one.good_until}"
    if entry is None:
        return Problem(Location(one.file), f"{what} (check it again and write the new date)", Severity.WARNING)
    what += f", accepted until {entry.until}: {entry.reason} (check it again before that day)"
    return Problem(Location(one.file), what, Severity.NOTE)


def acceptance_warnings(results: Results) -> tuple[Problem, ...]:
    """What was accepted for a while, and the while is over."""
    catalogue, found = results.catalogue, []
    for index, entry in enumerate(catalogue.settings.accept_old):
        if catalogue.today > entry.until:
            place = catalogue.place("settings", "", "accept_old", index, "until")
            what = f"old {entry.kind}: accepted until {entry.until} is over (check them again and take this out)"
            found.append(Problem(place, what, Severity.WARNING))
    return tuple(found)


def demo_notes(results: Results) -> tuple[Problem, ...]:
    """That a demonstration does not follow the calendar: who made a handbook of it has to know."""
    catalogue = results.catalogue
    if not catalogue.demo:
        return ()
    what = f"a demonstration: every date is judged as of {catalogue.today} (take this out of a handbook of your own)"
    return (Problem(catalogue.place("settings", "", "demo_day"), what, Severity.NOTE),)


def plan_warnings(results: Results) -> tuple[Problem, ...]:
    """Plans that no basket fills, or none within their budget."""
    catalogue, found = results.catalogue, []
    for plan_id, result in results.plans.items():
        bought = result.bought
        if bought.missing:
            names = ", ".join(bought.missing)
            what = f"nothing for sale to this plan fills {names} (add an offer, or let the plan use more suppliers)"
            found.append(Problem(catalogue.place("plan", plan_id, "wants"), what, Severity.WARNING))
        elif bought.impossible:
            what = "no basket meets the suppliers' minimum orders (want more, or let the plan use more suppliers)"
            found.append(Problem(catalogue.place("plan", plan_id, "wants"), what, Severity.WARNING))
        if bought.over_budget:
            least = in_currency(bought.total, catalogue.settings.currency)
            what = f"the budget of {bought.plan.budget} is below the cheapest basket, {least} (raise it, or want less)"
            found.append(Problem(catalogue.place("plan", plan_id, "budget"), what, Severity.WARNING))
    return tuple(found)


def bottle_warnings(results: Results) -> tuple[Problem, ...]:
    """Bottles that have done more film than they can; those that have expired are told with everything old."""
    catalogue, found = results.catalogue, []
    order = {bottle.id: index for index, bottle in enumerate(catalogue.shelf.bottles if catalogue.shelf else ())}
    for bottle_id, state in results.bottles.items():
        at = catalogue.place("shelf", "", "bottles", order[bottle_id], "through")
        if state.over and state.could is not None:
            what = (
                f"bottle {bottle_id} has done {state.rolls:.3g} rolls, more than the {state.could.generous:.3g} it can"
            )
            found.append(Problem(at, f"{what} (check the films, or discard it)", Severity.WARNING))
        elif state.spent and state.could is not None:
            what = f"bottle {bottle_id} is spent: {state.rolls:.3g} rolls of {state.could.cautious:.3g} to "
            what += f"{state.could.generous:.3g} (test it before another film, or discard it)"
            found.append(Problem(at, what, Severity.WARNING))
    return tuple(found)


def price_warnings(results: Results) -> tuple[Problem, ...]:
    """Prices many times, or a small part of, what the former list asked: probably a slip of the decimal point."""
    catalogue, found = results.catalogue, []
    for jump in results.history.jumps:
        times = f"{significant(jump.times, 2).normalize():f} times"
        day = jump.before_day
        what = f"is {times} the price of {day}" if jump.up else f"is too little: the price of {day} is {times} as much"
        at = catalogue.places[jump.file].at("offers", jump.index, "price")
        ask = "is the decimal point right? (mend this price or that, or leave it where it is true)"
        found.append(Problem(at, f"{jump.offer.price} {what}: {ask}", Severity.WARNING))
    return tuple(found)


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
