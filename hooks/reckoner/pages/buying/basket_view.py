"""Orders, packs from the shelf and left-overs in words."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.buying.all_in import dead_on, dies
from reckoner.calc.buying.plan_basket import Bought, Order, PoolBought
from reckoner.calc.buying.pools import ShelfUse
from reckoner.calc.buying.shared_shelf import shared
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.shared.weak_words import too_weak_words
from reckoner.records.plan import Plan

#: So many baths are named that a left-over would make more of.
MORE = 3
#: Said of packs that the pool would be full without.
EXTRA = "more than the plan needs: it pays by reaching free delivery or the minimum order"


@dataclass(frozen=True)
class OrderLine:
    """Packs of one offer."""

    name: Link
    pack: str
    count: str
    price: str
    note: str


@dataclass(frozen=True)
class OrderView:
    """One order, ready to be sent."""

    supplier: str
    lines: tuple[OrderLine, ...]
    goods: str
    delivery: str
    total: str
    free: str


def order_view(order: Order, writer: PageWriter) -> OrderView:
    """Put one order into words."""
    show = writer.show
    sent = show.money(order.delivery) if order.delivery.number else "free"
    free = ""
    if order.free_short is not None:
        short = show.money(order.free_short)
        free = f"{short} of goods short of free delivery; adding goods for that would cost more than the delivery."
    return OrderView(
        supplier=writer.supplier(order.supplier) + (", fetched from the shop" if order.fetched else ""),
        lines=tuple(_line(line, writer) for line in order.lines),
        goods=show.money(order.goods),
        delivery="none, fetched" if order.fetched else sent,
        total=show.money(order.total),
        free=free,
    )


def _line(line: Bought, writer: PageWriter) -> OrderLine:
    return OrderLine(
        writer.chemical(line.offer.offer.chemical),
        writer.pack(line.offer),
        f"{line.packs} ×",
        writer.show.money(line.price),
        "; ".join([*([line.offer.offer.note] if line.offer.offer.note else []), *([EXTRA] if line.extra else [])]),
    )


def taken_line(taken: ShelfUse, plan_id: str, writer: PageWriter) -> str:
    """What the plan takes from a pack on the shelf, who else counts on it, or why it takes nothing."""
    name = writer.named(taken.pack.chemical, taken.pack.form)
    left = f"{name}, {writer.show.amount(taken.pack.left)} left"
    if taken.weak:
        return f"{left}: {too_weak_words(taken.weak)}."
    if taken.left_out:
        old = writer.past_keeping(taken.left_out)
        return f"{left}: {old}. It counts when its line on the shelf says use_past_keeping: yes."
    pack_left = f"the {writer.show.amount(taken.pack.left)} left of {name}"
    worth = ["price paid not recorded" if taken.paid is None else f"as paid {writer.show.money(taken.paid)}"]
    if taken.today is not None:
        worth.append(f"at today's cheapest price {writer.show.money(taken.today)}")
    amount = writer.show.exactish(taken.amount, taken.unit)
    return f"{amount} of {pack_left}: {', '.join(worth)}{_also(taken, plan_id, writer)}"


def _also(taken: ShelfUse, plan_id: str, writer: PageWriter) -> str:
    plans = {i: result.bought for i, result in writer.results.plans.items()}
    sharing = shared(taken, plan_id, plans, writer.results.catalogue.chemicals)
    if sharing is None:
        return ""
    names = " and ".join(f"“{writer.plan(plan).text}”" for plan in sharing.plans)
    counts = "counts" if len(sharing.plans) == 1 else "count"
    need = writer.show.exactish(sharing.together, taken.unit)
    enough = "which it holds" if sharing.enough else "more than it holds"
    return f". {names} {counts} on this pack too: {need} together, {enough}"


def left_line(pool: PoolBought, plan: Plan, writer: PageWriter) -> tuple[Link, str]:
    """What is over of a pool, and what it would still make before it dies."""
    offer = pool.bought[0].offer
    size = next(size for offered, size in pool.pool.offers if offered.id == offer.id)
    left = pool.left_share * size
    amount = writer.show.exactish(left, offer.jar.unit)
    name, day = writer.chemical(pool.pool.chemical), dead_on(pool, writer.results.catalogue)
    dying = dies(pool, plan, writer.results.catalogue)
    if dying == 1 and (plan.nothing_after or day is None):
        return name, f"{amount}; nothing is mixed after the plan, so none of it is used"
    if dying == 1 and day is not None:
        return name, f"{amount}; expires on {writer.show.day(day)}, by the end of the plan, so none of it is used"
    figures = 3
    if dying and day is not None:
        figures = 2
        usable = writer.show.exactish(left * (1 - dying), offer.jar.unit, figures)
        amount += f"; at this rate about {usable} of it is used before it expires on {writer.show.day(day)}"
    more = sorted(pool.more, key=lambda pair: (-pair[1], pair[0]))[:MORE]
    litres = "; or ".join(
        f"{writer.show.exactish(n * (1 - dying), 'L', figures)} more of {writer.formula(f).text}" for f, n in more
    )
    return name, f"{amount}, enough for {litres}" if litres else amount
