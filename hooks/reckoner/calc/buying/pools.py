"""A plan's needs pooled over baths, chemicals and forms, and what the shelf already holds of each pool."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.demand import BathDemand
from reckoner.calc.buying.pack_keeping import Kept, past_keeping
from reckoner.calc.mixing.rollup import WATER, Need, Rollup
from reckoner.calc.mixing.strength import TooWeak, asked_of, weakness
from reckoner.calc.mixing.substitution import Jar, base_amount, convert
from reckoner.calc.prices.costing import Market, bought_as
from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import Money
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula
from reckoner.records.shelf import ShelfPack
from reckoner.units import Proportion

ZERO, ONE = Decimal(0), Decimal(1)
NOTHING, WHOLE_POOL = Proportion(ZERO), Proportion(ONE)


@dataclass(frozen=True)
class Wanted:
    """How much of what a formula asks for is wanted in all: by a plan, or by whatever else pools its needs.

    Attributes:
        amount: in the need's unit, g or mL.
    """

    need: Need
    amount: Decimal

    @property
    def key(self) -> tuple[str, str]:
        """The chemical and form asked for."""
        return self.need.chemical, self.need.form


@dataclass(frozen=True)
class Pool:
    """Everything of one kind that the plan needs, whatever form it is asked in.

    Attributes:
        id: chemical, or chemical/form where forms do not convert.
        chemical: id of what is bought.
        wanted: of each asked form, for the whole plan.
        uses: formula id with the part of the pool that one litre of it takes.
        offers: each with the amount of its own jar that would fill the whole pool.
        weak: jars for sale that are too weak for one of the needs.
    """

    id: str
    chemical: str
    wanted: tuple[Wanted, ...]
    uses: tuple[tuple[str, Proportion], ...]
    offers: tuple[tuple[PricedOffer, Decimal], ...]
    weak: tuple[TooWeak, ...] = ()

    def share(self, offer: PricedOffer) -> Proportion:
        """The part of the pool that one pack of an offer fills."""
        return Proportion(next(own.amount / whole for own, whole in self.offers if own.id == offer.id))

    @property
    def first(self) -> Need:
        """The need that is asked first; amounts of the pool are told in its form."""
        return self.wanted[0].need


@dataclass(frozen=True)
class ShelfUse:
    """A pack on the shelf and what the plan takes from it.

    Attributes:
        amount: g or mL taken from the pack.
        share: part of the pool that this is.
        paid: what that part of the pack cost, exact, in the owner's currency; None where nobody remembers.
        today: what it would cost at today's lowest price; None where nothing is for sale.
        left_out: its keeping time where it is too old to count.
        weak: how much it is too weak to count, or None.
    """

    pack: ShelfPack
    unit: str
    amount: Decimal
    share: Proportion
    left_out: Kept | None = None
    weak: TooWeak | None = None
    paid: Money | None = None
    today: Money | None = None


def pools(
    baths: Iterable[BathDemand], formulas: Mapping[str, Formula], rollup: Rollup, market: Market
) -> tuple[Pool, ...]:
    """Pool what some baths need; tap water is drawn by the meter and is in no pool."""
    groups: dict[tuple[str, str], list[Wanted]] = {}
    by_formula: dict[str, dict[tuple[str, str], Decimal]] = {}
    for bath in baths:
        mine = by_formula.setdefault(bath.formula, {})
        for need in rollup.needs(formulas[bath.formula]):
            if market.metered(need) is None:
                wanted = Wanted(need, need.per_litre * bath.litres)
                groups.setdefault(bought_as(need, market), []).append(wanted)
                mine[wanted.key] = mine.get(wanted.key, ZERO) + need.per_litre
    return tuple(sorted((_pool(tuple(group), by_formula, market) for group in groups.values()), key=lambda p: p.id))


def _pool(
    wanted: tuple[Wanted, ...], by_formula: Mapping[str, Mapping[tuple[str, str], Decimal]], market: Market
) -> Pool:
    first, chemicals = wanted[0].need, market.chemicals
    offers = []
    for offer, _ in market.candidates(first):
        whole = filling(wanted, offer.jar, chemicals)
        if whole is not None and not weaknesses(wanted, offer.jar, chemicals):
            offers.append((offer, whole))
    bought = offers[0][0].offer.chemical if offers else first.chemical
    form = chemicals[first.chemical].form(first.form)
    name = bought if bought != WATER and form and form.formula else f"{bought}/{first.form}"
    by_key = {each.key: each.need for each in reversed(wanted)}
    uses = []
    for formula_id, amounts in sorted(by_formula.items()):
        litre = tuple(Wanted(by_key[key], amount) for key, amount in sorted(amounts.items()) if key in by_key)
        share = _share_of(litre, wanted, chemicals)
        if share:
            uses.append((formula_id, share))
    weak = market.too_weak(each.need for each in wanted)
    return Pool(name, bought, wanted, tuple(uses), tuple(offers), weak)


def _share_of(some: tuple[Wanted, ...], wanted: tuple[Wanted, ...], chemicals: Mapping[str, Chemical]) -> Proportion:
    """The part of the pool that a litre of one formula takes, both told in the first asked form."""
    jar = asked_jar(wanted[0].need, chemicals)
    mine, all_of_it = filling(some, jar, chemicals), filling(wanted, jar, chemicals)
    return Proportion(mine / all_of_it if some and mine and all_of_it else ZERO)


def asked_jar(need: Need, chemicals: Mapping[str, Chemical]) -> Jar:
    """A jar of just what is asked for."""
    form = chemicals[need.chemical].form(need.form)
    assert form is not None, "checks refuse unknown forms"
    return Jar(chemicals[need.chemical], form)


def filling(wanted: Iterable[Wanted], jar: Jar, chemicals: Mapping[str, Chemical]) -> Decimal | None:
    """The amount from a jar, in its own unit, that fills some needs; None where one of them does not convert to it."""
    total = ZERO
    for each in wanted:
        try:
            total += each.amount * convert(asked_jar(each.need, chemicals), jar).factor
        except ValueFault:
            return None
    return total


def weaknesses(wanted: Iterable[Wanted], jar: Jar, chemicals: Mapping[str, Chemical]) -> tuple[TooWeak, ...]:
    """Why a jar is too weak for some of the needs; empty where it reaches all."""
    judged = (weakness(each.need, jar, chemicals) for each in wanted)
    return tuple(weak for weak in judged if weak is not None)


def own_jars(catalogue: Catalogue) -> tuple[Jar, ...]:
    """What stands on the shelf, whatever its age; checks report forms that there are not."""
    packs = catalogue.shelf.packs if catalogue.shelf else ()
    owned = ((catalogue.chemicals[p.chemical], p) for p in packs if p.chemical in catalogue.chemicals)
    return tuple(Jar(chemical, form, p.assay) for chemical, p in owned if (form := chemical.form(p.form)))


@dataclass(frozen=True)
class OnShelf:
    """A pack on the shelf that may fill a pool.

    Attributes:
        whole: of its jar, in g or mL, what fills the whole pool.
        holds, left: g or mL of its jar, when it was full and now.
        paid: in the owner's currency; None where nobody remembers.
        over: its keeping time where it is too old to count.
        reaches: the part of the pool for which it is strong enough, 0 to 1.
        weak: how much it is too weak for all of it, or None.
    """

    pack: ShelfPack
    unit: str
    whole: Decimal
    holds: Decimal
    left: Decimal
    paid: Money | None
    over: Kept | None
    reaches: Proportion = WHOLE_POOL
    weak: TooWeak | None = None


def on_shelf(pool: Pool, packs: Iterable[ShelfPack], catalogue: Catalogue) -> Iterator[OnShelf]:
    """Packs that may fill a pool, the oldest first."""
    chemicals = catalogue.chemicals
    asked = {chemical for each in pool.wanted for chemical in (each.need.chemical, *each.need.swap)}
    accepted = asked | {pool.chemical}
    for pack in sorted(packs, key=lambda pack: (pack.opened or pack.bought, pack.bought, str(pack.left))):
        form = chemicals[pack.chemical].form(pack.form) if pack.chemical in accepted else None
        jar = Jar(chemicals[pack.chemical], form, pack.assay) if form else None
        whole = filling(pool.wanted, jar, chemicals) if jar else None
        if form is None or jar is None or not whole:
            continue
        over = None if pack.use_past_keeping else past_keeping(pack, chemicals[pack.chemical], catalogue.today)
        weak = weaknesses(pool.wanted, jar, chemicals)
        strong = tuple(each for each in pool.wanted if not weakness(each.need, jar, chemicals))
        reaches = Proportion((filling(strong, jar, chemicals) or ZERO) / whole) if weak else WHOLE_POOL
        too_weak = None if reaches else max(weak, key=asked_of)
        holds, left = base_amount(pack.pack, form), base_amount(pack.left, form)
        paid = None if pack.paid is None else catalogue.own_money(pack.paid)
        yield OnShelf(pack, jar.unit, whole, holds, left, paid, over, reaches, too_weak)


def from_shelf(pool: Pool, packs: Iterable[ShelfPack], catalogue: Catalogue) -> tuple[ShelfUse, ...]:
    """What the shelf gives to a pool, the oldest pack first; packs past their time or too weak give nothing."""
    uses, open_share = [], ONE
    given: list[tuple[Decimal, Decimal]] = []
    for pack in on_shelf(pool, packs, catalogue):
        if pack.over or pack.weak:
            uses.append(ShelfUse(pack.pack, pack.unit, ZERO, NOTHING, pack.over, pack.weak))
            continue
        share = min(open_share, pack.left / pack.whole, _still_reached(pack.reaches, given))
        open_share -= share
        given.append((pack.reaches, share))
        part = share * pack.whole / pack.holds
        whole = [offer.price * all_of_it / offer.amount for offer, all_of_it in pool.offers]
        cheapest = min(whole, key=lambda price: price.number, default=None)
        uses.append(
            ShelfUse(
                pack.pack,
                pack.unit,
                share * pack.whole,
                Proportion(share),
                paid=None if pack.paid is None else pack.paid * part,
                today=None if cheapest is None else cheapest * share,
            )
        )
    return tuple(uses)


def _still_reached(reaches: Decimal, given: Iterable[tuple[Decimal, Decimal]]) -> Decimal:
    """What a jar may give to a pool of which it reaches a part, after others: weak jars share the weak baths."""
    taken = tuple(given)
    limits = {reaches, *(other for other, _ in taken if other > reaches)}
    return min(limit - sum((share for other, share in taken if other <= limit), ZERO) for limit in limits)
