"""One kit, concentrate or lab set against mixing: at the plan's rate, at other rates, and how sure the answer is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from reckoner.calc.compare.crossing import Crossing, Decisive, crossings, decisive, stays_cheaper
from reckoner.calc.compare.simulated_side import ONE, Ahead, Run, Side
from reckoner.calc.film.days import Figure
from reckoner.calc.film.film_baths import films_coming
from reckoner.calc.film.whole_films import ROLL, Piece, whole_up
from reckoner.money import ExactMinor
from reckoner.records.kit import Kit

#: A simulation goes no further than this, however much film is planned.
MOST_ROLLS = 400
#: Rolls a month that the question is asked for, besides the plan's own rate and the owner's.
RATES = tuple(Decimal(rate) for rate in ("0.5", "1", "2", "5"))
FACTORS = tuple(Decimal(factor) for factor in ("0.8", "1.2"))

#: Chemicals are ordered for so many months at a time, once a plan is done.
ORDER_MONTHS = Decimal(12)

#: Process so many rolls: rate a month, rolls, rolls in a session, which end of the recorded figures, what is ordered.
Runs = Callable[[Decimal, int, int, Figure, Ahead], Run]


@dataclass(frozen=True)
class Question:
    """What a plan asks about one process.

    Attributes:
        rate: films a month; the owner's setting where the plan names no film.
        rolls: films that the plan puts through; None where it plans litres.
        litres: of each bath, where it plans litres.
        months: looked ahead.
        ends: nothing comes after the plan, so that only its own rolls count.
        wait: months that film may wait for a session.
        session: films that one batch of each bath does that is used again, by its cautious figure.
        films: in the order in which they come, over and over.
    """

    process: str
    rate: Decimal
    rolls: int | None
    litres: Decimal | None
    months: Decimal
    ends: bool
    wait: Decimal
    session: int
    films: tuple[Piece, ...] = (ROLL,)

    @property
    def in_rolls(self) -> bool:
        """Whether every film counts as one of the trade's rolls."""
        return all(piece.rolls == 1 for piece in self.films)

    @property
    def unit(self) -> str:
        """What is counted: ``roll`` where every film counts as one, else ``film``."""
        return "roll" if self.in_rolls else "film"

    @property
    def own_rolls(self) -> int:
        """Rolls that the question is about at the plan's own rate."""
        return self.rolls if self.ends and self.rolls is not None else self.ahead(self.rate)

    def ahead(self, rate: Decimal) -> int:
        """Rolls that come in the months looked ahead, were film to go on coming."""
        return _come(rate, self.months)

    def orders(self, rate: Decimal) -> Ahead:
        """How far ahead chemicals are ordered: at the plan's rate first for its film, else for a year at a time."""
        year = _come(rate, ORDER_MONTHS)
        return Ahead(self.rolls if rate == self.rate and self.rolls is not None else year, year)

    def month_of(self, roll: int) -> int:
        """The month of the plan in which a roll comes, the first being 1."""
        return int((roll - 1) / self.rate) + 1

    def gather(self, rate: Decimal, does: int) -> int:
        """Rolls in a session: as many as a batch does, or as come while film may wait."""
        return max(1, min(does, films_coming(rate, self.wait)))


def _come(rate: Decimal, months: Decimal) -> int:
    """Whole rolls that come in so many months."""
    return max(1, min(MOST_ROLLS, whole_up(rate * months)))


@dataclass(frozen=True)
class Processing:
    """One way of processing.

    Attributes:
        session: rolls that suit it: what one batch of its first bath to give out does, or one kit.
        side: its baths; None for a lab.
    """

    runs: Runs
    session: int
    side: Side | None = None


@dataclass(frozen=True)
class Case:
    """One way to look at the question.

    Attributes:
        kind: the base; the generous figures; prices of chemicals or of what is bought changed.
        factor: on those prices.
    """

    kind: Literal["cautious", "generous", "chemicals", "ready"]
    factor: Decimal = ONE


