"""The shelf: bottles, packs, and what can be mixed from them now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.mixable import Lack, standing_baths, standing_until
from reckoner.calc.buying.pack_keeping import keeps_until
from reckoner.calc.buying.pools import Wanted
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.pages.safety.not_working_view import in_short, process_in_short
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.shelf.bottle_view import BottleLine, bottle_line
from reckoner.pages.trust.dates_view import DatedView, dates_view
from reckoner.records.shelf import ShelfPack

#: Less than this is no batch.
LEAST = Decimal("0.1")


@dataclass(frozen=True)
class PackLine:
    """A pack on the shelf.

    Attributes:
        old: why it is too old; shown after ``until``, a day in ISO 8601, or at once where that is empty.
    """

    name: Link
    facts: str
    old: str
    until: str


@dataclass(frozen=True)
class LackLine:
    """What a process lacks, and what comes on top after a day in ISO 8601, when a bottle has expired."""

    process: Link
    does_not_work: str
    lacks: str
    expiring: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class MixableLine:
    """A formula that the packs at hand make."""

    name: Link
    does_not_work: str
    litres: str
    limit: str


@dataclass(frozen=True)
class ShelfView:
    """The context of ``shelf.md.jinja``."""

    title: str
    summary: str
    demo: str
    bottles: tuple[BottleLine, ...]
    packs: tuple[PackLine, ...]
    mixable: tuple[MixableLine, ...]
    nearly: tuple[tuple[Link, str, str], ...]
    batch: str
    lacking: tuple[LackLine, ...]
    dates: tuple[DatedView, ...]


def shelf_view(writer: PageWriter) -> ShelfView:
    """Put the shelf into words."""
    results, show = writer.results, writer.show
    shelf = results.catalogue.shelf
    standing = standing_baths(results.bottles.values(), results.catalogue)
    can = sorted(results.mixable.values(), key=lambda mixable: (-mixable.litres, mixable.formula))
    return ShelfView(
        title="Shelf",
        summary="Bottles and packs at hand, and what can be mixed from them now",
        demo=writer.demo,
        bottles=tuple(bottle_line(state, writer) for state in results.bottles.values()),
        packs=tuple(_pack(pack, writer) for pack in shelf.packs) if shelf else (),
        mixable=tuple(
            MixableLine(
                writer.formula(mixable.formula),
                in_short(mixable.formula, writer),
                writer.show.exactish(mixable.litres, "L"),
                writer.short_name(mixable.limited_by),
            )
            for mixable in can
            if mixable.litres >= LEAST
        ),
        nearly=tuple(
            (writer.formula(mixable.formula), writer.short_name(mixable.missing[0]), in_short(mixable.formula, writer))
            for mixable in can
            if len(mixable.missing) == 1 and _holds_something(mixable.formula, writer)
        ),
        batch=show.amount(results.catalogue.settings.first_batch),
        lacking=tuple(
            LackLine(
                writer.process(i),
                process_in_short(results.catalogue.processes[i], writer),
                _lacks(lacks, writer) + _standing(i, standing, writer),
                tuple(_expiring(i, writer)),
            )
            for i, lacks in results.lacking.items()
        ),
        dates=dates_view((("bottle", bottle, None) for bottle in results.bottles), writer),
    )


def _lacks(lacks: tuple[Lack, ...], writer: PageWriter) -> str:
    """The amounts missing, in the form that the bath asks for first; those of which something is there first."""
    if not lacks:
        return "nothing, water apart"
    words = []
    for lack in sorted(lacks, key=lambda lack: (-lack.held, lack.wanted.need.chemical)):
        need = lack.wanted.need
        words.append(f"{_amount(lack.wanted, writer)} {writer.named(need.chemical, need.form)}")
    return "; ".join(words)


def _amount(wanted: Wanted, writer: PageWriter) -> str:
    """The missing amount; what no balance weighs is in milligrams and taken as its stock solution."""
    finest = min((balance.step.base for balance in writer.results.catalogue.settings.balances), default=Decimal(0))
    need = wanted.need
    if need.unit != "g" or wanted.amount >= finest:
        return writer.show.exactish(wanted.amount, need.unit)
    stocks = ", ".join(writer.formula(stock).text for stock in need.via)
    return writer.show.exactish(wanted.amount * 1000, "mg") + (f" (in {stocks})" if stocks else "") + " of"


def _standing(process_id: str, standing: frozenset[str], writer: PageWriter) -> str:
    """The usual baths that are there in bottles already."""
    baths = usual_baths(writer.results.catalogue.processes[process_id])
    names = [writer.formula(bath).text for bath in baths if bath in standing]
    return f" (in a bottle already: {', '.join(names)})" if names else ""


def _expiring(process_id: str, writer: PageWriter) -> Iterator[tuple[str, str]]:
    results = writer.results
    ends = standing_until(results.bottles.values(), results.catalogue)
    for bath in usual_baths(results.catalogue.processes[process_id]):
        if bath in ends:
            name = writer.formula(bath).text
            yield ends[bath].isoformat(), f"The bottle of {name} has expired since: what it is made of comes on top."


def _holds_something(formula_id: str, writer: PageWriter) -> bool:
    """Whether the shelf holds anything of a formula at all."""
    needed = {need.chemical for need in writer.results.formulas[formula_id].needs}
    shelf = writer.results.catalogue.shelf
    return shelf is not None and any(pack.chemical in needed for pack in shelf.packs)


def _pack(pack: ShelfPack, writer: PageWriter) -> PackLine:
    show, catalogue = writer.show, writer.results.catalogue
    facts = [f"{show.amount(pack.left)} of {show.amount(pack.pack)} {writer.form(pack.chemical, pack.form)}".strip()]
    facts.append(f"bought {show.day(pack.bought)}" + (f" for {show.money(pack.paid)}" if pack.paid else ""))
    facts.append(f"opened {show.day(pack.opened)}" if pack.opened else "closed")
    facts += [pack.note.rstrip(".")] if pack.note else []
    kept = keeps_until(pack, catalogue.chemicals[pack.chemical])
    if kept is None:
        return PackLine(writer.chemical(pack.chemical), "; ".join(facts), "", "")
    old, until = writer.past_keeping(kept), "" if catalogue.today > kept.until else kept.until.isoformat()
    if pack.use_past_keeping:
        old += "; the owner uses it"
    elif until:
        old += ": do not count on it here"
    return PackLine(writer.chemical(pack.chemical), "; ".join(facts), old, until)
