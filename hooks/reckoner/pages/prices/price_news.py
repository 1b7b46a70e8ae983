"""Changed prices for the build's log: what the newest list did, and what an edit would do before it is published."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from reckoner.calc.prices.offers import rows_in_force
from reckoner.calc.prices.price_changes import MOVES, Move, MoveKind, moves
from reckoner.calc.prices.then_now import ThenNow
from reckoner.calc.results import Results
from reckoner.money import Money
from reckoner.pages.prices.price_words import counted, signed_percent, so_many
from reckoner.pages.shared.display import Display

#: What an offer without a price was, by the kind of its move; the kind itself says what it is now.
WAS: Mapping[MoveKind, str] = {"back": "out of stock"}
#: Lines of each sort that a preview shows.
MOST = 10


def newest_list(results: Results) -> str:
    """What the newest price list changed, in one line; empty where there is none.

    Formulas count where that list was the last to change what is bought for them, by what prices make of it; those
    for which another pack is taken though the old one is still sold are counted apart. Several lists of a day are one.
    """
    lists = results.history.lists
    if not lists:
        return ""
    day = lists[-1].day
    of_day = [change for change in lists if change.day == day]
    moved = f"prices changed on {day}: {counted({kind: sum(c.counts[kind] for c in of_day) for kind in MOVES})}"
    changes = [(i, history.change) for i, history in results.history.formulas.items()]
    changed = [(i, c) for i, c in changes if c and c.since == day and c.by_price and c.by_price.number]
    repacked = sum(bool(c and c.since == day and c.choice.number) for _, c in changes)
    effect = _effect(changed, results) if changed else "no formula costs another sum"
    if repacked:
        effect = effect if changed else "no formula costs another sum by prices"
        effect += f"; {so_many(repacked, 'formula')} with another pack, the old one still sold"
    return f"{moved}; {effect}"


def newest_moves(results: Results) -> tuple[str, ...]:
    """What the lists of the newest day changed, one line an offer, as its supplier lists it; then how many more.

    A supplier's first list changes nothing: it is left out.
    """
    lists = results.history.lists
    moved = [move for change in lists if change.day == lists[-1].day and not change.first for move in change.moves]
    return tuple(_at_most(_offers(moved), "offers"))


def _effect(changed: list[tuple[str, ThenNow]], results: Results) -> str:
    dearer = sum(change.by_price is not None and change.by_price.number > 0 for _, change in changed)
    words = f"{so_many(dearer, 'formula')} dearer, {len(changed) - dearer} cheaper"
    ratios = [(i, change.price_ratio) for i, change in changed]
    by_ratio = [(abs(ratio), i, ratio) for i, ratio in ratios if ratio is not None]
    if not by_ratio:
        return words
    _, largest, ratio = max(by_ratio, key=lambda entry: (entry[0], entry[1]))
    show = Display(results.catalogue.settings.locale)
    return f"{words}; largest: {results.catalogue.formulas[largest].name} {signed_percent(ratio, show)}"


def edited(before: Results, after: Results) -> tuple[str, ...]:
    """What an edit of price lists or exchange rates changed between two builds; nothing where it changed none.

    One line an offer, as its supplier lists it, and one line a formula; of each so many, then how many more.
    """
    moved = moves(
        *(rows_in_force(results.catalogue.price_lists, results.catalogue.today) for results in (before, after))
    )
    if not moved and before.catalogue.rates == after.catalogue.rates:
        return ()
    return (*_at_most(_offers(moved), "offers"), *_at_most(list(_costs(before, after)), "formulas"))


def _offers(moved: Iterable[Move]) -> list[str]:
    return [_offer(move) for move in moved]


def _offer(move: Move) -> str:
    return f"{move.id}: {_sum(move.before, WAS.get(move.kind, 'new'))} → {_sum(move.after, move.kind)}"


def _costs(before: Results, after: Results) -> Iterator[str]:
    for formula_id, result in after.formulas.items():
        if formula_id in before.formulas:
            then, now = before.formulas[formula_id].cost.used_per_litre, result.cost.used_per_litre
            if (then and then.rounded) != (now and now.rounded):
                yield f"{formula_id}: a litre {_rounded(then)} → {_rounded(now)}"


def _at_most(lines: list[str], things: str) -> list[str]:
    more = [f"and {len(lines) - MOST} more {things}, see Price changes"] if len(lines) > MOST else []
    return lines[:MOST] + more


def _sum(money: Money | None, otherwise: str) -> str:
    return otherwise if money is None else str(money)


def _rounded(money: Money | None) -> str:
    return "incomplete" if money is None else f"{money.rounded} {money.currency}"
