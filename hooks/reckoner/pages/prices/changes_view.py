"""What each price list changed, and which formulas and processes cost another sum since."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.prices.history import CostHistory
from reckoner.calc.prices.price_changes import MOVES, ListChange, Move
from reckoner.calc.prices.price_jumps import Jump
from reckoner.calc.prices.then_now import ThenNow
from reckoner.money import Money
from reckoner.pages.prices.price_words import (
    COUNTED,
    FEED,
    RULE,
    beside_prices,
    counted,
    difference,
    list_anchor,
    move_ends,
    reasons,
    signed_percent,
    so_many,
)
from reckoner.pages.prices.then_view import ThenView, then_view
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.rounding import significant
from reckoner.units import Proportion

#: So many reasons stand beside a changed cost; its own page has more.
REASONS = 2
#: So many changes stand open under a heading, the largest; the rest is folded away with its number and range.
OPEN = 5


@dataclass(frozen=True)
class MoveView:
    """One offer that moved."""

    name: Link
    pack: str
    before: str
    now: str


@dataclass(frozen=True)
class ListChangeView:
    """One price list: its largest moves, and the rest folded under a line that says how many and how far."""

    anchor: str
    title: str
    counts: str
    moves: tuple[MoveView, ...]
    folded: tuple[MoveView, ...]
    fold: str


@dataclass(frozen=True)
class ChangeView:
    """One formula or process whose cost changed."""

    name: Link
    then: str
    now: str
    difference: str
    beside: str
    since: str
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class GroupView:
    """The changed formulas, or the changed processes.

    Attributes:
        lines: the largest changes.
        folded: the smaller ones, under the line ``fold``, which says how many and how far.
        unpriced: with a sum only then or only now, under the line ``unpriced_fold``.
        same: how many a list touched without changing the sum as shown.
    """

    title: str
    whose: str
    lines: tuple[ChangeView, ...]
    folded: tuple[ChangeView, ...]
    fold: str
    unpriced: tuple[ChangeView, ...]
    unpriced_fold: str
    same: int


@dataclass(frozen=True)
class ChangesView:
    """The context of ``price_changes.md.jinja``."""

    title: str
    summary: str
    today: str
    feed: str
    rule: str
    jumps: tuple[str, ...]
    lists: tuple[ListChangeView, ...]
    groups: tuple[GroupView, ...]
    plans: tuple[tuple[Link, ThenView], ...]
    demo: bool


def changes_view(writer: PageWriter) -> ChangesView:
    """The newest list first; then formulas and processes, by what they cost before the last list that changed them."""
    results = writer.results
    history = results.history
    formulas = _group("Formulas", "a litre used", history.formulas, writer.formula, writer)
    processes = _group("Processes", "one litre of each bath used", history.processes, writer.process, writer)
    return ChangesView(
        title="Price changes",
        summary="What each price list changed, and what costs more or less since",
        today=writer.show.day(results.catalogue.today),
        feed=writer.links.file(FEED) if history.lists else "",
        rule=RULE,
        jumps=tuple(_jump(jump, writer) for jump in history.jumps),
        lists=tuple(_list(change, _newest(change, history.lists), writer) for change in reversed(history.lists)),
        groups=(formulas, processes),
        plans=_plans(writer),
        demo=any(supplier.invented for supplier in results.catalogue.suppliers.values()),
    )


def _plans(writer: PageWriter) -> tuple[tuple[Link, ThenView], ...]:
    """Plans whose basket changed with the newest list."""
    views = ((i, then_view(plan.then, plan.bought.total, writer)) for i, plan in writer.results.plans.items())
    return tuple((writer.plan(plan_id), view) for plan_id, view in views if view is not None)


def _jump(jump: Jump, writer: PageWriter) -> str:
    """A price that was probably written with a slip of the decimal point."""
    show = writer.show
    times = f"{show.number(significant(jump.times, 2))} times"
    where = f"{writer.short_name(jump.offer.chemical)}, {writer.listed_pack(jump.offer)}"
    listed = f"{writer.supplier(jump.supplier)}, list of {show.day(jump.day)}"
    was = f"{show.money(jump.before)} on {show.day(jump.before_day)}"
    much = f"{times} the {was}" if jump.up else f"the {was} was {times} as much"
    return f"{where}, {listed}: {show.money(jump.offer.price)}, {much}. Is the decimal point right?"


def _newest(change: ListChange, lists: Iterable[ListChange]) -> bool:
    return all(other.day <= change.day for other in lists if other.supplier == change.supplier)


def _list(change: ListChange, newest: bool, writer: PageWriter) -> ListChangeView:
    """A supplier's newest list shows its largest moves; those of older lists are all folded away."""
    counts = f"first price list, {so_many(change.offers, 'offer')}" if change.first else counted(change.counts)
    moved = () if change.first else tuple(sorted(change.moves, key=_far))
    shown = OPEN if newest else 0
    return ListChangeView(
        anchor=list_anchor(change),
        title=f"{writer.show.day(change.day)}: {writer.supplier(change.supplier)}",
        counts=counts,
        moves=tuple(_move(move, writer) for move in moved[:shown]),
        folded=tuple(_move(move, writer) for move in moved[shown:]),
        fold=_moves_fold(moved[shown:], more=shown > 0, writer=writer),
    )


