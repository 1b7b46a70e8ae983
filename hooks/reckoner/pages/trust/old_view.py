"""The list of what is out of date."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.ageing import Aged, accepted
from reckoner.calc.buying.pack_keeping import past_keeping
from reckoner.calc.results import Results
from reckoner.pages.shared.parts import Link, PageWriter

NEXT_DUE = 5
BOTTLE = "bottle"
#: One and several of a kind, as they are counted.
NAMES = {
    BOTTLE: ("bottle expired", "bottles expired"),
    "price list": ("price list", "price lists"),
    "kit price": ("price of a kit or lab", "prices of kits or labs"),
    "exchange rate": ("exchange rate", "exchange rates"),
    "formula": ("formula", "formulas"),
    "chemical": ("chemical", "chemicals"),
    "process": ("process", "processes"),
    "hazard record": ("hazard record", "hazard records"),
    "hazard phrases": ("table of hazard phrases", "tables of hazard phrases"),
    "restriction": ("restriction", "restrictions"),
    "disposal rules": ("set of disposal rules", "sets of disposal rules"),
}


@dataclass(frozen=True)
class Coming:
    """Last good days of one kind, as ``2026-11-27x2`` for two things, for the script that ages home."""

    days: str
    single: str
    several: str


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
class OldGroup:
    """What is past its last good day, of one kind."""

    title: str
    lines: tuple[OldLine, ...]


@dataclass(frozen=True)
class OutOfDateView:
    """The context of ``out_of_date.md.jinja``.

    Attributes:
        packs: on the shelf, past their keeping time and not used all the same.
        expired, old: bottles, and everything else by its kind.
        coming: all that is still good; the script moves to the top what has passed.
    """

    title: str
    summary: str
    demo: str
    today: str
    expired: tuple[OldLine, ...]
    old: tuple[OldGroup, ...]
    accepted: tuple[OldLine, ...]
    packs: tuple[tuple[Link, str], ...]
    next_due: tuple[OldLine, ...]
    coming: tuple[OldLine, ...]


def out_of_date_view(writer: PageWriter) -> OutOfDateView:
    """Bottles that have expired, everything that is out of date, and what comes next."""
    old = [_old(age, writer) for age in writer.results.past_limit]
    still = tuple(_old(age, writer) for age in writer.results.ages if not age.old)
    return OutOfDateView(
        title="Out of date",
        summary="Bottles that have expired; prices, rates and records to check again",
        demo=writer.demo,
        today=writer.show.day(writer.results.catalogue.today),
        expired=tuple(line for line in old if line.kind == BOTTLE),
        old=_groups(line for line in old if not line.accepted and line.kind != BOTTLE),
        accepted=tuple(line for line in old if line.accepted),
        packs=old_packs(writer),
        next_due=still[:NEXT_DUE],
        coming=still,
    )


def coming(results: Results) -> tuple[Coming, ...]:
    """What is still good by kind, bottles first: each last good day with how many share it."""
    days: dict[str, Counter[str]] = {}
    for age in results.ages:
        if not age.old:
            days.setdefault(age.kind, Counter())[age.good_until.isoformat()] += 1
    return tuple(
        Coming(" ".join(f"{day}x{count}" for day, count in sorted(days[kind].items())), *names)
        for kind, names in NAMES.items()
        if kind in days
    )


def counted(old: Iterable[Aged]) -> str:
    """How many of each kind are out of date, as ``2 price lists, 1 formula``; bottles expire and are not among them."""
    counts = Counter(age.kind for age in old if age.kind != BOTTLE)
    return ", ".join(f"{counts[kind]} {names[counts[kind] > 1]}" for kind, names in NAMES.items() if kind in counts)


def _groups(lines: Iterable[OldLine]) -> tuple[OldGroup, ...]:
    by_kind: dict[str, list[OldLine]] = {}
    for line in lines:
        by_kind.setdefault(line.kind, []).append(line)
    return tuple(
        OldGroup(f"{len(by_kind[kind])} {names[len(by_kind[kind]) > 1]}", tuple(by_kind[kind]))
        for kind, names in NAMES.items()
        if kind in by_kind
    )


def old_packs(writer: PageWriter) -> tuple[tuple[Link, str], ...]:
    """Packs on the shelf that are past their keeping time, but for those that the owner uses all the same."""
    catalogue = writer.results.catalogue
    packs = catalogue.shelf.packs if catalogue.shelf else ()
    judged = ((pack, past_keeping(pack, catalogue.chemicals[pack.chemical], catalogue.today)) for pack in packs)
    return tuple(
        (writer.chemical(pack.chemical), f"{writer.show.amount(pack.left)} on the shelf, {writer.past_keeping(kept)}")
        for pack, kept in judged
        if kept is not None and not pack.use_past_keeping
    )


def _old(age: Aged, writer: PageWriter) -> OldLine:
    named = {
        "formula": writer.formula,
        "chemical": writer.chemical,
        "hazard record": writer.chemical,
        "restriction": writer.chemical,
        "bottle": writer.bottle,
        "process": writer.process,
    }
    name = named[age.kind](age.subject) if age.kind in named else Link(writer.subject(age))
    show = writer.show
    entry = accepted(age, writer.results.catalogue)
    return OldLine(
        name,
        age.kind,
        show.day(age.day),
        show.range(age.limit),
        show.day(age.good_until),
        "" if age.old else age.good_until.isoformat(),
        f"accepted until {show.day(entry.until)}: {entry.reason}" if entry else "",
    )
