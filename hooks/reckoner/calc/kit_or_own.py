"""Kit or own: each plan's film mixed by the owner against the kits, concentrates and labs that the plan names.

All sums are minor units of the owner's currency. The shelf is left out on purpose: what is paid for already would
flatter mixing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from functools import cache

from reckoner.calc.alternative import MOST_ROLLS, RATES, Alternative, Drawn, Question, Runs, Way, alternative
from reckoner.calc.buying import market_for
from reckoner.calc.buying_kits import kit_side, lab_run
from reckoner.calc.capacity import set_capacity
from reckoner.calc.costing import Cost, Market
from reckoner.calc.days import DAYS
from reckoner.calc.demand import WAIT, plan_days, plan_rolls
from reckoner.calc.mixing_own import Figure, OwnBaths, days_of, litres_of, own_baths
from reckoner.calc.rollup import Rollup
from reckoner.calc.scaling import LITRE
from reckoner.calc.sessions import Sessions, sessions
from reckoner.calc.sets import usual_baths
from reckoner.calc.sides import ONE, Side, one_by_one, whole_rolls
from reckoner.calc.spending import run
from reckoner.records.catalogue import Catalogue
from reckoner.records.kit import Kit
from reckoner.records.plan import Plan

#: Looked ahead, where the plan reaches no further.
MONTHS = Decimal(24)
#: Pictures reach over so many times what a kit does or makes.
TIMES = 3
#: And over so many batches of litres, at least and at most.
BATCHES = (8, 40)


@dataclass(frozen=True)
class Comparison:
    """One process of a plan, mixed, against everything that the plan compares with it.

    Attributes:
        cost: of the baths, with the pack that is bought of each chemical.
        own: mixing; None where ``fault`` says why there are no figures.
        sessions: how film should be gathered.
        fault: ``price`` of some chemicals missing, or ``capacity`` recorded of no bath; else empty.
    """

    question: Question
    cost: Cost
    own: Drawn | None
    alternatives: tuple[Alternative, ...]
    sessions: Sessions | None
    fault: str = ""


def comparisons(plan: Plan, catalogue: Catalogue, everything: Market) -> tuple[Comparison, ...]:
    """Every process of a plan that some kit, concentrate or lab of its list is for, by id."""
    kits = [catalogue.kits[i] for i in dict.fromkeys(plan.compare) if i in catalogue.kits]
    wanted = {want.process for want in plan.wants if want.process}
    market = market_for(plan, everything)
    rollup = Rollup(catalogue.formulas, catalogue.chemicals, market.priceable)
    return tuple(
        _Desk(plan, process, catalogue, rollup, market).compare([kit for kit in kits if kit.process == process])
        for process in sorted({kit.process for kit in kits} & wanted)
    )


@dataclass(frozen=True)
class _Desk:
    """Everything that one comparison is worked out from."""

    plan: Plan
    process: str
    catalogue: Catalogue
    rollup: Rollup
    market: Market

    def compare(self, kits: list[Kit]) -> Comparison:
        usual = self.usual(())
        planned = self._sessions(usual)
        question = self._question(usual, planned)
        side = usual.side(self.catalogue, "cautious")
        if side is None:
            fault = "price" if usual.cost.missing else "capacity"
            return Comparison(question, usual.cost, None, (), None, fault)
        reach = _reach(question, kits, usual.litres)
        mixing = Way(_runs(lambda figure: _sure(usual.side(self.catalogue, figure))), question.session, side)
        own = _drawn(mixing, question, reach, usual.litres)
        found = []
        for kit in kits:
            way = self._lab(kit, question) if kit.kind == "lab" else self._kit(kit, usual.litres, question)
            drawn = _drawn(way, question, reach, usual.litres)
            found.append(alternative(kit, own, drawn, (mixing, way), question, self._rates(question)))
        return Comparison(
            question=question,
            cost=usual.cost,
            own=own,
            alternatives=tuple(found),
            sessions=planned,
        )

    def usual(self, replaced: tuple[str, ...]) -> OwnBaths:
        """The process's usual baths less those that a concentrate replaces."""
        ids = [i for i in usual_baths(self.catalogue.processes[self.process]) if i not in replaced]
        baths = [self.catalogue.formulas[i] for i in ids]
        return own_baths(baths, self.rollup, self.market, litres_of(self.catalogue))

    def _film(self) -> tuple[Decimal, Decimal, Decimal]:
        """Rolls of the plan, its months, and rolls a month."""
        rolls = plan_rolls(self.plan, self.process, self.catalogue)
        months = plan_days(self.plan) / DAYS["months"]
        return rolls, months, rolls / months if rolls else self.catalogue.settings.rolls_a_month

    def _sessions(self, usual: OwnBaths) -> Sessions | None:
        rolls, _, rate = self._film()
        waiting = min(MOST_ROLLS, _up(rolls or rate * MONTHS))
        return sessions(usual.baths, waiting, rate, usual.litres, self.catalogue.settings)

    def _question(self, usual: OwnBaths, planned: Sessions | None) -> Question:
        plan = self.plan
        rolls, months, rate = self._film()
        litres = [want.litres.base / LITRE for want in plan.wants if want.process == self.process and want.litres]
        does = set_capacity(usual.baths).cautious or ONE
        wait = days_of(plan.wait or WAIT, "generous") or ONE
        return Question(
            process=self.process,
            rate=rate,
            rolls=min(MOST_ROLLS, _up(rolls)) if rolls else None,
            litres=sum(litres, Decimal(0)) if litres and not rolls else None,
            months=max(MONTHS, months),
            ends=plan.nothing_after,
            wait=wait / DAYS["months"],
            session=whole_rolls(does * usual.litres)[0],
            developer=planned.rolls if planned else 1,
        )

    def _rates(self, question: Question) -> tuple[Decimal, ...]:
        return tuple(sorted({*RATES, self.catalogue.settings.rolls_a_month, question.rate}))

    def _kit(self, kit: Kit, litres: Decimal, question: Question) -> Way:
        """A kit that replaces every bath sets the size of its own sessions; beside a concentrate the others set it."""

        def side(figure: Figure) -> Side:
            rest = self.usual(kit.replaces).side(self.catalogue, figure, beside_kit=True) if kit.replaces else None
            return kit_side(kit, rest, litres, self.catalogue, figure)

        cautious = side("cautious")
        does = cautious.baths[0].does or ONE
        return Way(_runs(side), question.session if kit.replaces else whole_rolls(does)[0], cautious)

    def _lab(self, kit: Kit, question: Question) -> Way:
        """Parcels hold as many rolls as a batch does: film that would be processed together is sent together."""
        return Way(
            lambda rate, rolls, gather, figure: lab_run(kit, rolls, question.session, self.catalogue), question.session
        )


