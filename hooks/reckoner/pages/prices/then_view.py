"""A plan's basket at earlier prices, in words."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.buying.basket_before import BasketThen
from reckoner.calc.buying.plan_basket import Bought
from reckoner.money import Money
from reckoner.pages.shared.parts import Link, PageWriter


@dataclass(frozen=True)
class ThenView:
    """A basket at earlier prices: its sum, and what is bought elsewhere now."""

    sentence: str
    moved: tuple[tuple[Link, str], ...]


def then_view(then: BasketThen | None, total: Money, writer: PageWriter) -> ThenView | None:
    """Put the comparison with earlier prices into words; None where nothing differs."""
    if then is None or (then.total == total and not then.moved):
        return None
    day = writer.show.day(then.day)
    cost = "it could not be bought whole" if then.total is None else f"it cost {writer.show.money(then.total)}"
    return ThenView(
        f"At the prices of {day} {cost}; now it costs {writer.show.money(total)}.",
        tuple(
            (
                writer.chemical(change.chemical),
                f"now {_packs(change.now, writer)}; then {_packs(change.before, writer)}",
            )
            for change in then.moved
        ),
    )


def _packs(bought: tuple[Bought, ...], writer: PageWriter) -> str:
    packs = (f"{line.packs} × {writer.pack(line.offer)} from {writer.supplier(line.offer.supplier)}" for line in bought)
    return " and ".join(packs) or "nothing"
