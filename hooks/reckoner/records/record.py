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
    return next((inner for part in get_args(annotation) if (inner := record_in(part))), None)


def each_once(noun: str, ids: Iterable[str], key: str) -> None:
    """Refuse an id that stands twice in one list, of which only one would count.

    Raises:
        ValueFault: at ``key``, the list.
    """
    seen: set[str] = set()
    for each_id in ids:
        if each_id in seen:
            raise ValueFault(f"{noun} '{each_id}' stands twice (give each {noun} an id of its own)", key)
        seen.add(each_id)
