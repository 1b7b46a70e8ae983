"""What a litre costs, what the first batch costs to start, and how far each pack goes.

Two figures are kept apart: *used* (grams consumed at the pack's unit price) and *to start* (whole packs bought).
Neither holds delivery, which an order pays and not a chemical: only a plan, which knows its orders, is delivered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from reckoner.calc.mixing.rollup import WATER, Need, Rollup
from reckoner.calc.mixing.scaling import LitreList
from reckoner.calc.mixing.strength import TooWeak, asked_of, reaching, weakness
from reckoner.calc.mixing.substitution import Conversion, Jar
from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import Money, money_shares, sum_money
from reckoner.records.chemical import Chemical
from reckoner.records.settings import Metered
from reckoner.records.values import Strength
from reckoner.rounding import up
from reckoner.units import Litres, PerLitre

TAP = "tap"


@dataclass(frozen=True)
class CostRow:
    """One chemical of a formula or process.

    Attributes:
        chemical: id of what is bought.
        asked: needs that it fills, as the formulas state them.
        offer: the pack chosen, or None for metered water or where nothing is for sale.
        per_litre: amount from the pack for a litre, in the jar's unit; None without an offer.
        unit: g or mL.
        packs: whole packs for the first batch.
        used: cost of what a litre consumes.
        to_start: cost of the packs, without delivery.
        litres_per_pack: how many litres one pack makes.
        litres: how many litres the packs bought make.
        considered: offers that would have done.
        missing: whether no offer in force converts to what is asked.
        weak: jars for sale that would fill it if they were stronger.
    """

    chemical: str
    asked: tuple[Need, ...]
    unit: str
    offer: PricedOffer | None = None
    conversions: tuple[Conversion, ...] = ()
    per_litre: PerLitre | None = None
    packs: int | None = None
    used: Money | None = None
    to_start: Money | None = None
    litres_per_pack: Litres | None = None
    litres: Litres | None = None
    considered: int = 0
    missing: bool = False
    weak: tuple[TooWeak, ...] = ()


Known = Mapping[tuple[Need, ...], CostRow]
Candidates = tuple[tuple[PricedOffer, Conversion], ...]


@dataclass(frozen=True)
class Cost:
    """Cost of a litre and of starting; sums are None while a price is missing.

    Attributes:
        missing: chemicals without a price: ``incomplete: no price for …``.
        first_out: the chemical whose packs are empty first, and after how many litres.
    """

    batch_litres: Litres
    rows: tuple[CostRow, ...]
    missing: tuple[str, ...]
    used_per_litre: Money | None
    to_start: Money | None
    first_out: str | None
    first_out_litres: Litres | None

    @property
    def used_shown(self) -> tuple[Money | None, ...]:
        """What each row uses, in whole minor units that add up to the rounded sum of a litre."""
        return _shown([row.used for row in self.rows], self.used_per_litre)

    @property
    def to_start_shown(self) -> tuple[Money | None, ...]:
        """What each row costs to start, in whole minor units that add up to their rounded sum."""
        return _shown([row.to_start for row in self.rows], self.to_start)


@dataclass(frozen=True)
class Market:
    """Everything for sale today, the price of tap water where it is metered, and the jars on the owner's shelf.

    Attributes:
        lists: every formula's list for a litre, from which needs are rolled up.
    """

    offers: Mapping[str, tuple[PricedOffer, ...]]
    lists: Mapping[str, LitreList]
    chemicals: Mapping[str, Chemical]
    currency: str
    tap_water: Metered | None = None
    own: tuple[Jar, ...] = ()
    #: What was found before: a hundred formulas ask for the same jars.
    _candidates: dict[tuple[str, str, tuple[str, ...], Decimal | None], Candidates] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _factors: dict[tuple[str, str, tuple[str, ...]], tuple[Decimal, ...]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @property
    def rollup(self) -> Rollup:
        """What formulas need, each by the ingredients that can be bought."""
        return Rollup(self.lists, self.priceable, factors=self.factors)

    def candidates(self, need: Need) -> Candidates:
        """Offers that fill a need with their conversions; stand-ins only where the asked chemical is not sold.

        What is too weak for the formula counts as not sold.
        """
        key = (need.chemical, need.form, need.swap, need.room)
        if key not in self._candidates:
            options = (self._convertible(need, self.offers.get(c, ())) for c in (need.chemical, *need.swap))
            self._candidates[key] = next((option for option in options if option), ())
        return self._candidates[key]

    def priceable(self, need: Need) -> bool:
        """Whether a need can be bought or drawn from the tap."""
        return self.metered(need) is not None or bool(self.candidates(need))

    def metered(self, need: Need) -> Money | None:
        """Price of 1 mL of tap water, where the need is that."""
        if need.chemical != WATER or need.form != TAP or self.tap_water is None:
            return None
        return self.tap_water.price * (1 / self.tap_water.per.base)

    def factors(self, need: Need) -> tuple[Decimal, ...]:
        """For 1 g or 1 mL of a need, the mL of each jar that may be taken for it, sold or at hand; 0 of a solid one."""
        key = (need.chemical, need.form, need.swap)
        if key not in self._factors:
            self._factors[key] = tuple(self._all_factors(need))
        return self._factors[key]

    def _all_factors(self, need: Need) -> Iterator[Decimal]:
        conversions = (reaching(replace(need, room=None), jar, self.chemicals) for jar in self._jars(need))
        yield from (
            conversion.factor if conversion.unit == "mL" else Decimal(0)
            for conversion in conversions
            if conversion is not None
        )

    def too_weak(self, needs: Iterable[Need]) -> tuple[TooWeak, ...]:
        """Jars, sold or at hand, that would fill a need if they were stronger: each form and strength once."""
        by_jar: dict[tuple[str, str, Strength | None], TooWeak] = {}
        for need in needs:
            for jar in self._jars(need) if need.room is not None else ():
                weak = weakness(need, jar, self.chemicals)
                if weak is not None:
                    key = (jar.chemical.id, jar.form.id, weak.strength)
                    by_jar[key] = max(by_jar.get(key, weak), weak, key=asked_of)
        return tuple(by_jar.values())

    def _jars(self, need: Need) -> Iterator[Jar]:
        """Every jar that may be taken for a need, sold or at hand."""
        accepted = (need.chemical, *need.swap)
        yield from (offer.jar for chemical in accepted for offer in self.offers.get(chemical, ()))
        yield from (jar for jar in self.own if jar.chemical.id in accepted)

    def _convertible(self, need: Need, offers: Iterable[PricedOffer]) -> Candidates:
        judged = ((offer, reaching(need, offer.jar, self.chemicals)) for offer in offers)
        return tuple((offer, conversion) for offer, conversion in judged if conversion is not None)


def cost_of(needs: Iterable[Need], market: Market, batch_litres: Litres, known: Known | None = None) -> Cost:
    """Cost a litre's needs, with whole packs bought for ``batch_litres``.

    Needs of one chemical are pooled over forms and stock solutions, and one offer fills them. ``known`` are rows that
    this market would give again, by the needs they fill.
    """
    taken = known or {}
    rows = tuple(taken.get(group) or _row(group, market, batch_litres) for group in pooled(needs, market))
    missing = tuple(sorted({row.chemical for row in rows if row.missing}))
    used = None if missing else sum_money((row.used for row in rows if row.used), market.currency)
    start = None if missing else sum_money((row.to_start for row in rows if row.to_start), market.currency)
    limited = [row for row in rows if row.litres is not None and row.chemical != WATER]
    first = min(limited, key=lambda row: (row.litres, row.chemical)) if limited else None
    return Cost(
        batch_litres, rows, missing, used, start, first.chemical if first else None, first.litres if first else None
    )


def _shown(sums: list[Money | None], total: Money | None) -> tuple[Money | None, ...]:
    """Sums as a column shows them; where one is missing there is no total, and each is rounded by itself."""
    known = [known_sum for known_sum in sums if known_sum is not None]
    if total is None or len(known) < len(sums):
        return tuple(sums)
    return money_shares(total, known)


def pooled(needs: Iterable[Need], market: Market) -> list[tuple[Need, ...]]:
    """Needs grouped by the chemical that will be bought for them, in order of first appearance."""
    groups: dict[tuple[str, str], list[Need]] = {}
    for need in needs:
        groups.setdefault(bought_as(need, market), []).append(need)
    return [tuple(group) for group in groups.values()]


def bought_as(need: Need, market: Market) -> tuple[str, str]:
    """What needs that are bought together have in common: the chemical bought, and the form where none converts."""
    if need.chemical == WATER:
        return (WATER, need.form)
    candidates = market.candidates(need)
    # Two forms that do not convert (no chemical formula) are bought apart.
    chemical = candidates[0][0].offer.chemical if candidates else need.chemical
    formula = market.chemicals[need.chemical].form(need.form)
    return (chemical, "" if formula and formula.formula else need.form)


def _row(needs: tuple[Need, ...], market: Market, batch_litres: Litres) -> CostRow:
    metered = market.metered(needs[0])
    if metered is not None:
        return _metered_row(needs, metered, batch_litres)
    choices = list(_choices(needs, market, batch_litres))
    if not choices:
        return CostRow(needs[0].chemical, needs, needs[0].unit, missing=True, weak=market.too_weak(needs))
    offer, conversions, per_litre, packs = min(choices, key=_cheapest_to_start)
    per_pack = litres_per_pack(offer.amount, per_litre)
    return CostRow(
        chemical=offer.offer.chemical,
        asked=needs,
        unit=offer.jar.unit,
        offer=offer,
        conversions=conversions,
        per_litre=per_litre,
        packs=packs,
        used=offer.unit_price * per_litre,
        to_start=offer.price * packs,
        litres_per_pack=per_pack,
        litres=Litres(per_pack * packs),
        considered=len(choices),
    )


_Supply = tuple[PricedOffer, tuple[Conversion, ...], PerLitre, int]


def _choices(needs: tuple[Need, ...], market: Market, batch_litres: Litres) -> Iterable[_Supply]:
    others = [{offer.id: conversion for offer, conversion in market.candidates(need)} for need in needs[1:]]
    for offer, conversion in market.candidates(needs[0]):
        conversions: tuple[Conversion, ...] = (conversion,)
        per_litre = needs[0].per_litre * conversion.factor
        for need, options in zip(needs[1:], others, strict=True):
            if offer.id not in options:
                break
            conversions += (options[offer.id],)
            per_litre += need.per_litre * options[offer.id].factor
        else:
            packs = up(per_litre * batch_litres / offer.amount) or 1
            yield offer, conversions, PerLitre(per_litre), packs


def _cheapest_to_start(choice: _Supply) -> tuple[Decimal, Decimal, str]:
    offer, _, per_litre, packs = choice
    return (offer.price.number * packs, offer.unit_price.number * per_litre, offer.id)


def _metered_row(needs: tuple[Need, ...], per_ml: Money, batch_litres: Litres) -> CostRow:
    per_litre = PerLitre(sum((need.per_litre for need in needs), Decimal(0)))
    used = per_ml * per_litre
    return CostRow(WATER, needs, "mL", per_litre=per_litre, used=used, to_start=used * batch_litres, considered=1)


def litres_per_pack(pack: Decimal, per_litre: PerLitre) -> Litres:
    """How many litres of bath a pack makes.

    >>> litres_per_pack(Decimal(250), Decimal(2))
    Decimal('125')
    """
    return Litres(pack / per_litre)