def _drawn(way: Way, question: Question, reach: tuple[int, int], litres: Decimal) -> Drawn:
    """The runs that pictures and totals show."""
    gather = question.gather(question.rate, way.session)
    plan = way.runs(question.rate, question.rolls, gather, "cautious") if question.rolls else None
    by_litre = None
    if way.side is not None:
        by_litre = run(one_by_one(way.side, litres), ONE, reach[1])
        if question.litres is not None:
            plan = run(one_by_one(way.side, litres), ONE, _up(question.litres / litres))
    return Drawn(gather, way.runs(question.rate, reach[0], gather, "cautious"), plan, by_litre)


def _runs(side_of: Callable[[Figure], Side]) -> Runs:
    sides = cache(side_of)
    return cache(lambda rate, rolls, gather, figure: run(sides(figure), rate, rolls, gather))


def _sure(side: Side | None) -> Side:
    assert side is not None, "what has a cautious side has a generous one"
    return side


def _reach(question: Question, kits: list[Kit], litres: Decimal) -> tuple[int, int]:
    """Rolls and batches that the pictures reach over."""
    does = [_up(kit.does.high * _part(kit, litres)) for kit in kits if kit.does]
    makes = [_up(kit.makes.base / LITRE / litres) for kit in kits if kit.makes]
    rolls = max(question.ahead(question.rate), question.rolls or 0, TIMES * max(does, default=0))
    batches = max(BATCHES[0], _up((question.litres or Decimal(0)) / litres), TIMES * max(makes, default=0))
    return min(MOST_ROLLS, rolls), min(BATCHES[1], batches)


def _part(kit: Kit, litres: Decimal) -> Decimal:
    """The part of a pack that is mixed at one time."""
    if kit.makes is None or not kit.mixes_in_parts:
        return ONE
    return min(ONE, litres / (kit.makes.base / LITRE))


def _up(value: Decimal) -> int:
    return int(value.to_integral_value(rounding=ROUND_CEILING))
