"""Rules about what is on the shelf."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.checks.price_rules import no_rate, pack_faults
from reckoner.problems import Problem, Severity
from reckoner.records.catalogue import Catalogue


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
        for key, day in (("bought", pack.bought), ("opened", pack.opened)):
            if day is not None and day > catalogue.today:
                what = f"{key} on {day}, which is after today, {catalogue.today} (mend the day)"
                yield Problem(places.at(*at, key), what, Severity.WARNING)
