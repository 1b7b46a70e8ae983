"""What must not meet: groups of substances and pairs of groups."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.record import each_once
from reckoner.records.source import Certainty, Source
from reckoner.records.values import Id, Record, Text


class SubstanceGroup(Record):
    """Chemicals that behave alike here; ``also`` names things that stand in no catalogue, as aluminium."""

    id: Id
    name: Text
    chemicals: tuple[Id, ...] = ()
    also: tuple[Text, ...] = ()


class Pair(Record):
    """Two groups and what happens when they meet.

    Attributes:
        severity: danger is never allowed to meet, not between neighbouring baths either; caution is met in the trade
            with care, as a sulfite developer and an acid stop.
    """

    groups: Annotated[tuple[Id, ...], Field(min_length=2, max_length=2)]
    result: Text
    severity: Literal["danger", "caution"]
    certainty: Certainty
    citation: Text | None = None


class Incompatibilities(Record):
    """All groups and pairs."""

    groups: Annotated[tuple[SubstanceGroup, ...], Field(min_length=1)]
    pairs: Annotated[tuple[Pair, ...], Field(min_length=1)]
    source: Source

    @model_validator(mode="after")
    def _groups_known(self) -> Incompatibilities:
        each_once("group", (group.id for group in self.groups), "groups")
        known = {group.id for group in self.groups}
        for pair in self.pairs:
            for name in pair.groups:
                if name not in known:
                    raise ValueFault(f"unknown group '{name}' (write one of: {', '.join(sorted(known))})", "pairs")
        return self

    def group(self, group_id: str) -> SubstanceGroup:
        """The group of that id."""
        return self._by_id[group_id]

    @cached_property
    def _by_id(self) -> dict[str, SubstanceGroup]:
        return {group.id: group for group in self.groups}
