"""The list of what is out of date."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.ageing import Aged, accepted
from reckoner.calc.pools import past_keeping
from reckoner.pages.parts import Link, Shower

NEXT_DUE = 5


@dataclass(frozen=True)
class OldLine:
    """Something dated with its limit.

    Attributes:
        until: last good day for the script that ages pages; empty where it is past.
        accepted: until when and why the owner lets it stand, or nothing.
    """

    name: Link
    kind: str
    day: str
    limit: str
    since: str
    until: str
    accepted: str


@dataclass(frozen=True)
class OutOfDateView:
    """The context of ``out_of_date.md.jinja``.

    Attributes:
        packs: on the shelf, past their keeping time and not used all the same.
        later: shown by the script once it has passed.
    """

    title: str
    summary: str
    demo: str
    today: str
    old: tuple[OldLine, ...]
    accepted: tuple[OldLine, ...]
    packs: tuple[tuple[Link, str], ...]
    next_due: tuple[OldLine, ...]
    later: tuple[OldLine, ...]


def out_of_date_view(shower: Shower) -> OutOfDateView:
    """Everything past its limit, and what comes next."""
    old = [_old(one, shower) for one in shower.results.past_limit]
    coming = [one for one in shower.results.ages if not one.old]
    return OutOfDateView(
        title="Out of date",
        summary="Prices, rates and records past their limits",
        demo=shower.demo,
        today=shower.show.day(shower.results.catalogue.today),
        old=tuple(line for line in old if not line.accepted),
        accepted=tuple(line for line in old if line.accepted),
        packs=old_packs(shower),
        next_due=tuple(_old(one, shower) for one in coming[:NEXT_DUE]),
        later=tuple(_old(one, shower) for one in coming[NEXT_DUE:]),
    )


def old_packs(shower: Shower) -> tuple[tuple[Link, str], ...]:
    """Packs on the shelf that are past their keeping time, but for those that the owner uses all the same."""
    catalogue = shower.results.catalogue
    packs = catalogue.shelf.packs if catalogue.shelf else ()
    told = ((pack, past_keeping(pack, catalogue.chemicals[pack.chemical], catalogue.today)) for pack in packs)
    return tuple(
        (shower.chemical(pack.chemical), f"{shower.show.amount(pack.left)} on the shelf, {why}")
        for pack, why in told
        if why and not pack.use_past_keeping
    )


def _old(one: Aged, shower: Shower) -> OldLine:
    named = {
        "formula": shower.formula,
        "chemical": shower.chemical,
        "hazard record": shower.chemical,
        "restriction": shower.chemical,
        "bottle": shower.bottle,
        "process": shower.process,
    }
    name = named[one.kind](one.subject) if one.kind in named else Link(shower.subject(one))
    show = shower.show
    entry = accepted(one, shower.results.catalogue)
    return OldLine(
        name,
        one.kind,
        show.day(one.day),
        show.range(one.limit),
        show.day(one.good_until),
        "" if one.old else one.good_until.isoformat(),
        f"accepted until {show.day(entry.until)}: {entry.reason}" if entry else "",
    )
