"""Rules about former ids and dates."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue


def former_ids(catalogue: Catalogue) -> Iterator[Problem]:
    """An old id leads to one page only and is not in use again.

    Where the library has given a record another id, it is the owner's file that can follow.
    """
    for kind, records in (
        ("formula", catalogue.formulas),
        ("chemical", catalogue.chemicals),
        ("process", catalogue.processes),
        ("plan", catalogue.plans),
    ):
        seen: dict[str, str] = {}
        for record_id, record in records.items():
            for index, old in enumerate(record.formerly):
                place = catalogue.place(kind, record_id, "formerly", index)
                if (kind, old) in catalogue.file_of:
                    yield from _in_use(kind, record_id, old, place, catalogue)
                elif old in seen:
                    yield Problem(place, f"'{old}' is also a former id of {seen[old]} (keep it in one place)")
                seen[old] = record_id


def _in_use(kind: str, now: str, old: str, place: Location, catalogue: Catalogue) -> Iterator[Problem]:
    if (kind, now) not in catalogue.shipped:
        yield Problem(place, f"'{old}' is the id of a {kind} in use (take it out of formerly)")
    elif old in catalogue.renamable(kind):
        message = f"the library's {kind} '{old}' is named '{now}' now (write id: {now} and rename the file to stand"
        yield Problem(catalogue.place(kind, old, "id"), f"{message} over it, or take another id)")


def repeated_names(catalogue: Catalogue) -> Iterator[Problem]:
    """Two pages of one name cannot be told apart in a list, on a label or by the search."""
    seen: dict[str, str] = {}
    for formula_id, formula in catalogue.formulas.items():
        first = seen.setdefault(formula.name.casefold(), formula_id)
        if first != formula_id:
            place = catalogue.place("formula", formula_id, "name")
            message = f"formula '{first}' has this name too (say in the name how this one differs)"
            yield Problem(place, message, Severity.WARNING)


#: How far ahead of today something old may be accepted.
LONGEST_ACCEPTED = timedelta(days=366)


def accepted_old(catalogue: Catalogue) -> Iterator[Problem]:
    """Each kind is accepted once, and for a year at most: what is accepted for good is no limit."""
    kinds = [entry.kind for entry in catalogue.settings.accept_old]
    for index, entry in enumerate(catalogue.settings.accept_old):
        if entry.kind in kinds[:index]:
            place = catalogue.place("settings", "", "accept_old", index, "kind")
            yield Problem(place, f"'{entry.kind}' is accepted twice (keep one of them)")
        if entry.until > catalogue.today + LONGEST_ACCEPTED:
            place = catalogue.place("settings", "", "accept_old", index, "until")
            yield Problem(place, f"{entry.until} is more than a year from {catalogue.today} (write an earlier day)")


def dates(catalogue: Catalogue) -> Iterator[Problem]:
    """Days after today: a price list waits for its day; anything else is probably a slip."""
    for kind, records in (
        ("formula", catalogue.formulas),
        ("chemical", catalogue.chemicals),
        ("process", catalogue.processes),
    ):
        for record_id, record in records.items():
            checked = record.source.checked
            if checked > catalogue.today:
                place = catalogue.place(kind, record_id, "source", "checked")
                message = (
                    f"checked on {checked}, which is after today, {catalogue.today} (write the day it was checked)"
                )
                yield Problem(place, message, Severity.WARNING)
    for listed in catalogue.price_lists:
        if listed.prices.date > catalogue.today:
            message = f"price list dated {listed.prices.date} is not in force before that day (nothing to do)"
            yield Problem(catalogue.places[listed.file].at("date"), message, Severity.NOTE)
