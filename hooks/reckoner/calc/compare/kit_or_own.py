"""Kit or own: each plan's film mixed by the owner against the kits, concentrates and labs that the plan names.

All sums are minor units of the owner's currency. Mixing buys as a plan does: the cheapest basket for all film of the
plan, less the shelf; what is taken from the shelf counts as it was paid.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, cached_property

from reckoner.calc.buying.all_in import AllIn
from reckoner.calc.buying.plan_basket import market_for, shelf_of
from reckoner.calc.compare.alternative import (
    MOST_ROLLS,
    RATES,
    Alternative,
    Drawn,
    Processing,
    Question,
    Runs,
    alternative,
)
from reckoner.calc.compare.buying_kits import kit_side, lab_run
from reckoner.calc.compare.mixing_own import OwnBaths, Sources, own_baths
from reckoner.calc.compare.plan_bridge import Alone, Bridge, alone, bridge
from reckoner.calc.compare.sessions import Sessions, sessions
from reckoner.calc.compare.simulated_side import ONE, ZERO, Ahead, Run, Side, one_by_one
from reckoner.calc.compare.simulation import run
from reckoner.calc.film.days import MONTH, Figure
from reckoner.calc.film.film_baths import films_together, months_waiting, plan_days, planned_films
from reckoner.calc.film.whole_films import ROLL, Piece
from reckoner.calc.mixing.scaling import first_litres
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.calc.prices.costing import Cost, Market
from reckoner.calc.prices.offers import PricedOffer
from reckoner.money import NO_MONEY, ExactMinor, in_currency
from reckoner.records.catalogue import Catalogue
from reckoner.records.kit import Kit
from reckoner.records.plan import Plan
from reckoner.rounding import up
from reckoner.units import Litres

#: Looked ahead, where the plan reaches no further.
MONTHS = Decimal(24)
#: Pictures of litres reach over so many times what a kit makes.
TIMES = 2
#: And over so many batches, at least and at most.
BATCHES = (6, 40)


@dataclass(frozen=True)
class Comparison:
    """One process of a plan, mixed, against everything that the plan compares with it.

    Attributes:
        cost: of the baths, with the pack that is bought of each chemical.
        own: mixing; None where ``fault`` says why there are no figures.
        offers: that mixing buys over all rolls of the picture.
        bridge: from the plan's all-in sum to what mixing pays; None where the plan has no basket.
        sessions: how film should be gathered.
        fault: ``price`` of some chemicals missing, or ``capacity`` recorded of no bath; else empty.
    """

    question: Question
    cost: Cost
    own: Drawn | None
    alternatives: tuple[Alternative, ...]
    sessions: Sessions | None
    fault: str = ""
    offers: tuple[PricedOffer, ...] = ()
    bridge: Bridge | None = None


def comparisons(plan: Plan, catalogue: Catalogue, everything: Market, money: AllIn | None) -> tuple[Comparison, ...]:
    """Every process of a plan that some kit, concentrate or lab of its list is for, by id.

    Args:
        money: of the whole plan; None where it has no basket.
    """
    kits = [catalogue.kits[i] for i in dict.fromkeys(plan.compare) if i in catalogue.kits]
    wanted = {want.process for want in plan.wants if want.process}
    market = market_for(plan, everything)
    rollup = market.rollup
    sources = Sources(catalogue, rollup, market, shelf_of(plan, catalogue))
    return tuple(
        _Desk(plan, process, sources, money).compare([kit for kit in kits if kit.process == process])
        for process in sorted({kit.process for kit in kits} & wanted)
    )


@dataclass(frozen=True)
class _Desk:
    """Everything that one comparison is worked out from."""

    plan: Plan
    process: str
    sources: Sources
    money: AllIn | None

    @property
    def catalogue(self) -> Catalogue:
        """What is recorded."""
        return self.sources.catalogue

    def compare(self, kits: list[Kit]) -> Comparison:
        usual = self.usual(())
        planned = self._sessions(usual)
        question = self._question(usual)
        side = usual.side(self.sources, "cautious")
        if side is None:
            fault = "price" if usual.cost.missing else "capacity"
            return Comparison(question, usual.cost, None, (), None, fault)
        reach = _reach(question, kits, usual.litres)
        mixing = Processing(_runs(lambda figure: _sure(usual.side(self.sources, figure))), question.session, side)
        by_itself = self._alone(())
        own = _drawn(mixing, question, reach, usual.litres, by_itself.good.exact_minor if by_itself else NO_MONEY)
        alternatives = []
        for kit in kits:
            processing = self._lab(kit, question) if kit.kind == "lab" else self._kit(kit, usual.litres, question)
            drawn = _drawn(processing, question, reach, usual.litres, self._good(kit))
            alternatives.append(alternative(kit, own, drawn, (mixing, processing), question, self._rates(question)))
        return Comparison(
            question=question,
            cost=usual.cost,
            own=own,
            alternatives=tuple(alternatives),
            sessions=planned,
            offers=self._offers(own),
            bridge=self._bridge(by_itself, own, side, question),
        )

    def _offers(self, own: Drawn) -> tuple[PricedOffer, ...]:
        packs = {**own.run.packs, **(own.plan.packs if own.plan else {})}
        known = {offer.id: offer for offers in self.sources.market.offers.values() for offer in offers}
        return tuple(known[i] for i in sorted(packs))

    def _alone(self, replaced: tuple[str, ...]) -> Alone | None:
        if self.money is None:
            return None
        return alone(self.plan, self.process, replaced, self.catalogue, self.sources.market)

    def _good(self, kit: Kit) -> ExactMinor:
        """What stays good of the baths mixed beside a kit."""
        rest = self._alone(kit.replaces) if kit.replaces else None
        return rest.good.exact_minor if rest else NO_MONEY

    def _bridge(self, by_itself: Alone | None, own: Drawn, side: Side, question: Question) -> Bridge | None:
        if self.money is None or by_itself is None or own.plan is None:
            return None
        paid = own.plan.spent()[-1]
        lasting = paid
        if question.rolls:
            ahead = question.orders(question.rate)
            lasting = run(side.lasting, question.rate, question.rolls, own.session, ahead).spent()[-1]
        currency = self.catalogue.settings.currency
        return bridge(self.money, self.process, by_itself, in_currency(lasting, currency), in_currency(paid, currency))

    def usual(self, replaced: tuple[str, ...]) -> OwnBaths:
        """The process's usual baths less those that a concentrate replaces."""
        ids = [i for i in usual_baths(self.catalogue.processes[self.process]) if i not in replaced]
        baths = [self.catalogue.formulas[i] for i in ids]
        return own_baths(baths, self.sources, first_litres(self.catalogue.settings), self.films)

    @cached_property
    def films(self) -> tuple[Piece, ...]:
        """In the order in which they come, over and over; rolls where the plan names no film."""
        return planned_films(self.plan, self.process, self.catalogue).pieces or (ROLL,)

    def _film(self) -> tuple[int, Decimal, Decimal]:
        """Films of the plan, its months, and films a month."""
        count = planned_films(self.plan, self.process, self.catalogue).count
        months = plan_days(self.plan) / MONTH
        return count, months, count / months if count else self.catalogue.settings.rolls_a_month

    def _sessions(self, usual: OwnBaths) -> Sessions | None:
        count, _, rate = self._film()
        waiting = min(MOST_ROLLS, count or up(rate * MONTHS))
        return sessions(usual.baths, waiting, rate, usual.litres, self.catalogue.settings, self.films)

    def _question(self, usual: OwnBaths) -> Question:
        plan = self.plan
        rolls, months, rate = self._film()
        litres = [want.litres.litres for want in plan.wants if want.process == self.process and want.litres]
        return Question(
            process=self.process,
            rate=rate,
            rolls=min(MOST_ROLLS, rolls) if rolls else None,
            litres=sum(litres, Decimal(0)) if litres and not rolls else None,
            months=max(MONTHS, months),
            ends=plan.nothing_after,
            wait=months_waiting(plan),
            session=films_together(usual.used(self.sources), self.films) or 1,
            films=self.films,
        )

    def _rates(self, question: Question) -> tuple[Decimal, ...]:
        own = {self.catalogue.settings.rolls_a_month} if question.in_rolls else set()
        return tuple(sorted({*RATES, *own, question.rate}))

    def _kit(self, kit: Kit, litres: Litres, question: Question) -> Processing:
        """A kit that replaces every bath sets the size of its own sessions; beside a concentrate the others set it."""

        def side(figure: Figure) -> Side:
            rest = self.usual(kit.replaces).side(self.sources, figure, beside_kit=True) if kit.replaces else None
            return kit_side(kit, rest, litres, self.films, self.catalogue, figure)

        cautious = side("cautious")
        does = films_together(cautious.baths[:1], self.films) or 1
        return Processing(_runs(side), question.session if kit.replaces else does, cautious)

    def _lab(self, kit: Kit, question: Question) -> Processing:
        """Parcels hold as many films as a batch does: film that would be processed together is sent together."""
        return Processing(
            lambda rate, rolls, gather, figure, ahead: lab_run(
                kit, self.films, rolls, question.session, self.catalogue
            ),
            question.session,
        )


