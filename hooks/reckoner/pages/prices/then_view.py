"""A plan's basket at earlier prices, in words."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.buying.basket_before import BasketThen
from reckoner.calc.buying.plan_basket import Bought
from reckoner.pages.shared.parts import Link, Shower
from reckoner.pages.shared.sums import Say


@dataclass(frozen=True)
class ThenView:
    """A basket at earlier prices: its sum, and what is bought elsewhere now."""

    sentence: str
    moved: tuple[tuple[Link, str], ...]


def then_view(then: BasketThen | None, total: int, shower: Shower) -> ThenView | None:
    """Put the comparison with earlier prices into words; None where nothing differs."""
    if then is None or (then.total == total and not then.moved):
        return None
    say = Say(shower)
    day = shower.show.day(then.day)
    cost = "it could not be bought whole" if then.total is None else f"it cost {say.minor(then.total)}"
    return ThenView(
        f"At the prices of {day} {cost}; now it costs {say.minor(total)}.",
        tuple(
            (shower.chemical(one.chemical), f"now {_packs(one.now, shower)}; then {_packs(one.before, shower)}")
            for one in then.moved
        ),
    )


def _packs(bought: tuple[Bought, ...], shower: Shower) -> str:
    said = (f"{one.packs} × {shower.pack(one.offer)} from {shower.supplier(one.offer.supplier)}" for one in bought)
    return " and ".join(said) or "nothing"
