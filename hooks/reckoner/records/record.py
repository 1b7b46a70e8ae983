"""What every record is: frozen, strict about its keys, and known by the keys that an author writes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, get_args

from pydantic import BaseModel, ConfigDict
from pydantic.fields import FieldInfo

from reckoner.problems import ValueFault


class Record(BaseModel):
    """What an author writes: frozen, and unknown keys are faults."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    @property
    def owners_only(self) -> bool:
        """Whether it is left out of what others are given: what bears ``private: yes``."""
        return bool(getattr(self, "private", False))

    @classmethod
    def by_key(cls) -> dict[str, FieldInfo]:
        """Its fields by the keys that stand in a file, which some fields have another name than."""
        return {field.alias or name: field for name, field in cls.model_fields.items()}


def record_in(annotation: Any) -> type[Record] | None:
    """The kind of record that a field holds, itself or in a list; None where it holds single values."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return annotation
    return next((found for part in get_args(annotation) if (found := record_in(part))), None)


def each_once(what: str, ids: Iterable[str], key: str) -> None:
    """Refuse an id that stands twice in one list, of which only one would count.

    Raises:
        ValueFault: at ``key``, the list.
    """
    seen: set[str] = set()
    for one in ids:
        if one in seen:
            raise ValueFault(f"{what} '{one}' stands twice (give each {what} an id of its own)", key)
        seen.add(one)