def _drawn(
    processing: Processing, question: Question, reach: tuple[int, int], litres: Litres, rest: ExactMinor
) -> Drawn:
    """The runs that pictures and totals show; ``rest`` is what stays good of raw chemicals."""
    gather, ahead = question.gather(question.rate, processing.session), question.orders(question.rate)
    plan = processing.runs(question.rate, question.rolls, gather, "cautious", ahead) if question.rolls else None
    by_litre = None
    if processing.side is not None:
        by_batch = one_by_one(processing.side, litres)
        by_litre = tuple(_at_once(by_batch, batches).spent()[-1] for batches in range(1, reach[1] + 1))
        if question.litres is not None:
            plan = _at_once(by_batch, up(question.litres / litres))
    packs = plan.ready_parts.left if plan and not question.ends else ZERO
    shown = processing.runs(question.rate, reach[0], gather, "cautious", ahead)
    return Drawn(gather, shown, plan, by_litre, ExactMinor(rest + packs))


def _at_once(by_batch: Side, batches: int) -> Run:
    """So many batches of each bath, their chemicals bought in one basket."""
    return run(by_batch, ONE, batches, 1, Ahead(batches, batches))


def _runs(side_of: Callable[[Figure], Side]) -> Runs:
    sides = cache(side_of)
    return cache(lambda rate, rolls, gather, figure, ahead: run(sides(figure), rate, rolls, gather, ahead))


def _sure(side: Side | None) -> Side:
    assert side is not None, "what has a cautious side has a generous one"
    return side


def _reach(question: Question, kits: list[Kit], litres: Litres) -> tuple[int, int]:
    """Rolls and batches that the pictures reach over: as far as the answers do."""
    makes = [up(kit.makes.litres / litres) for kit in kits if kit.makes]
    batches = max(BATCHES[0], up((question.litres or Decimal(0)) / litres), TIMES * max(makes, default=0))
    return max(question.own_rolls, question.rolls or 0), min(BATCHES[1], batches)
