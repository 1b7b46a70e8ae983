"""A plan's needs pooled over baths, chemicals and forms, and what the shelf already holds of each pool."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.demand import BathDemand
from reckoner.calc.buying.pack_keeping import Kept, past_keeping
from reckoner.calc.mixing.rollup import WATER, Need, Rollup
from reckoner.calc.mixing.strength import TooWeak, asked_of, too_weak_words, weakness
from reckoner.calc.mixing.substitution import Jar, base_amount, convert
from reckoner.calc.prices.costing import Market, pooled
from reckoner.calc.prices.offers import PricedOffer
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula
from reckoner.records.shelf import ShelfPack

ZERO, ONE = Decimal(0), Decimal(1)


@dataclass(frozen=True)
class Pool:
    """Everything of one kind that the plan needs, whatever form it is asked in.

    Attributes:
        id: chemical, or chemical/form where forms do not convert.
        chemical: id of what is bought.
        needs: g or mL of each asked form for the whole plan (``per_litre`` holds the plan's amount here).
        uses: formula id with the part of the pool that one litre of it takes.
        offers: each with the amount of its own jar that would fill the whole pool.
        weak: jars for sale that are too weak for one of the needs.
    """

    id: str
    chemical: str
    needs: tuple[Need, ...]
    uses: tuple[tuple[str, Decimal], ...]
    offers: tuple[tuple[PricedOffer, Decimal], ...]
    weak: tuple[TooWeak, ...] = ()

    def share(self, offer: PricedOffer) -> Decimal:
        """The part of the pool that one pack of an offer fills."""
        return next(own.amount / whole for own, whole in self.offers if own.id == offer.id)


@dataclass(frozen=True)
class ShelfUse:
    """A pack on the shelf and what the plan takes from it.

    Attributes:
        amount: g or mL taken from the pack.
        share: part of the pool that this is.
        paid: what that part of the pack cost, exact minor units of the owner's currency; None where nobody remembers.
        today: what it would cost at today's lowest price; None where nothing is for sale.
        left_out: its keeping time where it is too old to count.
        weak: why it is too weak to count, or empty.
    """

    pack: ShelfPack
    unit: str
    amount: Decimal
    share: Decimal
    left_out: Kept | None = None
    weak: str = ""
    paid: Decimal | None = None
    today: Decimal | None = None


def pools(
    baths: Iterable[BathDemand], formulas: Mapping[str, Formula], rollup: Rollup, market: Market
) -> tuple[Pool, ...]:
    """Pool what some baths need; tap water is drawn by the meter and is in no pool."""
    needs: list[Need] = []
    by_formula: dict[str, dict[tuple[str, str], Decimal]] = {}
    for bath in baths:
        mine = by_formula.setdefault(bath.formula, {})
        for need in rollup.needs(formulas[bath.formula]):
            if market.metered(need) is None:
                needs.append(need.times(bath.litres))
                key = (need.chemical, need.form)
                mine[key] = mine.get(key, ZERO) + need.per_litre
    return tuple(sorted((_pool(group, by_formula, market) for group in pooled(needs, market)), key=lambda p: p.id))


def _pool(needs: tuple[Need, ...], by_formula: Mapping[str, Mapping[tuple[str, str], Decimal]], market: Market) -> Pool:
    offers = []
    for offer, _ in market.candidates(needs[0]):
        whole = filling(needs, offer.jar, market.chemicals)
        if whole is not None and not weaknesses(needs, offer.jar, market.chemicals):
            offers.append((offer, whole))
    bought = offers[0][0].offer.chemical if offers else needs[0].chemical
    form = market.chemicals[needs[0].chemical].form(needs[0].form)
    name = bought if bought != WATER and form and form.formula else f"{bought}/{needs[0].form}"
    keys = {(need.chemical, need.form) for need in needs}
    uses = []
    for formula_id, amounts in sorted(by_formula.items()):
        mine = [_as_needs(key, amount, needs) for key, amount in sorted(amounts.items()) if key in keys]
        share = _share_of(tuple(mine), needs, market.chemicals)
        if share:
            uses.append((formula_id, share))
    return Pool(name, bought, needs, tuple(uses), tuple(offers), market.too_weak(needs))


def _as_needs(key: tuple[str, str], amount: Decimal, needs: tuple[Need, ...]) -> Need:
    unit = next(need.unit for need in needs if (need.chemical, need.form) == key)
    return Need(key[0], key[1], amount, unit)


def _share_of(some: tuple[Need, ...], needs: tuple[Need, ...], chemicals: Mapping[str, Chemical]) -> Decimal:
    """The part of the pool that a litre of one formula takes, both told in the first asked form."""
    first = chemicals[needs[0].chemical].form(needs[0].form)
    assert first is not None, "checks refuse unknown forms"
    jar = Jar(chemicals[needs[0].chemical], first)
    mine, all_of_it = filling(some, jar, chemicals), filling(needs, jar, chemicals)
    return mine / all_of_it if some and mine and all_of_it else ZERO


def filling(needs: Iterable[Need], jar: Jar, chemicals: Mapping[str, Chemical]) -> Decimal | None:
    """The amount from a jar, in its own unit, that fills some needs; None where one of them does not convert to it."""
    total = ZERO
    for need in needs:
        form = chemicals[need.chemical].form(need.form)
        assert form is not None, "checks refuse unknown forms"
        try:
            total += need.per_litre * convert(Jar(chemicals[need.chemical], form), jar).factor
        except ValueFault:
            return None
    return total


def weaknesses(needs: Iterable[Need], jar: Jar, chemicals: Mapping[str, Chemical]) -> tuple[TooWeak, ...]:
    """Why a jar is too weak for some of the needs; empty where it reaches all."""
    judged = (weakness(need, jar, chemicals) for need in needs)
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
        paid: minor units of the owner's currency; None where nobody remembers.
        over: its keeping time where it is too old to count.
        reaches: the part of the pool for which it is strong enough, 0 to 1.
        weak: why it is too weak for all of it, or empty.
    """

    pack: ShelfPack
    unit: str
    whole: Decimal
    holds: Decimal
    left: Decimal
    paid: int | None
    over: Kept | None
    reaches: Decimal = ONE
    weak: str = ""


def on_shelf(pool: Pool, packs: Iterable[ShelfPack], catalogue: Catalogue) -> Iterator[OnShelf]:
    """Packs that may fill a pool, the oldest first."""
    chemicals = catalogue.chemicals
    asked = {need.chemical for need in pool.needs} | {swap for need in pool.needs for swap in need.swap}
    accepted = asked | {pool.chemical}
    for pack in sorted(packs, key=lambda pack: (pack.opened or pack.bought, pack.bought, str(pack.left))):
        form = chemicals[pack.chemical].form(pack.form) if pack.chemical in accepted else None
        jar = Jar(chemicals[pack.chemical], form, pack.assay) if form else None
        whole = filling(pool.needs, jar, chemicals) if jar else None
        if form is None or jar is None or not whole:
            continue
        over = None if pack.use_past_keeping else past_keeping(pack, chemicals[pack.chemical], catalogue.today)
        weak = weaknesses(pool.needs, jar, chemicals)
        strong = tuple(need for need in pool.needs if not weakness(need, jar, chemicals))
        reaches = (filling(strong, jar, chemicals) or ZERO) / whole if weak else ONE
        why = "" if reaches else too_weak_words(max(weak, key=asked_of))
        holds, left = base_amount(pack.pack, form), base_amount(pack.left, form)
        paid = None if pack.paid is None else catalogue.in_minor(pack.paid)
        yield OnShelf(pack, jar.unit, whole, holds, left, paid, over, reaches, why)


def from_shelf(pool: Pool, packs: Iterable[ShelfPack], catalogue: Catalogue) -> tuple[ShelfUse, ...]:
    """What the shelf gives to a pool, the oldest pack first; packs past their time or too weak give nothing."""
    uses, open_share = [], ONE
    given: list[tuple[Decimal, Decimal]] = []
    for pack in on_shelf(pool, packs, catalogue):
        if pack.over or pack.weak:
            uses.append(ShelfUse(pack.pack, pack.unit, ZERO, ZERO, pack.over, pack.weak))
            continue
        share = min(open_share, pack.left / pack.whole, _still_reached(pack.reaches, given))
        open_share -= share
        given.append((pack.reaches, share))
        part = share * pack.whole / pack.holds
        cheapest = min((offer.price.minor * all_of_it / offer.amount for offer, all_of_it in pool.offers), default=None)
        uses.append(
            ShelfUse(
                pack.pack,
                pack.unit,
                share * pack.whole,
                share,
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
