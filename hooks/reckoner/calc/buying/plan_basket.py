"""A plan bought: the cheapest basket less the shelf, what it leaves over, and the second-best with one seller fewer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.buying.basket import Basket, cheapest
from reckoner.calc.buying.basket_task import FETCHED, WHOLE, PackOption, Task
from reckoner.calc.buying.demand import BathDemand, demand
from reckoner.calc.buying.pools import Pool, ShelfUse, from_shelf, pools
from reckoner.calc.buying.terms import Terms, terms_of
from reckoner.calc.prices.costing import Market
from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import Money, in_currency, sum_money
from reckoner.records.catalogue import Catalogue
from reckoner.records.plan import Plan
from reckoner.records.shelf import ShelfPack
from reckoner.rounding import up
from reckoner.units import Litres, Proportion

ZERO, ONE = Decimal(0), Decimal(1)


@dataclass(frozen=True)
class Bought:
    """Packs of one offer.

    Attributes:
        price: of all packs.
        extra: one pack fewer would still fill the pool: it is there for a threshold.
    """

    offer: PricedOffer
    packs: int
    price: Money
    extra: bool = False


@dataclass(frozen=True)
class Order:
    """What one seller sends, or what is fetched there.

    Attributes:
        goods, delivery: in the owner's currency.
        listed: in the seller's currency, as its limits count.
        free_short: what the goods as listed lack to be sent free; None where they are, or never are.
    """

    supplier: str
    fetched: bool
    lines: tuple[Bought, ...]
    goods: Money
    delivery: Money
    listed: Money
    free_short: Money | None

    @property
    def total(self) -> Money:
        """Goods and delivery."""
        return self.goods + self.delivery


@dataclass(frozen=True)
class PoolBought:
    """One pool with what fills it.

    Attributes:
        left_share: part of the pool that is over when the plan is done, from packs bought for it.
        more: formula id and litres that what is over would still make, if it all went there.
    """

    pool: Pool
    shelf: tuple[ShelfUse, ...]
    bought: tuple[Bought, ...]
    left_share: Proportion
    more: tuple[tuple[str, Litres], ...]

    @property
    def filled(self) -> bool:
        """Whether shelf and basket hold all that is needed."""
        return bool(self.bought) or sum((used.share for used in self.shelf), ZERO) >= 1


@dataclass(frozen=True)
class PlanBought:
    """A plan with its basket.

    Attributes:
        missing: chemicals of which nothing is for sale to this plan.
        over_budget: by how much the cheapest basket is above the budget; None within it or without one.
        fewer: the cheapest basket with one seller fewer, or None where that cannot be.
    """

    plan: Plan
    baths: tuple[BathDemand, ...]
    pools: tuple[PoolBought, ...]
    orders: tuple[Order, ...]
    total: Money
    missing: tuple[str, ...]
    over_budget: Money | None
    fewer: tuple[Order, ...] | None
    unknown_delivery: tuple[str, ...]

    @property
    def impossible(self) -> bool:
        """Everything is for sale, but no basket meets the sellers' conditions."""
        return not self.missing and not self.orders and any(not pool.filled for pool in self.pools)

    @property
    def fewer_total(self) -> Money | None:
        """Of the basket with one seller fewer."""
        return sum_money((order.total for order in self.fewer), self.total.currency) if self.fewer else None


def buy(plan: Plan, catalogue: Catalogue, everything: Market) -> PlanBought:
    """Work a plan's basket out."""
    market = market_for(plan, everything)
    rollup = market.rollup
    baths = demand(plan, catalogue)
    wanted = pools(baths, catalogue.formulas, rollup, market)
    packs = shelf_of(plan, catalogue)
    taken = {pool.id: from_shelf(pool, packs, catalogue) for pool in wanted}
    task, offers = _task(wanted, taken, catalogue)
    missing = tuple(p.chemical for p in wanted if not p.offers and task.pools[p.id])
    basket = None if missing else cheapest(task)
    orders = _orders(basket, task, offers)
    total = sum_money((order.total for order in orders), catalogue.settings.currency)
    return PlanBought(
        plan=plan,
        baths=baths,
        pools=tuple(_pool_bought(pool, taken[pool.id], basket, offers) for pool in wanted),
        orders=orders,
        total=total,
        missing=missing,
        over_budget=_over(total, plan, catalogue),
        fewer=_fewer(task, basket, offers),
        unknown_delivery=tuple(sorted({o.supplier for o in orders if not catalogue.suppliers[o.supplier].delivery})),
    )


def _over(total: Money, plan: Plan, catalogue: Catalogue) -> Money | None:
    over = total - catalogue.own_money(plan.budget) if plan.budget else None
    return over if over and over.number > 0 else None


