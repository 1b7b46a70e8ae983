"""Rules about what is private: nothing that others may see is built on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reckoner.problems import Problem
from reckoner.records.catalogue import Catalogue, Path
from reckoner.records.values import Record

#: Keys that name what a record cannot do without, and of what kind that is. A plan's ``compare`` and ``avoid`` are not
#: among them: private kits and suppliers are left out of those lists.
_NEEDED = {"formula": "formula", "of": "formula", "replaces": "formula", "process": "process"}


def private_parts(catalogue: Catalogue) -> Iterator[Problem]:
    """A public formula, process, plan or kit uses no private formula or process.

    One over a record of the library is no gap: others see the library's.
    """
    kinds: tuple[tuple[str, Mapping[str, Record]], ...] = (
        ("formula", catalogue.formulas),
        ("process", catalogue.processes),
        ("plan", catalogue.plans),
        ("kit", catalogue.kits),
    )
    instead = catalogue.overridden
    hidden = {
        kind: {i for i, record in records.items() if record.owners_only and (kind, i) not in instead}
        for kind, records in kinds
    }
    for kind, records in kinds:
        for record_id, record in records.items():
            if record.owners_only:
                continue
            for used, name, path in _names(record, ()):
                if name in hidden[used]:
                    message = f"the {used} '{name}' is private, and this {kind} is not"
                    fix = f"(write private: yes here too, or take it off the {used})"
                    yield Problem(catalogue.place(kind, record_id, *path), f"{message} {fix}")


def _names(record: Record, path: Path) -> Iterator[tuple[str, str, Path]]:
    """Kind, id and path of everything that the public parts of a record need."""
    for name, field in type(record).model_fields.items():
        value, inner = getattr(record, name), (*path, field.alias or name)
        for step, item in enumerate(value) if isinstance(value, tuple) else [(None, value)]:
            at = inner if step is None else (*inner, step)
            if isinstance(item, Record) and not item.owners_only:
                yield from _names(item, at)
            elif isinstance(item, str) and name in _NEEDED:
                yield _NEEDED[name], item, at
