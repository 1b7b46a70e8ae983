"""Rules about plans and kits: what they name exists and fits, and their prices can be converted."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.checks.price_rules import no_rate
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue, Path
from reckoner.records.kit import Kit
from reckoner.spelling import unknown_name


def plan_references(catalogue: Catalogue) -> Iterator[Problem]:
    """Processes, formulas, film formats, kits and suppliers that a plan names exist."""
    for plan in catalogue.plans.values():
        names: list[tuple[str, str | None, Path]] = []
        for index, want in enumerate(plan.wants):
            names += [(kind, getattr(want, kind), ("wants", index, kind)) for kind in ("process", "formula")]
            paths = [("wants", index, "films", number, "format") for number in range(len(want.films))]
            names += [("film format", film.format, at) for film, at in zip(want.films, paths, strict=True)]
        names += [("kit", name, ("compare", index)) for index, name in enumerate(plan.compare)]
        names += [("supplier", name, ("avoid", index)) for index, name in enumerate(plan.avoid)]
        for kind, name, path in names:
            message = unknown_name(kind, name, catalogue) if name else ""
            if message:
                yield Problem(catalogue.place("plan", plan.id, *path), message)


def compared_kits(catalogue: Catalogue) -> Iterator[Problem]:
    """A plan compares what is for a process of its own."""
    for plan in catalogue.plans.values():
        processes = sorted({want.process for want in plan.wants if want.process})
        if any(("process", process) not in catalogue.file_of for process in processes):
            continue
        for index, name in enumerate(plan.compare):
            kit = catalogue.kits.get(name)
            if kit is not None and kit.process not in processes and ("process", kit.process) in catalogue.file_of:
                message = f"'{name}' is for the process {kit.process}, which the plan does not want"
                fix = f"(leave it out, or compare one for {' or '.join(processes) or 'a process of the plan'})"
                yield Problem(catalogue.place("plan", plan.id, "compare", index), f"{message} {fix}")


def kit_references(catalogue: Catalogue) -> Iterator[Problem]:
    """The process and the formulas that a kit names exist; what it replaces is a usual bath of that process."""
    for kit in catalogue.kits.values():
        message = unknown_name("process", kit.process, catalogue)
        if message:
            yield Problem(_at(catalogue, kit, "process"), message)
        process = catalogue.processes.get(kit.process)
        baths = usual_baths(process) if process else ()
        for index, name in enumerate(kit.replaces):
            at = catalogue.place("kit", kit.id, "replaces", index)
            message = unknown_name("formula", name, catalogue)
            if message:
                yield Problem(at, message)
            elif process and name not in baths:
                message = f"'{name}' is the usual bath of no step of {kit.process}"
                yield Problem(at, f"{message} (write one of: {', '.join(baths) or 'none, it has no baths'})")
        if kit.does is not None and kit.does.low < 1:
            message = "a kit that may do less than one roll (write the fewest rolls it does, as does: 8-12 rolls)"
            yield Problem(_at(catalogue, kit, "does"), message)
        for key, day in (("day", kit.day), ("source", kit.source.checked)):
            if day > catalogue.today:
                place = _at(catalogue, kit, key) if key == "day" else _at(catalogue, kit, "source", "checked")
                message = f"dated {day}, which is after today, {catalogue.today} (write the day of the price)"
                yield Problem(place, message, Severity.WARNING)


def plan_money(catalogue: Catalogue) -> Iterator[Problem]:
    """Prices of kits, and a plan's budget, can be converted to the owner's currency."""
    for kit in catalogue.kits.values():
        for key, price in (("price", kit.price), ("delivery", kit.delivery)):
            if price is not None:
                yield from no_rate(catalogue, price.currency, _at(catalogue, kit, key))
    for plan in catalogue.plans.values():
        if plan.budget is not None:
            yield from no_rate(catalogue, plan.budget.currency, catalogue.place("plan", plan.id, "budget"))


def _at(catalogue: Catalogue, kit: Kit, *path: str) -> Location:
    return catalogue.place("kit", kit.id, *path)
