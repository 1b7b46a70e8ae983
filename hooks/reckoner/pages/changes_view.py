"""What each price list changed, and which formulas and processes cost another sum since."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.history import CostHistory
from reckoner.calc.price_changes import ListChange, Move
from reckoner.calc.then_now import ThenNow
from reckoner.pages.basket_view import ThenView, then_view
from reckoner.pages.feed import FEED, list_anchor
from reckoner.pages.parts import Link, Shower
from reckoner.pages.price_words import counted, difference, pack_text, reasons, signed_percent, so_many

#: So many reasons stand beside a changed cost; its own page has more.
REASONS = 2


@dataclass(frozen=True)
class MoveView:
    """One offer that moved."""

    name: Link
    pack: str
    before: str
    now: str


@dataclass(frozen=True)
class ListChangeView:
    """One price list."""

    anchor: str
    title: str
    counts: str
    moves: tuple[MoveView, ...]


@dataclass(frozen=True)
class ChangeView:
    """One formula or process whose cost changed."""

    name: Link
    then: str
    now: str
    difference: str
    since: str
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class GroupView:
    """The changed formulas, or the changed processes.

    Attributes:
        unpriced: with a sum only then or only now.
        same: how many a list touched without changing the sum as shown.
    """

    title: str
    what: str
    lines: tuple[ChangeView, ...]
    unpriced: tuple[ChangeView, ...]
    same: int


@dataclass(frozen=True)
class ChangesView:
    """The context of ``price_changes.md.jinja``."""

    title: str
    summary: str
    today: str
    feed: str
    lists: tuple[ListChangeView, ...]
    groups: tuple[GroupView, ...]
    plans: tuple[tuple[Link, ThenView], ...]
    demo: bool


def changes_view(shower: Shower) -> ChangesView:
    """The newest list first; then formulas and processes, by what they cost before the last list that changed them."""
    results = shower.results
    history = results.history
    formulas = _group("Formulas", "a litre used", history.formulas, shower.formula, shower)
    processes = _group("Processes", "one litre of each bath used", history.processes, shower.process, shower)
    return ChangesView(
        title="Price changes",
        summary="What each price list changed, and what costs more or less since",
        today=shower.show.day(results.catalogue.today),
        feed=shower.links.file(FEED) if history.lists else "",
        lists=tuple(_list(change, shower) for change in reversed(history.lists)),
        groups=(formulas, processes),
        plans=_plans(shower),
        demo=any(supplier.invented for supplier in results.catalogue.suppliers.values()),
    )


def _plans(shower: Shower) -> tuple[tuple[Link, ThenView], ...]:
    """Plans whose basket changed with the newest list."""
    found = ((i, then_view(plan.then, plan.bought.total, shower)) for i, plan in shower.results.plans.items())
    return tuple((shower.plan(plan_id), view) for plan_id, view in found if view is not None)


def _list(change: ListChange, shower: Shower) -> ListChangeView:
    counts = f"first price list, {so_many(change.offers, 'offer')}" if change.first else counted(change.counts)
    return ListChangeView(
        anchor=list_anchor(change),
        title=f"{shower.show.day(change.day)}: {shower.supplier(change.supplier)}",
        counts=counts,
        moves=() if change.first else tuple(_move(move, shower) for move in change.moves),
    )


def _move(move: Move, shower: Shower) -> MoveView:
    return MoveView(
        shower.chemical(move.offer.chemical),
        pack_text(move.offer, shower),
        "new" if move.before is None else shower.show.money(move.before),
        "gone" if move.after is None else shower.show.money(move.after),
    )


def _group(
    title: str, what: str, histories: Mapping[str, CostHistory], link: Callable[[str], Link], shower: Shower
) -> GroupView:
    changes = [(i, history.change) for i, history in histories.items() if history.change]
    changes.sort(key=lambda one: _order(*one))
    moved = [(i, c) for i, c in changes if c.difference is not None and c.difference.number]
    unpriced = [(i, c) for i, c in changes if c.difference is None and (c.then or c.now)]
    return GroupView(
        title,
        what,
        tuple(_change(link(i), change, shower) for i, change in moved),
        tuple(_change(link(i), change, shower) for i, change in unpriced),
        sum(c.difference is not None and not c.difference.number for _, c in changes),
    )


def _order(subject: str, change: ThenNow) -> tuple[int, Decimal, str]:
    """The newest list first, then the largest difference."""
    size = abs(change.difference.number) if change.difference else Decimal(0)
    return (-change.since.toordinal(), -size, subject)


def _change(name: Link, change: ThenNow, shower: Shower) -> ChangeView:
    show = shower.show
    sum_more = difference(change.difference, show) if change.difference else ""
    if change.ratio is not None:
        sum_more += f" ({signed_percent(change.ratio, show)})"
    return ChangeView(
        name=name,
        then="no sum" if change.then is None else show.money(change.then),
        now="no sum" if change.now is None else show.money(change.now),
        difference=sum_more,
        since=f"since the list of {show.day(change.since)}",
        reasons=reasons(change, shower, REASONS),
    )
