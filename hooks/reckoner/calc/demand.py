"""What a plan needs mixed: litres of each bath, in whole batches where it is film that is planned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.capacity import SetCapacity, doing, life, rolls_of, set_capacity
from reckoner.calc.days import in_days
from reckoner.calc.scaling import LITRE, first_litres
from reckoner.calc.sets import usual_baths
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import Formula
from reckoner.records.plan import Plan
from reckoner.records.values import Range
from reckoner.rounding import round_half_up, up

ZERO, ONE = Decimal(0), Decimal(1)
#: How long exposed film waits for a session where the plan does not say; common practice.
WAIT = Range(Decimal(3), Decimal(3), "months")

#: Divisions are exact to this: a quarter of a year four times is a year, and no fifth batch is mixed for the rest.
LAST_DIGIT = Decimal("1e-9")


@dataclass(frozen=True)
class BathDemand:
    """One bath of a plan.

    Attributes:
        litres: mixed over the plan.
        batches: whole batches of the owner's first batch; 0 where litres were asked for.
        rolls: film that goes through it, in the trade's rolls.
        each: rolls that one batch does before it is spent or too old; 0 where litres were asked for, or where the batch
            is mixed with another bath's.
        session: rolls that are processed on one day.
        asked: of the litres, those that the plan asks for as such: what becomes of them is the owner's affair.
        unfinished: part of what its batches could do that is poured away undone, 0 to 1; 0 where litres were asked.
        ends_by: what ends a batch: ``use``, ``age``, or ``with`` the bath that gives out first, where nothing is
            recorded of its own.
    """

    formula: str
    litres: Decimal
    batches: int = 0
    rolls: Decimal = ZERO
    each: Decimal = ZERO
    session: Decimal = ZERO
    unfinished: Decimal = ZERO
    ends_by: str = "use"
    asked: Decimal = ZERO

    @property
    def poured(self) -> Decimal:
        """The part of all its litres that is poured away undone, 0 to 1."""
        return self.unfinished * (self.litres - self.asked) / self.litres


def plan_days(plan: Plan) -> Decimal:
    """Days that a plan reaches over."""
    return in_days(plan.over.high, plan.over.unit)


def plan_rolls(plan: Plan, process_id: str, catalogue: Catalogue) -> Decimal:
    """Rolls of film that a plan puts through a process."""
    return sum(
        (
            rolls_of(catalogue.films[film.format]) * film.count
            for want in plan.wants
            if want.process == process_id
            for film in want.films
            if film.format in catalogue.films
        ),
        ZERO,
    )


def demand(plan: Plan, catalogue: Catalogue) -> tuple[BathDemand, ...]:
    """Every bath that the plan mixes, sorted by formula; what several lines ask of one bath is added up."""
    batch = first_litres(catalogue.settings)
    found: dict[str, BathDemand] = {}
    for formula_id, litres in _asked_litres(plan, catalogue):
        known = found.get(formula_id, BathDemand(formula_id, ZERO))
        found[formula_id] = replace(known, litres=known.litres + litres)
    for one in _film_baths(plan, catalogue, batch):
        known = found.get(one.formula, BathDemand(one.formula, ZERO))
        found[one.formula] = replace(one, litres=known.litres + one.litres, asked=known.litres)
    return tuple(found[formula_id] for formula_id in sorted(found))


def _asked_litres(plan: Plan, catalogue: Catalogue) -> list[tuple[str, Decimal]]:
    asked = []
    for want in plan.wants:
        if want.litres is None:
            continue
        baths = usual_baths(catalogue.processes[want.process]) if want.process else (want.formula or "",)
        asked += [(formula_id, want.litres.base / LITRE) for formula_id in baths]
    return asked


def _film_baths(plan: Plan, catalogue: Catalogue, batch: Decimal) -> list[BathDemand]:
    """Batches of each bath that film goes through; film of several processes shares a bath's batches."""
    days = plan_days(plan)
    rolls: dict[str, Decimal] = {}
    session: dict[str, Decimal] = {}
    followed: dict[str, set[str]] = {}
    for process_id in sorted({want.process for want in plan.wants if want.process and want.films}):
        baths = [catalogue.formulas[i] for i in usual_baths(catalogue.processes[process_id])]
        together = set_capacity(baths)
        first = together.first_out
        gathered = session_rolls(plan, process_id, together, batch, catalogue)
        for bath in baths:
            rolls[bath.id] = rolls.get(bath.id, ZERO) + plan_rolls(plan, process_id, catalogue)
            session[bath.id] = max(session.get(bath.id, ZERO), gathered)
            if first is not None:
                followed.setdefault(bath.id, set()).add(first)
    own = {}
    for i in rolls:
        found = _batches(catalogue.formulas[i], rolls[i], session[i], days, batch)
        if found is not None:
            own[i] = found
    return [own.get(i) or _with_another(i, rolls[i], followed.get(i, set()), own, batch) for i in sorted(rolls)]


def session_rolls(plan: Plan, process_id: str, together: SetCapacity, batch: Decimal, catalogue: Catalogue) -> Decimal:
    """Rolls that gather for one session: as many as a batch does, or as come while film may wait."""
    wait = plan.wait or WAIT
    # Multiplied before it is divided: 4.5 rolls must not become 4.499…, or a plan needs a batch more.
    come = plan_rolls(plan, process_id, catalogue) * in_days(wait.high, wait.unit) / plan_days(plan)
    does = together.cautious
    return max(ONE, come if does is None else min(come, does * batch))


def _batches(formula: Formula, rolls: Decimal, session: Decimal, days: Decimal, batch: Decimal) -> BathDemand | None:
    """Batches of a bath whose capacity is recorded.

    Film comes evenly and is processed in sessions; a batch serves as many sessions as it lives, at least one.
    """
    does = doing(formula)
    if does is None:
        return None
    each, ends_by = does.cautious * batch, "use"
    keeps = life(formula)
    if keeps is not None and (lives := rolls * keeps.cautious / days) < each:
        each = min(each, max(session, lives))
        # A session that fills a batch spends it, however soon it would have been too old.
        ends_by = "age" if each < does.cautious * batch else "use"
    batches = up(round_half_up(rolls / each, LAST_DIGIT))
    could = does.cautious * batch * batches
    lost = max(ZERO, 1 - rolls / could)
    return BathDemand(formula.id, batches * batch, batches, rolls, each, session, lost, ends_by)


def _with_another(
    formula_id: str, rolls: Decimal, first: set[str], own: Mapping[str, BathDemand], batch: Decimal
) -> BathDemand:
    """A bath of which nothing is recorded is mixed new whenever the bath that gives out first is."""
    batches = max((own[i].batches for i in first if i in own), default=1)
    return BathDemand(formula_id, batches * batch, batches, rolls, ends_by="with")
