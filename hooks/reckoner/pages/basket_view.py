"""Orders, packs from the shelf and left-overs in words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying import Bought, Order, PoolBought, in_currency
from reckoner.calc.pools import Taken
from reckoner.pages.parts import Link, Shower

#: So many baths are named that a left-over would make more of.
MORE = 3


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


@dataclass(frozen=True)
class Say:
    """Sums in the owner's currency, in words."""

    shower: Shower

    def minor(self, minor: int) -> str:
        """Whole minor units."""
        return self.shower.show.money(in_currency(minor, self.shower.results.catalogue.settings.currency))

    def exact(self, minor: Decimal) -> str:
        """Exact minor units, rounded once."""
        cent = in_currency(1, self.shower.results.catalogue.settings.currency)
        return self.shower.show.money(cent.times(minor))


def order_view(order: Order, shower: Shower) -> OrderView:
    """Put one order into words."""
    say = Say(shower)
    sent = say.minor(order.delivery) if order.delivery else "free"
    free = ""
    if order.free_short is not None:
        currency = order.lines[0].offer.listed.currency
        short = shower.show.money(in_currency(order.free_short, currency))
        free = f"{short} of goods short of free delivery; adding goods for that would cost more than the delivery."
    return OrderView(
        supplier=shower.supplier(order.supplier) + (", fetched from the shop" if order.fetched else ""),
        lines=tuple(_line(line, shower) for line in order.lines),
        goods=say.minor(order.goods),
        delivery="none, fetched" if order.fetched else sent,
        total=say.minor(order.goods + order.delivery),
        free=free,
    )


def _line(line: Bought, shower: Shower) -> OrderLine:
    return OrderLine(
        shower.chemical(line.offer.offer.chemical),
        shower.pack(line.offer),
        f"{line.packs} ×",
        Say(shower).minor(line.price),
        line.offer.offer.note or "",
    )


def taken_line(one: Taken, shower: Shower) -> str:
    """What the plan takes from a pack on the shelf, or why it takes nothing."""
    name = f"{shower.short_name(one.pack.chemical)}, {shower.form(one.pack.chemical, one.pack.form)}".rstrip(", ")
    if one.left_out:
        left = f"{name}, {shower.show.amount(one.pack.left)} left: {one.left_out}"
        return f"{left}. It counts when its line on the shelf says use_past_keeping: yes."
    return f"{shower.show.exactish(one.amount, one.unit)} of the {shower.show.amount(one.pack.left)} left of {name}"


def left_line(pool: PoolBought, shower: Shower) -> tuple[Link, str]:
    """What is over of a pool, and what it would still make."""
    offer = pool.bought[0].offer
    whole = next(whole for one, whole in pool.pool.offers if one.id == offer.id)
    amount = shower.show.exactish(pool.left_share * whole, offer.jar.unit)
    more = sorted(pool.more, key=lambda pair: (-pair[1], pair[0]))[:MORE]
    litres = "; or ".join(f"{shower.show.exactish(n, 'L')} more of {shower.formula(f).text}" for f, n in more)
    return shower.chemical(pool.pool.chemical), f"{amount}, enough for {litres}" if litres else amount
