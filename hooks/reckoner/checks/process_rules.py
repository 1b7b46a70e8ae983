"""Rules about processes: orders of baths that spoil film or worse, and names that lead nowhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from reckoner.calc.film.schedule import varied_time
from reckoner.calc.mixing.rollup import uses
from reckoner.problems import Problem, ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import DEVELOPERS, Formula
from reckoner.records.process import Process, Step
from reckoner.spelling import unknown_name

STRONG_ACIDS = frozenset({"sulfuric-acid", "phosphoric-acid", "sodium-bisulfate"})
FERRICYANIDE = frozenset({"potassium-ferricyanide"})
OXIDISERS = frozenset({"potassium-permanganate", "potassium-dichromate"})
THIOSULFATES = frozenset({"sodium-thiosulfate", "ammonium-thiosulfate"})


@dataclass(frozen=True)
class OrderRule:
    """A bath that must not follow another one directly.

    Attributes:
        purposes, chemicals: the bath before has one of these purposes, or holds one of these chemicals.
        then: the bath after holds one of these chemicals.
        stop: a stop bath stands between as well, and the wash after it.
        why: what happens otherwise. Common practice.
    """

    holds: str
    then: frozenset[str]
    why: str
    purposes: frozenset[str] = frozenset()
    chemicals: frozenset[str] = frozenset()
    stop: bool = False


ORDER_RULES = (
    OrderRule(
        "ferricyanide",
        FERRICYANIDE,
        "developer carried into it stains the film and spoils the bleach",
        purposes=DEVELOPERS,
        stop=True,
    ),
    OrderRule("ferricyanide", FERRICYANIDE, "strong acid sets hydrogen cyanide free", chemicals=STRONG_ACIDS),
    OrderRule("a strong oxidiser", OXIDISERS, "it destroys the developer carried in, and stains", purposes=DEVELOPERS),
    OrderRule("thiosulfate", THIOSULFATES, "the oxidiser carried in spoils the fixer", chemicals=OXIDISERS),
)


def process_orders(catalogue: Catalogue) -> Iterator[Problem]:
    """Every bath that may stand at a step counts; a wash or stop bath that may be left out does not."""
    inside = {formula_id: chemicals_in(formula_id, catalogue.formulas) for formula_id in catalogue.formulas}
    for process in catalogue.processes.values():
        for index in range(len(process.steps)):
            for rule in ORDER_RULES:
                missing = _missing(rule, process, index, catalogue, inside)
                if missing:
                    yield Problem(catalogue.place("process", process.id, "steps", index), missing)


def chemicals_in(formula_id: str, formulas: Mapping[str, Formula]) -> frozenset[str]:
    """Every chemical that a bath may hold, its alternatives and stock solutions included."""
    chemicals: set[str] = set()
    seen: set[str] = set()
    waiting = [formula_id]
    while waiting:
        formula = formulas.get(waiting.pop())
        if formula is None or formula.id in seen:
            continue
        seen.add(formula.id)
        waiting += uses(formula)
        chemicals |= {item.chemical for item in formula.items if item.chemical}
    return frozenset(chemicals)


def _missing(
    rule: OrderRule, process: Process, index: int, catalogue: Catalogue, inside: Mapping[str, frozenset[str]]
) -> str:
    """What is wrong with the way to one step, or nothing."""
    step = process.steps[index]
    if not any(inside.get(bath.formula, frozenset()) & rule.then for bath in step.baths):
        return ""
    between: list[Step] = []
    for before in reversed(process.steps[:index]):
        if _comes_before(rule, before, catalogue, inside):
            return _words(rule, step, before, between[::-1], catalogue)
        if before.kind == "bath" and before.always and not (rule.stop and _stops(before, catalogue)):
            return ""
        between.append(before)
    return ""


def _comes_before(rule: OrderRule, step: Step, catalogue: Catalogue, inside: Mapping[str, frozenset[str]]) -> bool:
    formulas = [catalogue.formulas[bath.formula] for bath in step.baths if bath.formula in catalogue.formulas]
    return any(formula.purpose in rule.purposes or inside[formula.id] & rule.chemicals for formula in formulas)


def _stops(step: Step, catalogue: Catalogue) -> bool:
    """Whether every bath that may stand at a step is a stop bath; a file with faults is told of elsewhere."""
    known = [catalogue.formulas.get(bath.formula) for bath in step.baths]
    return (
        step.always
        and step.kind == "bath"
        and all(formula is None or formula.purpose == "stop bath" for formula in known)
    )


def _words(rule: OrderRule, step: Step, before: Step, between: list[Step], catalogue: Catalogue) -> str:
    washed = any(passed.keeps_apart for passed in between)
    lacking = [] if washed else ["a wash"]
    needed = "a wash that is always done"
    if rule.stop:
        needed = "a stop bath and then a wash, both always done,"
        stops = [number for number, passed in enumerate(between) if _stops(passed, catalogue)]
        if not stops:
            lacking.insert(0, "a stop bath")
        elif washed and not any(passed.keeps_apart for passed in between[stops[0] + 1 :]):
            lacking.append("a wash after the stop bath")
    if not lacking:
        return ""
    message = f"{step.name} holds {rule.holds} and {before.name} comes before it without {' and '.join(lacking)}"
    return f"{message}: {rule.why} (put {needed} between them)"


def process_names(catalogue: Catalogue) -> Iterator[Problem]:
    """The process that is adapted exists and is another one; variations name a step of their process."""
    for process in catalogue.processes.values():
        if process.adapts is not None:
            at = catalogue.place("process", process.id, "adapts")
            message = unknown_name("process", process.adapts, catalogue)
            if message:
                yield Problem(at, message)
            elif process.adapts == process.id:
                yield Problem(at, "the process adapts itself (write the id of the published one)")
        for index, variation in enumerate(process.variations):
            try:
                varied_time(process, variation)
            except ValueFault as fault:
                path = ("variations", index, fault.key or "step")
                yield Problem(catalogue.place("process", process.id, *path), str(fault))
