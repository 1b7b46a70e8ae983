"""For whom a handbook is built: what is private is taken out before anything is calculated or rendered.

A catalogue goes in and a catalogue comes out, its tables of files and places too, so that no page, message, reference
or file name can tell of what was left out.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any, TypeVar

from reckoner.problems import ValueFault
from reckoner.records.catalogue import PERSONAL, Catalogue, ListedPrices, Path
from reckoner.records.plan import Plan
from reckoner.records.prices import Supplier
from reckoner.records.values import Record

R = TypeVar("R", bound=Record)
CLUB = "club"
AUDIENCES = (PERSONAL, CLUB)

#: The lines before a handwritten page's text: between two lines of hyphens, or "key: value" from the first line on.
_FRONT = re.compile(
    r"\s*(?:---[ \t]*\n(?P<fenced>.*?)(?:\n(?:---|\.\.\.)[ \t]*(?:\n|\Z)|\Z)|(?P<plain>.*?)(?:\n[ \t]*\n|\Z))", re.S
)
_MARK = re.compile(r"(?:^|[{,])[ \t]*[\"']?private[\"']?[ \t]*:[ \t]*[\"']?(\w*)", re.MULTILINE | re.IGNORECASE)
#: Field of the catalogue -> kind of file its records stand in, where the names differ.
_KINDS = {
    "chemicals": "chemical",
    "formulas": "formula",
    "processes": "process",
    "kits": "kit",
    "plans": "plan",
    "suppliers": "supplier",
    "phrases": "hazard_phrases",
    "members": "member",
}


def audience_of(name: str | None) -> str:
    """The audience that a build is asked for; ``personal`` where nothing is said.

    Raises:
        ValueFault: an audience that there is not.

    >>> audience_of(None)
    'personal'
    """
    if not name:
        return PERSONAL
    if name not in AUDIENCES:
        raise ValueFault(f"HANDBOOK_AUDIENCE is '{name}', which is no audience (write {' or '.join(AUDIENCES)})")
    return name


def marked_private(page: str) -> bool:
    """Whether a handwritten page says ``private: true`` in front; in doubt it does.

    >>> marked_private("---\\ntitle: Keys\\nprivate: true\\n---\\n# Keys\\n")
    True
    >>> marked_private("# Keys\\n\\nprivate: true\\n")
    False
    """
    front = _FRONT.match(page.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"))
    words = _MARK.findall((front["fenced"] or front["plain"] or "") if front else "")
    return any(word.lower() not in {"false", "no", "off"} for word in words)


def for_audience(catalogue: Catalogue, audience: str) -> Catalogue:
    """What an audience may see of a checked catalogue."""
    return catalogue if audience == PERSONAL else replace(_published(catalogue), audience=audience)


def _published(catalogue: Catalogue) -> Catalogue:
    left = _Left(catalogue)
    changed: dict[str, Any] = {}
    for field in fields(catalogue):
        value = getattr(catalogue, field.name)
        if isinstance(value, Record):
            changed[field.name] = left.of_file(field.name, "", value)
        elif isinstance(value, Mapping) and any(isinstance(record, Record) for record in value.values()):
            kept = {record_id: left.of_file(field.name, record_id, record) for record_id, record in value.items()}
            changed[field.name] = {record_id: record for record_id, record in kept.items() if record is not None}
    lists = (left.price_list(listed, changed["suppliers"]) for listed in catalogue.price_lists)
    changed["price_lists"] = tuple(listed for listed in lists if listed is not None)
    file_of = {**catalogue.file_of, **{key: catalogue.overridden[key].file for key in left.instead}}
    return replace(
        catalogue,
        **changed,
        places={name: at.without(left.dropped[name]) for name, at in catalogue.places.items() if name not in left.gone},
        file_of={key: name for key, name in file_of.items() if name not in left.gone},
        references=(),
        overridden={key: over for key, over in catalogue.overridden.items() if key not in left.instead},
    )


class _Left:
    """What is left of each file, and which files and parts of files are gone."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.gone: set[str] = set()
        self.dropped: defaultdict[str, set[Path]] = defaultdict(set)
        self.instead: set[tuple[str, str]] = set()

    def of_file(self, of: str, record_id: str, record: Record) -> Record | None:
        """A record that has a file to itself, without its private parts.

        Where all of it is private, that of the library which it stands over, else None.
        """
        key = (_KINDS.get(of, of), record_id)
        file = self.catalogue.file_of.get(key, "")
        if record.owners_only:
            self.gone.add(file)
            below = self.catalogue.overridden.get(key)
            self.instead |= {key} if below else set()
            return below.library if below else None
        if isinstance(record, Plan):
            record = self._plan(record, file)
        return _public(record, (), self.dropped[file])

    def price_list(self, listed: ListedPrices, suppliers: Mapping[str, Supplier]) -> ListedPrices | None:
        """A price list without private offers; None where nothing in it is for others."""
        prices = _public(listed.prices, (), self.dropped[listed.file])
        if prices.owners_only or listed.supplier not in suppliers or not prices.offers:
            self.gone.add(listed.file)
            return None
        return replace(listed, prices=prices)

    def _plan(self, plan: Plan, file: str) -> Plan:
        """A plan names neither private kits nor private suppliers; what it wants is public, as the checks see to."""
        hidden = {
            "compare": {i for i, kit in self.catalogue.kits.items() if kit.owners_only},
            "avoid": {i for i, supplier in self.catalogue.suppliers.items() if supplier.owners_only},
        }
        for key, names in hidden.items():
            listed = getattr(plan, key)
            self.dropped[file] |= {(key, index) for index, name in enumerate(listed) if name in names}
            plan = plan.model_copy(update={key: tuple(name for name in listed if name not in names)})
        return plan


def _public(record: R, path: Path, dropped: set[Path]) -> R:
    """A record without its private parts; where those stood is added to ``dropped``."""
    changed: dict[str, Any] = {}
    for name, field in type(record).model_fields.items():
        value, place = getattr(record, name), (*path, field.alias or name)
        if isinstance(value, Record):
            changed[name] = None if value.owners_only else _public(value, place, dropped)
            dropped |= {place} if value.owners_only else set()
        elif isinstance(value, tuple) and any(isinstance(item, Record) for item in value):
            hidden = {index for index, item in enumerate(value) if isinstance(item, Record) and item.owners_only}
            dropped |= {(*place, index) for index in hidden}
            changed[name] = tuple(
                _public(item, (*place, index), dropped) if isinstance(item, Record) else item
                for index, item in enumerate(value)
                if index not in hidden
            )
    return record.model_copy(update=changed) if changed else record
