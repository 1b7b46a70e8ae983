"""What must not meet: groups of substances and pairs of groups."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.formula import Purpose
from reckoner.records.record import each_once
from reckoner.records.source import Certainty, Source
from reckoner.records.values import Id, Record, Text


class SubstanceGroup(Record):
    """Chemicals that behave alike here.

    Attributes:
        short: a word or two for a label, on which a group without it is one of "others".
        also: things that stand in no catalogue, as aluminium.
    """

    id: Id
    name: Text
    short: Text | None = None
    chemicals: tuple[Id, ...] = ()
    also: tuple[Text, ...] = ()


#: Where two things can meet: as solids or concentrates from their jars, mixed in one bath, in a jar of waste.
State = Literal["solid or concentrate", "in a bath", "in waste"]
EVERYWHERE: tuple[State, ...] = ("solid or concentrate", "in a bath", "in waste")


class ByDesign(Record):
    """Baths that hold a pair on purpose, at a strength that the trade is used to; jars and waste stay a danger.

    Attributes:
        purposes: of the baths.
        why: in half a sentence, why the two stand together there.
    """

    purposes: Annotated[tuple[Purpose, ...], Field(min_length=1)]
    why: Text


class Pair(Record):
    """Two groups and what happens when they meet.

    Attributes:
        severity: danger is never allowed to meet, not between neighbouring baths either; caution is met in the trade
            with care, as a sulfite developer and an acid stop.
        states: where it holds; everywhere, unless some are named.
        by_design: baths that hold both on purpose.
    """

    groups: Annotated[tuple[Id, ...], Field(min_length=2, max_length=2)]
    result: Text
    severity: Literal["danger", "caution"]
    states: Annotated[tuple[State, ...], Field(min_length=1)] = EVERYWHERE
    by_design: ByDesign | None = None
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

    def paired(self) -> frozenset[str]:
        """Ids of chemicals that stand in a group of some pair: what the table says something of."""
        named = {name for pair in self.pairs for name in pair.groups}
        return frozenset(chemical for name in named for chemical in self.group(name).chemicals)

    def group(self, group_id: str) -> SubstanceGroup:
        """The group of that id."""
        return self._by_id[group_id]

    def groups_of(self, chemical: str) -> tuple[str, ...]:
        """Ids of the groups that a chemical stands in."""
        return self._of_chemical.get(chemical, ())

    @cached_property
    def _of_chemical(self) -> dict[str, tuple[str, ...]]:
        groups: dict[str, tuple[str, ...]] = {}
        for group in self.groups:
            for chemical in dict.fromkeys(group.chemicals):
                groups[chemical] = (*groups.get(chemical, ()), group.id)
        return groups

    @cached_property
    def _by_id(self) -> dict[str, SubstanceGroup]:
        return {group.id: group for group in self.groups}
