"""Age of prices, rates and records against the owner's limits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from reckoner.calc.film.bottles import bottle_states
from reckoner.calc.film.days import limit_days
from reckoner.calc.prices.offers import rows_in_force
from reckoner.records.catalogue import Catalogue
from reckoner.records.settings import AcceptedOld
from reckoner.records.values import Range


@dataclass(frozen=True)
class Aged:
    """Something dated, with its limit.

    Attributes:
        kind: as ``price list``.
        subject: id of what it is about.
        file: where the date stands.
        day: when it was last checked or listed.
        good_until: last day within the limit.
        old: whether today is past that.
    """

    kind: str
    subject: str
    file: str
    day: date
    limit: Range
    good_until: date
    old: bool


def aged(kind: str, subject: str, file: str, day: date, limit: Range, today: date) -> Aged:
    """Compare one date with its limit."""
    good_until = day + timedelta(days=limit_days(limit))
    return Aged(kind, subject, file, day, limit, good_until, today > good_until)


def ages(catalogue: Catalogue) -> tuple[Aged, ...]:
    """The age of everything dated, oldest excess first."""
    dated = [item for source in SOURCES for item in source(catalogue)]
    return tuple(sorted(dated, key=lambda item: (item.good_until, item.kind, item.subject)))


def accepted(dated: Aged, catalogue: Catalogue) -> AcceptedOld | None:
    """What the owner says of something past its limit, as long as that holds."""
    if not dated.old:
        return None
    known = (entry for entry in catalogue.settings.accept_old if entry.kind == dated.kind)
    return next((entry for entry in known if catalogue.today <= entry.until), None)


def _price_lists(catalogue: Catalogue) -> Iterator[Aged]:
    """A list counts while at least one of its rows is in force."""
    in_force = {(row.supplier, row.day) for row in rows_in_force(catalogue.price_lists, catalogue.today)}
    for listed in catalogue.price_lists:
        if (listed.supplier, listed.prices.date) in in_force:
            limit = catalogue.settings.age_limits.prices
            yield aged("price list", listed.supplier, listed.file, listed.prices.date, limit, catalogue.today)


def _rates(catalogue: Catalogue) -> Iterator[Aged]:
    newest: dict[tuple[str, str], date] = {}
    for rate in catalogue.rates:
        if rate.day <= catalogue.today:
            pair = (rate.base, rate.quote)
            newest[pair] = max(rate.day, newest.get(pair, rate.day))
    for (base, quote), day in sorted(newest.items()):
        file = catalogue.file_of["exchange_rates", ""]
        limit = catalogue.settings.age_limits.exchange_rates
        yield aged("exchange rate", f"{base} to {quote}", file, day, limit, catalogue.today)


def _records(catalogue: Catalogue) -> Iterator[Aged]:
    limits = catalogue.settings.age_limits
    groups: Iterable[tuple[str, Iterable[tuple[str, date]], Range]] = (
        ("formula", ((i, f.source.checked) for i, f in catalogue.formulas.items()), limits.formulas),
        ("chemical", ((i, c.source.checked) for i, c in catalogue.chemicals.items()), limits.chemicals),
        ("process", ((i, p.source.checked) for i, p in catalogue.processes.items()), limits.processes),
    )
    for kind, records, limit in groups:
        for record_id, checked in records:
            yield aged(kind, record_id, catalogue.file_of[kind, record_id], checked, limit, catalogue.today)


def _hazards(catalogue: Catalogue) -> Iterator[Aged]:
    """Classifications change with every adaptation of the regulation."""
    limit = catalogue.settings.age_limits.hazards
    for chemical_id, chemical in catalogue.chemicals.items():
        days = {record.source.checked for record in chemical.hazards}
        days |= {air.source.checked for record in chemical.hazards for air in record.exposure}
        for day in sorted(days):
            file = catalogue.file_of["chemical", chemical_id]
            yield aged("hazard record", chemical_id, file, day, limit, catalogue.today)
    if catalogue.phrases is not None:
        file = catalogue.file_of["hazard_phrases", ""]
        yield aged("hazard phrases", "all", file, catalogue.phrases.source.checked, limit, catalogue.today)


def _kits(catalogue: Catalogue) -> Iterator[Aged]:
    """Prices of kits and labs grow old as price lists do."""
    for kit_id, kit in catalogue.kits.items():
        file = catalogue.file_of["kit", kit_id]
        yield aged("kit price", kit_id, file, kit.day, catalogue.settings.age_limits.prices, catalogue.today)


def _restrictions(catalogue: Catalogue) -> Iterator[Aged]:
    """Who may buy what changes with the law, as classifications do: the same limit."""
    limit = catalogue.settings.age_limits.hazards
    for chemical_id, chemical in catalogue.chemicals.items():
        for day in sorted({restriction.source.checked for restriction in chemical.restrictions}):
            file = catalogue.file_of["chemical", chemical_id]
            yield aged("restriction", chemical_id, file, day, limit, catalogue.today)


def _disposal(catalogue: Catalogue) -> Iterator[Aged]:
    """What the owner's authority says about waste."""
    local = catalogue.settings.disposal
    if local is not None:
        file = catalogue.file_of["settings", ""]
        limit = catalogue.settings.age_limits.disposal
        yield aged("disposal rules", local.authority, file, local.checked, limit, catalogue.today)


def _bottles(catalogue: Catalogue) -> Iterator[Aged]:
    """Mixed baths, until their last good day by age."""
    for state in bottle_states(catalogue):
        if state.ends is not None:
            mixed = state.bottle.mixed
            keeps = Decimal((state.ends.day - mixed).days)
            file = catalogue.file_of["shelf", ""]
            limit = Range(keeps, keeps, "days")
            yield Aged("bottle", state.bottle.id, file, mixed, limit, state.ends.day, state.old)


SOURCES: tuple[Callable[[Catalogue], Iterator[Aged]], ...] = (
    _price_lists,
    _rates,
    _records,
    _hazards,
    _restrictions,
    _kits,
    _disposal,
    _bottles,
)
