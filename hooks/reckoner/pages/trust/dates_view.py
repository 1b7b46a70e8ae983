"""How old the facts of a page are: dates in words, and the same for the script that ages them when the page is read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from reckoner.calc.ageing import Aged
from reckoner.calc.prices.costing import Cost
from reckoner.calc.prices.offers import PricedOffer
from reckoner.pages.shared.parts import PageWriter

#: Kind, subject, and the day where only one of several dates of the subject counts.
Wanted = tuple[str, str, date | None]

PLURAL = {
    "price list": "price lists of",
    "exchange rate": "exchange rates",
    "hazard record": "hazard records of",
    "hazard phrases": "hazard phrases:",
    "restriction": "restrictions on",
    "kit price": "prices of",
    "disposal rules": "disposal rules of",
}
#: What is counted where there are too many names.
COUNTED = {"kit price": "kits and labs"}
#: Up to so many names stand in one line; above that their number.
NAMES = 3


@dataclass(frozen=True)
class DatedView:
    """Something dated.

    Attributes:
        until: last good day in ISO 8601, for the script; empty where the page already warns of it.
        kind: as ``price list``: a bottle expires, everything else is out of date.
    """

    text: str
    until: str
    kind: str


def dates_view(wanted: Iterable[Wanted], writer: PageWriter) -> tuple[DatedView, ...]:
    """The ages that a page depends on, those of one kind and day in one line; the first to run out first."""
    groups: dict[tuple[date, str, date, bool], list[Aged]] = {}
    for kind, subject, day in dict.fromkeys(wanted):
        for age in writer.results.ages_of.get((kind, subject), ()):
            if day is None or day == age.day:
                groups.setdefault((age.good_until, age.kind, age.day, age.old), []).append(age)
    return tuple(_line(group, writer) for _, group in sorted(groups.items(), key=lambda item: item[0]))


def priced(offers: Iterable[PricedOffer]) -> Iterable[Wanted]:
    """The price lists and exchange rates behind some offers."""
    for offer in offers:
        yield "price list", offer.supplier, offer.day
        if offer.exchange.published is not None:
            pair = offer.exchange.published
            yield "exchange rate", f"{pair.base} to {pair.quote}", None


def costed(cost: Cost) -> Iterable[Wanted]:
    """The price lists and exchange rates behind a cost."""
    return priced(row.offer for row in cost.rows if row.offer is not None)


def disposed(writer: PageWriter) -> Iterable[Wanted]:
    """The local disposal rules, where there are some."""
    local = writer.results.catalogue.settings.disposal
    if local is not None:
        yield "disposal rules", local.authority, None


def classified(chemicals: Iterable[str]) -> Iterable[Wanted]:
    """The hazard records of some chemicals and the table of phrases."""
    yield from (("hazard record", chemical, None) for chemical in chemicals)
    yield "hazard phrases", "all", None


def _line(group: list[Aged], writer: PageWriter) -> DatedView:
    first = group[0]
    names = ", ".join(writer.subject(age) for age in group)
    if len(group) > NAMES:
        names = f"{len(group)} {COUNTED.get(first.kind, 'chemicals')}"
    dated = f"{PLURAL.get(first.kind, first.kind)} {names}"
    day, until = writer.show.day(first.day), writer.show.day(first.good_until)
    since = "expired, was good until" if first.kind == "bottle" else "out of date since"
    state = f"{since} {until}" if first.old else f"good until {until}"
    text = f"{dated[0].upper()}{dated[1:]}: {day}, {state}"
    return DatedView(text, "" if first.old else first.good_until.isoformat(), first.kind)