CASES: tuple[Case, ...] = (
    Case("cautious"),
    Case("generous"),
    *(Case("chemicals", factor) for factor in FACTORS),
    *(Case("ready", factor) for factor in FACTORS),
)


@dataclass(frozen=True)
class Answer:
    """Whether mixing becomes and stays cheaper.

    Attributes:
        rolls: looked at.
        gather: rolls in a session of mixing and of the other way.
        once: first roll at which mixing is cheaper at all, or None.
        first: roll from which mixing stays cheaper to the end, or None.
        own, other: paid in all, minor units.
        decisive: the part of the money that decides.
    """

    case: Case
    rate: Decimal
    rolls: int
    gather: tuple[int, int]
    once: int | None
    first: int | None
    own: ExactMinor
    other: ExactMinor
    decisive: Decisive


@dataclass(frozen=True)
class Alternative:
    """What can be bought instead, with every figure of the comparison.

    Attributes:
        session: rolls in a session at the plan's rate.
        run: over all rolls of the picture.
        plan: over the plan's own rolls or litres; None for a lab where litres are planned.
        good: worth of what is left in packs and still good when the plan is done.
        crossings: of mixing and this, by roll.
        by_litre: paid for so many batches of litres, None for a lab.
        rates: answers by rising rate.
    """

    kit: Kit
    session: int
    run: Run
    plan: Run | None
    good: ExactMinor
    crossings: tuple[Crossing, ...]
    by_litre: tuple[ExactMinor, ...] | None
    litre_crossings: tuple[Crossing, ...]
    cases: tuple[Answer, ...]
    rates: tuple[Answer, ...]

    @property
    def answer(self) -> Answer:
        """The base: cautious figures at the plan's rate and today's prices."""
        return self.cases[0]


@dataclass(frozen=True)
class Drawn:
    """The runs that pictures and totals show, of one way, and the rolls in a session of theirs.

    Attributes:
        good: of what was paid over the plan, what is left in packs and still good; minor units.
        by_litre: paid for one batch of litres, for two and so on, each bought at once; None for a lab.
    """

    session: int
    run: Run
    plan: Run | None
    by_litre: tuple[ExactMinor, ...] | None
    good: ExactMinor


def alternative(
    kit: Kit,
    own: Drawn,
    other: Drawn,
    ways: tuple[Processing, Processing],
    question: Question,
    rates: tuple[Decimal, ...],
) -> Alternative:
    """Set one kit against mixing; ``ways`` are mixing and the kit."""
    litres = own.by_litre, other.by_litre
    return Alternative(
        kit=kit,
        session=other.session,
        run=other.run,
        plan=other.plan,
        good=other.good,
        crossings=crossings(own.run.spent(), other.run.spent()),
        by_litre=other.by_litre,
        litre_crossings=crossings(litres[0], litres[1]) if litres[0] and litres[1] else (),
        cases=tuple(answer(case, ways, question, question.rate, question.own_rolls) for case in CASES),
        rates=tuple(answer(CASES[0], ways, question, rate, question.ahead(rate)) for rate in rates),
    )


def answer(case: Case, ways: tuple[Processing, Processing], question: Question, rate: Decimal, rolls: int) -> Answer:
    """Answer the question in one case, at one rate, over so many rolls."""
    figure: Figure = "generous" if case.kind == "generous" else "cautious"
    gather = question.gather(rate, ways[0].session), question.gather(rate, ways[1].session)
    ahead = question.orders(rate)
    own, other = (
        processing.runs(rate, rolls, each, figure, ahead) for processing, each in zip(ways, gather, strict=True)
    )
    chemicals = case.factor if case.kind == "chemicals" else ONE
    ready = case.factor if case.kind == "ready" else ONE
    mine, theirs = own.spent(chemicals, ready), other.spent(chemicals, ready)
    return Answer(
        case=case,
        rate=rate,
        rolls=rolls,
        gather=gather,
        once=next((change.at for change in crossings(mine, theirs) if change.mixing), None),
        first=stays_cheaper(mine, theirs),
        own=mine[-1],
        other=theirs[-1],
        decisive=decisive(own, other, chemicals, ready),
    )
