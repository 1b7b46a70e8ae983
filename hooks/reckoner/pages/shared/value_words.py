"""Any value of a record in plain words, with its unit, and where it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from reckoner.calc.own_changes import Difference, Place
from reckoner.pages.shared.display import Display, source_text
from reckoner.records.acute import Dose
from reckoner.records.hazard import Classification, Hazards
from reckoner.records.source import Source
from reckoner.records.values import Dilution, Range, Record, Strength
from reckoner.units import Amount

#: Keys that read otherwise than they are written.
_WORDS = {
    "acute": "acute toxicity",
    "also": "also",
    "at": "measured at",
    "below": "up to",
    "euh": "supplemental statements",
    "h": "statement",
    "m_acute": "M-factor, acute",
    "m_chronic": "M-factor, chronic",
    "of": "made of",
    "or": "instead",
    "ph": "pH",
    "to_ph": "to pH",
}
#: Last keys that say no more than what stands before them.
_UNSAID = {
    ("keeping", "time"),
    ("ph", "value"),
    ("ingredients", "amount"),
    ("make_up_with", "amount"),
    ("acute", "value"),
    ("capacity", "does"),
}
#: Plain numbers have the unit of their key.
_UNITS = {"density": "g/mL", "add": "%"}
#: Keys that hold the id of a chemical, of a formula.
CHEMICALS, FORMULAS = {"chemical", "swap"}, {"formula", "of"}


@dataclass(frozen=True)
class ValueWords:
    """Words of values.

    Attributes:
        named: from a key and its text, the name of what the text names, or the text.
    """

    show: Display
    named: Callable[[str, str], str]

    def path(self, difference: Difference) -> str:
        """Where a difference is: ``keeping, full bottle``; of a class that one side has, which it is."""
        entry = difference.library or difference.here
        if isinstance(entry, Classification):
            forms = [self._step(step) for step in difference.path if isinstance(step, Place)]
            return f"class {entry.hazard} ({entry.h}) of {', '.join(forms)}"
        keys = [step for step in difference.path if isinstance(step, str)]
        unsaid = len(keys) > 1 and (keys[0], keys[-1]) in _UNSAID
        return ", ".join(self._step(step) for step in (difference.path[:-1] if unsaid else difference.path))

    def sides(self, difference: Difference) -> tuple[str, str]:
        """What the library and this handbook say; of a class whether it has it."""
        values = difference.library, difference.here
        if any(isinstance(value, Classification) for value in values):
            old, new = ("no" if value is None else "yes" for value in values)
        else:
            old, new = (self.value(value, difference.last) for value in values)
        return old, new

    def key(self, key: str) -> str:
        """A key as it reads."""
        return _WORDS.get(key, key.replace("_", " "))

    def _step(self, step: str | Place) -> str:
        if isinstance(step, str):
            return self.key(step)
        return self.value(step.name, step.key) if step.key else str(step.number + 1)

    def value(self, value: Any, key: str) -> str:
        """The value of a key; "none" where there is none."""
        show = self.show
        match value:
            case None | ():
                return "none"
            case bool():
                return "yes" if value else "no"
            case str():
                return self.named(key, value)
            case date():
                return show.day(value)
            case Decimal() | int():
                return f"{show.number(Decimal(value))} {_UNITS.get(key, '')}".rstrip()
            case Amount():
                return show.amount(value)
            case Range():
                return show.range(value)
            case Strength():
                return show.strength(value)
            case Dilution():
                return show.dilution(value)
            case Dose():
                return f"{show.number(value.number)} {value.unit}"
            case Source():
                return f"{source_text(value)}, {show.day(value.checked)}"
            case Hazards():
                return _hazards(value)
            case Record():
                return self._record(value)
            case tuple():
                return "; ".join(self.value(item, key) for item in value)
        raise TypeError(f"no words for {type(value).__name__}")

    def _record(self, record: Record) -> str:
        """Everything that a record says beyond what any says; what is on by its key."""
        parts = []
        for name, field in type(record).model_fields.items():
            value, key = getattr(record, name), field.alias or name
            if value is True:
                parts.append(self.key(key))
            elif value != field.default and value not in (None, (), False):
                parts.append(self.value(value, key))
        return ", ".join(parts)


def _hazards(record: Hazards) -> str:
    """The classes of a record and whose they are; figures and limits stand on the page itself."""
    classes = (f"{entry.hazard} {entry.h}" for entry in record.classes)
    said = ", ".join((*classes, *record.euh)) or "not classified"
    return f"{', '.join(record.forms)}: {said} ({record.status}, {record.edition})"
