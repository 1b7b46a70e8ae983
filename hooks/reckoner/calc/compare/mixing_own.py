"""The own side of "kit or own": the baths of a process, mixed by the owner from the shelf and from what is bought.

Needs are pooled as a plan pools them: any offer that converts may fill a need. A need's amounts are told as parts of
what one litre of each bath takes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.buying.demand import BathDemand
from reckoner.calc.buying.pack_keeping import days_left, time_of
from reckoner.calc.buying.pools import Pool, on_shelf, pools
from reckoner.calc.buying.terms import terms_of
from reckoner.calc.compare.cupboard import Owned, Pack
from reckoner.calc.compare.simulated_side import ZERO, Side
from reckoner.calc.film.days import Figure, days_of
from reckoner.calc.film.film_baths import film_bath
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import Piece
from reckoner.calc.mixing.rollup import Need, Rollup
from reckoner.calc.prices.costing import Cost, Market, cost_of
from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import NO_MONEY, ExactMinor
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.shelf import ShelfPack
from reckoner.units import ONE_LITRE, Litres


@dataclass(frozen=True)
class Sources:
    """Where one plan's chemicals come from: the offers it may use, and the packs on the shelf if they count."""

    catalogue: Catalogue
    rollup: Rollup
    market: Market
    shelf: tuple[ShelfPack, ...]


@dataclass(frozen=True)
class OwnBaths:
    """The baths of one process with what they are mixed from.

    Attributes:
        needs: of a litre, bath by bath.
        pools: of one litre of each.
        cost: of a litre of all of them.
        litres: of one batch.
        films: in the order in which they come, over and over.
    """

    baths: tuple[Formula, ...]
    needs: tuple[tuple[Need, ...], ...]
    pools: tuple[Pool, ...]
    cost: Cost
    litres: Litres
    films: tuple[Piece, ...]

    def side(self, desk: Sources, figure: Figure, beside_kit: bool = False) -> Side | None:
        """These baths for the simulation; None where none has a recorded capacity, or a price is missing.

        Args:
            beside_kit: ready-made baths stand beside these, so that one of them gives out first in any case.
        """
        if self.cost.missing:
            return None
        pairs = zip(self.used(desk, figure), self.needs, strict=True)
        baths = tuple(self._mixed(bath, needs, desk) for bath, needs in pairs)
        if not beside_kit and all(bath.does is None for bath in baths):
            return None
        filling = [(pool, offer, whole) for pool in self.pools for offer, whole in pool.offers]
        return Side(
            baths=baths,
            packs={offer.id: pack_of(pool, offer, whole, desk.catalogue, figure) for pool, offer, whole in filling},
            sellers={offer.supplier: terms_of(offer, desk.catalogue) for _, offer, _ in filling},
            shelf=tuple(pack for pool in self.pools for pack in owned(pool, desk, figure)),
            films=self.films,
        )

    def used(self, desk: Sources, figure: Figure = "cautious") -> tuple[Bath, ...]:
        """The baths as film uses them, without what they are mixed from."""
        tanks = desk.catalogue.settings.tanks
        return tuple(film_bath(bath, self.films, self.litres, tanks, figure) for bath in self.baths)

    def _mixed(self, bath: Bath, needs: Iterable[Need], desk: Sources) -> Bath:
        uses = ((pool.id, dict(pool.uses).get(bath.id)) for pool in self.pools)
        takes = tuple((pool, share * self.litres) for pool, share in uses if share)
        metered = ((desk.market.metered(need), need.per_litre) for need in needs)
        water = sum((price.exact_minor * each for price, each in metered if price is not None), ZERO) * self.litres
        return replace(bath, takes=takes, metered=ExactMinor(water))


def own_baths(baths: Iterable[Formula], desk: Sources, litres: Litres, films: tuple[Piece, ...]) -> OwnBaths:
    """What some baths are mixed from, and at which prices."""
    used = tuple(baths)
    needs = tuple(desk.rollup.needs(formula) for formula in used)
    cost = cost_of([need for of_bath in needs for need in of_bath], desk.market, litres)
    each = [BathDemand(formula.id, ONE_LITRE) for formula in used]
    return OwnBaths(used, needs, pools(each, desk.catalogue.formulas, desk.rollup, desk.market), cost, litres, films)


def pack_of(pool: Pool, offer: PricedOffer, whole: Decimal, catalogue: Catalogue, figure: Figure) -> Pack:
    """An offer as a pack: its price in whole cents, as it is paid; each of several bottles keeps by itself.

    Args:
        whole: of the offer's jar, what fills the need of one litre of each bath.
    """
    chemical = catalogue.chemicals[offer.offer.chemical]
    return Pack(
        id=offer.id,
        holds=offer.amount / offer.offer.count / whole,
        price=offer.price.exact_minor,
        units=offer.offer.count,
        goods=offer.listed.whole.exact_minor,
        seller=None if offer.offer.handed_over == "collection only" else offer.supplier,
        opened=days_of(time_of(chemical, opened=True), figure),
        sealed=days_of(time_of(chemical, opened=False), figure),
        pool=pool.id,
    )


def owned(pool: Pool, desk: Sources, figure: Figure) -> Iterable[Owned]:
    """What the shelf holds for a need, as the plan counts it: not what is past its keeping.

    A pack that the owner has looked at and uses all the same keeps on.
    """
    for at, on_hand in enumerate(on_shelf(pool, desk.shelf, desk.catalogue)):
        if on_hand.over:
            continue
        chemical, shelf = desk.catalogue.chemicals[on_hand.pack.chemical], on_hand.pack
        keeps = days_left(shelf, chemical, desk.catalogue.today, figure)
        pack = Pack(
            f"shelf/{pool.id}/{at}",
            on_hand.holds / on_hand.whole,
            on_hand.paid.exact_minor if on_hand.paid else NO_MONEY,
            opened=days_of(time_of(chemical, opened=True), figure),
            pool=pool.id,
        )
        yield Owned(pack, on_hand.left / on_hand.whole, keeps, shelf.opened is not None)