def _ratio(move: Move) -> Proportion | None:
    """How far a price moved, of what it was."""
    if move.before is None or move.after is None:
        return None
    return Proportion(move.after.number / move.before.number - 1)


def _far(move: Move) -> tuple[Decimal, int]:
    """The farthest price first; then what came and went, as the kinds stand."""
    return (-abs(_ratio(move) or Decimal(0)), -MOVES.index(move.kind))


def _moves_fold(moves: tuple[Move, ...], more: bool, writer: PageWriter) -> str:
    """How many moves are folded away, and how far they reach: 12 more offers, from −3 % to +8 %; 2 new."""
    ratios = [ratio for move in moves if (ratio := _ratio(move)) is not None]
    counts = [f"{so_many(len(moves), 'more offer' if more else 'offer')}"]
    if ratios:
        counts[0] += f", {_reach(*(signed_percent(end, writer.show) for end in (min(ratios), max(ratios))))}"
    others = [(kind, sum(move.kind == kind for move in moves)) for kind in MOVES[2:]]
    return "; ".join([*counts, *(f"{count} {COUNTED[kind]}" for kind, count in others if count)]) if moves else ""


def _reach(low: str, high: str) -> str:
    return low if low == high else f"from {low} to {high}"


def _move(move: Move, writer: PageWriter) -> MoveView:
    return MoveView(writer.chemical(move.offer.chemical), writer.listed_pack(move.offer), *move_ends(move, writer.show))


def _group(
    title: str, whose: str, histories: Mapping[str, CostHistory], link: Callable[[str], Link], writer: PageWriter
) -> GroupView:
    changes = [(i, history.change) for i, history in histories.items() if history.change]
    changes.sort(key=lambda row: _order(*row))
    moved = [(i, c) for i, c in changes if c.difference is not None and c.difference.number]
    unpriced = [(i, c) for i, c in changes if c.difference is None and (c.then or c.now)]
    views = tuple(_change(link(i), change, writer) for i, change in moved)
    return GroupView(
        title,
        whose,
        views[:OPEN],
        views[OPEN:],
        _changes_fold([c.difference for _, c in moved[OPEN:] if c.difference], writer),
        tuple(_change(link(i), change, writer) for i, change in unpriced),
        f"{len(unpriced)} with a sum only then or only now",
        sum(c.difference is not None and not c.difference.number for _, c in changes),
    )


def _order(subject: str, change: ThenNow) -> tuple[Decimal | str, ...]:
    """The largest difference that prices make first, then the largest at all."""
    sizes = (abs(sum_.number) if sum_ else Decimal(0) for sum_ in (change.by_price, change.difference))
    return (*(-size for size in sizes), subject)


def _changes_fold(changes: list[Money], writer: PageWriter) -> str:
    """How many changes are folded away, and how far they reach."""
    if not changes:
        return ""
    ends = [difference(pick(changes, key=lambda sum_: sum_.number), writer.show) for pick in (min, max)]
    return f"{len(changes)} more, {_reach(*ends)}"


def _change(name: Link, change: ThenNow, writer: PageWriter) -> ChangeView:
    show = writer.show
    sum_more = difference(change.difference, show) if change.difference else ""
    if change.ratio is not None:
        sum_more += f" ({signed_percent(change.ratio, show)})"
    return ChangeView(
        name=name,
        then="no sum" if change.then is None else show.money(change.then),
        now="no sum" if change.now is None else show.money(change.now),
        difference=sum_more,
        beside=beside_prices(change, writer),
        since=f"since the list of {show.day(change.since)}",
        reasons=reasons(change, writer, REASONS),
    )
