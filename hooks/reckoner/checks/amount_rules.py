"""Amounts that are probably slips. They are warned of: a book may be right, and a note on the line says why."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.mixing.working import plain
from reckoner.calc.plausible import SURE, Place, far_off, places, undissolved
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.records.own_change import WORK
from reckoner.rounding import significant


def plausible_amounts(catalogue: Catalogue) -> Iterator[Problem]:
    """What does not dissolve, and what is many times off formulas of the same purpose.

    A note of the line makes a note of it, and so do few others to compare with.
    """
    for asked in _asked_of(catalogue):
        if not catalogue.judged_with_library(asked.at):
            yield asked


def _asked_of(catalogue: Catalogue) -> Iterator[Problem]:
    amounts = places(catalogue)
    for place in amounts:
        for excess in undissolved(place):
            asked = f"is {_figure(excess.asked)} g for each litre of {excess.where}"
            limit = f"{_figure(excess.dissolves)} g/L"
            limit = f"and {limit} dissolve" if excess.recorded else f"more than the {limit} that water weighs"
            yield _asked(place, f"{asked}, {limit}", catalogue)
    for far in far_off(amounts):
        unit = "g" if far.place.form.state == "solid" else "mL"
        side = "times" if far.up else "times less than"
        figures = f"is {_figure(far.place.per_litre)} {unit} in a litre, {_figure(far.times, 2)} {side} the usual"
        where = f"{_figure(far.usual)} {unit} of {far.others} other formulas for a {far.place.formula.purpose}"
        yield _asked(far.place, f"{figures} {where}", catalogue, sure=far.others >= SURE)


def _asked(place: Place, complaint: str, catalogue: Catalogue, sure: bool = True) -> Problem:
    at = _whose(place, catalogue)
    message = f"{place.item.amount} of {place.item.chemical} {complaint}"
    if place.item.note:
        return Problem(at, f"{message}; the note of the line: {place.item.note}", Severity.NOTE)
    severity = Severity.WARNING if sure else Severity.NOTE
    return Problem(at, f"{message} (mend the amount or its unit, or say in a note: of the line why)", severity)


def _whose(place: Place, catalogue: Catalogue) -> Location:
    """Where an amount stands; one of the library's that an owner's volume makes stronger is asked about there."""
    at = catalogue.place("formula", place.formula.id, *place.path, "amount")
    over = catalogue.overridden.get(("formula", place.formula.id))
    changed = sorted(over.keys & WORK) if over and over.keys and catalogue.judged_with_library(at) else []
    return catalogue.place("formula", place.formula.id, changed[0]) if changed else at


def _figure(value: Decimal, figures: int = 3) -> str:
    return plain(significant(value, figures))
