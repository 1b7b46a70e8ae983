"""What a build warns of in hazards: strong acids and alkalis without a pH, and specific limits that nothing uses."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.calc.hazards.limits import ends_in_nothing, used
from reckoner.calc.results import Results
from reckoner.problems import Problem, Severity

NOT_STATED = "pH not stated, treated as corrosive"


def ph_warnings(results: Results) -> tuple[Problem, ...]:
    """A bath with a strong acid or alkali and no pH: a note where the formula says why."""
    return tuple(sorted(_without_ph(results)))


def _without_ph(results: Results) -> Iterator[Problem]:
    for formula_id, result in results.formulas.items():
        missing, reason = result.hazards.ph_missing, result.formula.ph_not_stated
        place = results.catalogue.place
        if missing and reason:
            message = f"{NOT_STATED}: {', '.join(missing)}: {reason.rstrip('.')} (write ph: once it is known)"
            yield Problem(place("formula", formula_id, "ph_not_stated"), message, Severity.NOTE)
        elif missing:
            message = f"{NOT_STATED}: {', '.join(missing)} (write ph: with its certainty, or ph_not_stated: and why)"
            key = "dilution" if result.formula.dilution else "ingredients"
            yield Problem(place("formula", formula_id, key), message, Severity.WARNING)
        elif reason:
            message = "ph_not_stated: no strong acid or alkali is in it (take this out)"
            yield Problem(place("formula", formula_id, "ph_not_stated"), message, Severity.WARNING)


def limit_warnings(results: Results) -> tuple[Problem, ...]:
    """Specific limits that no rule uses, and bands that end where nothing graver begins."""
    return tuple(sorted(_limits(results)))


def _limits(results: Results) -> Iterator[Problem]:
    for chemical in results.catalogue.chemicals.values():
        for index, record in enumerate(chemical.hazards):
            for number, limit in enumerate(record.limits):
                at = results.catalogue.place("chemical", chemical.id, "hazards", index, "limits", number)
                if not used(limit):
                    message = f"no rule uses a specific limit of {limit.hazard} (take it out, and say it in note:)"
                    yield Problem(at, message, Severity.WARNING)
                elif limit.below and ends_in_nothing(limit, record):
                    message = f"{limit.hazard} ends at {limit.below.percent} %, and nothing graver begins there"
                    message += ": it is still said above (add the graver limit, or leave below: out)"
                    yield Problem(at, message, Severity.WARNING)