def shelf_of(plan: Plan, catalogue: Catalogue) -> tuple[ShelfPack, ...]:
    """The packs on the shelf that the plan counts."""
    return catalogue.shelf.packs if plan.use_shelf and catalogue.shelf else ()


def market_for(plan: Plan, everything: Market) -> Market:
    """The offers that the plan may use: in stock, deliverable or fetched if the owner fetches, none it avoids."""
    kinds = {"delivered", "collection only"} if plan.collect else {"delivered"}
    return replace(
        everything,
        offers={
            chemical: tuple(o for o in offers if o.supplier not in plan.avoid and o.offer.handed_over in kinds)
            for chemical, offers in everything.offers.items()
        },
    )


def _task(
    wanted: tuple[Pool, ...], taken: Mapping[str, tuple[ShelfUse, ...]], catalogue: Catalogue
) -> tuple[Task, dict[str, PricedOffer]]:
    choices, offers = [], {}
    for pool in wanted:
        for offer, whole in pool.offers:
            name = f"{offer.id}@{pool.id}"
            offers[name] = offer
            choices.append(
                PackOption(
                    name, _seller(offer), pool.id, _parts(offer.amount / whole), offer.price.minor, offer.listed.minor
                )
            )
    open_parts = {
        pool.id: min(WHOLE, _parts(max(ZERO, ONE - sum((t.share for t in taken[pool.id]), ZERO)))) for pool in wanted
    }
    return Task(open_parts, tuple(choices), _terms(offers, catalogue)), offers


def _parts(share: Decimal) -> int:
    return up(share * WHOLE)


def _seller(offer: PricedOffer) -> str:
    return offer.supplier + (FETCHED if offer.offer.handed_over == "collection only" else "")


def _terms(offers: Mapping[str, PricedOffer], catalogue: Catalogue) -> dict[str, Terms]:
    """What each seller asks; what is fetched is an order of its own without any."""
    sellers = ((_seller(offer), offer) for offer in offers.values())
    return {seller: terms_of(offer, catalogue) if seller == offer.supplier else Terms() for seller, offer in sellers}


def _orders(basket: Basket | None, task: Task, offers: Mapping[str, PricedOffer]) -> tuple[Order, ...]:
    if basket is None:
        return ()
    by_id = {choice.id: choice for choice in task.choices}
    orders = []
    for seller, goods in basket.goods.items():
        chosen = [(by_id[i], n) for i, n in basket.packs.items() if by_id[i].seller == seller]
        listed = sum(choice.listed * n for choice, n in chosen)
        lines = tuple(
            Bought(offers[choice.id], n, offers[choice.id].price * n, _extra(choice, basket, task))
            for choice, n in chosen
        )
        short = task.terms[seller].short_of_free(listed)
        supplier = seller.removesuffix(FETCHED)
        own, theirs = lines[0].offer.price.currency, lines[0].offer.listed.currency
        orders.append(
            Order(
                supplier=supplier,
                fetched=seller != supplier,
                lines=lines,
                goods=in_currency(goods, own),
                delivery=in_currency(basket.delivery[seller], own),
                listed=in_currency(listed, theirs),
                free_short=None if short is None else in_currency(short, theirs),
            )
        )
    return tuple(orders)


def _extra(choice: PackOption, basket: Basket, task: Task) -> bool:
    """Whether the pool would be full with one pack of an offer fewer."""
    given = sum(option.gives * basket.packs.get(option.id, 0) for option in task.choices if option.pool == choice.pool)
    return given - choice.gives >= task.pools[choice.pool]


def _fewer(task: Task, basket: Basket | None, offers: Mapping[str, PricedOffer]) -> tuple[Order, ...] | None:
    if basket is None or len(basket.goods) < 2:
        return None
    second = cheapest(task, len(basket.goods) - 1)
    return _orders(second, task, offers) if second else None


def _pool_bought(
    pool: Pool, taken: tuple[ShelfUse, ...], basket: Basket | None, offers: Mapping[str, PricedOffer]
) -> PoolBought:
    bought = tuple(
        Bought(offers[name], count, offers[name].price * count)
        for name, count in (basket.packs.items() if basket else ())
        if name.endswith(f"@{pool.id}")
    )
    had = sum((used.share for used in taken), ZERO)
    got = sum((pool.share(line.offer) * line.packs for line in bought), ZERO)
    left = Proportion(max(ZERO, had + got - 1) if bought else ZERO)
    more = tuple((formula_id, Litres(left / each)) for formula_id, each in pool.uses) if left else ()
    return PoolBought(pool, taken, bought, left, more)
