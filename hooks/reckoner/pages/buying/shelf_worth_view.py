"""What a plan takes from the shelf, as paid and at today's prices: pack by pack with its sum."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.buying.plan_basket import PlanBought
from reckoner.calc.buying.shelf_worth import PackWorth, shelf_worth
from reckoner.pages.shared.parts import Link, PageWriter


@dataclass(frozen=True)
class WorthLine:
    """One pack: what was paid for the whole of it, and what the part taken comes to."""

    name: Link
    share: str
    paid: str
    part: str


@dataclass(frozen=True)
class WorthView:
    """The packs and their sum; ``today`` is what the same would cost now, a sentence or empty."""

    lines: tuple[WorthLine, ...]
    total: str
    today: str


def worth_view(bought: PlanBought, writer: PageWriter) -> WorthView | None:
    """Put the worth of what a plan takes from the shelf into words; None where it takes nothing."""
    worth, show = shelf_worth(bought.pools, writer.results.catalogue), writer.show
    if not worth.packs:
        return None
    known = [pack for pack in worth.packs if pack.today is not None]
    sold = "the same" if len(known) == len(worth.packs) else "what of it is for sale"
    today = f"At today's cheapest prices {sold} would cost {show.money(worth.today)}." if known else ""
    return WorthView(tuple(_line(pack, writer) for pack in worth.packs), show.money(worth.paid), today)


def _line(pack_worth: PackWorth, writer: PageWriter) -> WorthLine:
    pack, show = pack_worth.taken.pack, writer.show
    stays = f"{show.percent(pack_worth.stays)} stays" if pack_worth.stays else "nothing stays"
    return WorthLine(
        name=writer.chemical(pack.chemical),
        share=f"{show.percent(pack_worth.share)} of the pack of {show.amount(pack.pack)} is taken, {stays}",
        paid=show.money(pack.paid) if pack.paid else "not recorded",
        part="not counted" if pack_worth.paid is None else show.money(pack_worth.paid),
    )
