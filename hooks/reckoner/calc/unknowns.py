"""What the handbook does not know: gaps in the data, counted so that nobody has to stumble on them."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.film.schedule import wet_time
from reckoner.calc.results import Results
from reckoner.records.formula import Formula


@dataclass(frozen=True)
class Unknowns:
    """Ids of what lacks something.

    Attributes:
        not_assessed: chemicals without a hazard record for any form.
        doubtful: formulas whose author wrote doubts down.
        unproven: formulas from memory that nobody has proven.
        unpriced: chemicals that a formula asks for and nobody sells.
        no_capacity: working baths without a capacity in rolls, sheets or area.
        no_keeping: formulas without a keeping time.
        no_ph: working baths without a pH.
        untimed: processes with baths or washes that have no time, and how many.
    """

    not_assessed: tuple[str, ...]
    doubtful: tuple[str, ...]
    unproven: tuple[str, ...]
    unpriced: tuple[str, ...]
    no_capacity: tuple[str, ...]
    no_keeping: tuple[str, ...]
    no_ph: tuple[str, ...]
    untimed: tuple[tuple[str, int], ...]


def unknowns(results: Results) -> Unknowns:
    """Every gap, sorted by id."""
    catalogue = results.catalogue
    formulas = catalogue.formulas
    working = {i: f for i, f in formulas.items() if f.strength == "working"}
    missing = {chemical for result in results.formulas.values() for chemical in result.cost.missing}
    untimed = ((i, len(wet_time(process).untimed)) for i, process in catalogue.processes.items())
    return Unknowns(
        not_assessed=tuple(i for i, c in sorted(catalogue.chemicals.items()) if not c.hazards),
        doubtful=tuple(i for i, f in sorted(formulas.items()) if f.doubts),
        unproven=tuple(i for i, f in sorted(formulas.items()) if _unproven(f)),
        unpriced=tuple(sorted(missing)),
        no_capacity=tuple(i for i, f in sorted(working.items()) if not f.capacity),
        no_keeping=tuple(i for i, f in sorted(formulas.items()) if not any(k.time for k in f.keeping)),
        no_ph=tuple(i for i, f in sorted(working.items()) if f.ph is None),
        untimed=tuple((i, count) for i, count in sorted(untimed) if count),
    )


def _unproven(formula: Formula) -> bool:
    return formula.source.certainty == "from memory" and formula.proven_on is None
