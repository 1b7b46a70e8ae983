"""Rules about how baths are used: replenishers and temperatures."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.film.temperature import celsius
from reckoner.problems import Problem
from reckoner.records.catalogue import Catalogue
from reckoner.records.process import AcceptedBath, Step
from reckoner.records.use import OtherTemperatures
from reckoner.records.values import Range
from reckoner.spelling import unknown_name


def replenishers(catalogue: Catalogue) -> Iterator[Problem]:
    """Replenishers and the formats that their rates are for exist."""
    for formula in catalogue.formulas.values():
        for index, rule in enumerate(formula.replenishment):
            for kind, key, name in (("formula", "formula", rule.formula), ("film format", "per", rule.per)):
                message = unknown_name(kind, name, catalogue) if name else ""
                if message:
                    yield Problem(catalogue.place("formula", formula.id, "replenishment", index, key), message)


def temperatures(catalogue: Catalogue) -> Iterator[Problem]:
    """A bath is used only at temperatures that its own table or coefficient holds for."""
    for formula in catalogue.formulas.values():
        span = stated_range(formula.other_temperatures)
        if span is None:
            continue
        used = formula.use.temperature if formula.use else None
        if used and not _inside(used, span):
            yield Problem(
                catalogue.place("formula", formula.id, "use", "temperature"), _outside(used, span, formula.id)
            )
        own = formula.other_temperatures.temperature if formula.other_temperatures else None
        if own and not _inside(own, span):
            at = catalogue.place("formula", formula.id, "other_temperatures", "temperature")
            yield Problem(at, _outside(own, span, formula.id))
    for process in catalogue.processes.values():
        for number, step in enumerate(process.steps):
            for index, bath in enumerate(step.baths):
                yield from _bath(catalogue, process.id, (number, step), (index, bath))


def stated_range(rule: OtherTemperatures | None) -> tuple[Decimal, Decimal] | None:
    """Lowest and highest °C of a rule; None where a temperature is to be held, which the tolerance then says."""
    if rule is None or rule.hold:
        return None
    if rule.table:
        rows = [celsius(row.temperature.low, row.temperature.unit) for row in rule.table]
        return min(rows), max(rows)
    assert rule.lowest and rule.highest, "the record asks for both with a factor"
    return celsius(rule.lowest.low, rule.lowest.unit), celsius(rule.highest.high, rule.highest.unit)


def _bath(
    catalogue: Catalogue, process_id: str, step: tuple[int, Step], bath: tuple[int, AcceptedBath]
) -> Iterator[Problem]:
    formula = catalogue.formulas.get(bath[1].formula)
    span = stated_range(formula.other_temperatures) if formula else None
    used = bath[1].temperature or step[1].temperature
    if formula is None or span is None or used is None or _inside(used, span):
        return
    own: tuple[str | int, ...] = ("baths", bath[0], "temperature") if bath[1].temperature else ("temperature",)
    at = catalogue.place("process", process_id, "steps", step[0], *own)
    yield Problem(at, _outside(used, span, formula.id))


def _inside(used: Range, span: tuple[Decimal, Decimal]) -> bool:
    return span[0] <= celsius(used.low, used.unit) and celsius(used.high, used.unit) <= span[1]


def _outside(used: Range, span: tuple[Decimal, Decimal], formula_id: str) -> str:
    written = f"{used.low}" if used.single else f"{used.low}-{used.high}"
    message = f"{written} {used.unit} is outside {span[0]:.4g} to {span[1]:.4g} °C, for which {formula_id} has times"
    return f"{message} (write a temperature inside, or mend the formula's other_temperatures)"
