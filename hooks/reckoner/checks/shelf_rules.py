"""Rules about what is on the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from reckoner.checks.price_rules import no_rate, pack_faults
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.spelling import unknown_name


def shelf_bottles(catalogue: Catalogue) -> Iterator[Problem]:
    """Bottles are of known formulas, film through them of known formats; ids differ; no day is after today."""
    if catalogue.shelf is None:
        return
    places = catalogue.places[catalogue.file_of["shelf", ""]]
    seen: set[str] = set()
    for index, bottle in enumerate(catalogue.shelf.bottles):
        at = ("bottles", index)
        if bottle.id in seen:
            yield Problem(places.at(*at, "id"), f"bottle '{bottle.id}' stands twice (give each an id of its own)")
        seen.add(bottle.id)
        message = unknown_name("formula", bottle.formula, catalogue)
        if message:
            yield Problem(places.at(*at, "formula"), message)
        through = [("film went through", ("through", n, "day"), film.day) for n, film in enumerate(bottle.through)]
        days = (("mixed", ("mixed",), bottle.mixed), ("opened", ("opened",), bottle.opened), *through)
        yield from _not_yet(((done, places.at(*at, *path), day) for done, path, day in days), catalogue)
        for number, film in enumerate(bottle.through):
            message = unknown_name("film format", film.format, catalogue)
            if message:
                yield Problem(places.at(*at, "through", number, "format"), message)


def shelf_packs(catalogue: Catalogue) -> Iterator[Problem]:
    """Packs are of known forms, were bought before today, and what was paid can be converted."""
    if catalogue.shelf is None:
        return
    places = catalogue.places[catalogue.file_of["shelf", ""]]
    for index, pack in enumerate(catalogue.shelf.packs):
        at = ("packs", index)
        yield from pack_faults(catalogue, pack, places, at)
        if pack.paid is not None:
            yield from no_rate(catalogue, pack.paid.currency, places.at(*at, "paid"))
        days = (("bought", pack.bought), ("opened", pack.opened))
        yield from _not_yet(((key, places.at(*at, key), day) for key, day in days), catalogue)


def _not_yet(days: Iterable[tuple[str, Location, date | None]], catalogue: Catalogue) -> Iterator[Problem]:
    for done, at, day in days:
        if day is not None and day > catalogue.today:
            message = f"{done} on {day}, which is after today, {catalogue.today} (mend the day)"
            yield Problem(at, message, Severity.WARNING)
