"""Cautions of the trade: what to say, and at which step of the work it matters."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from reckoner.records.chemical import Role
from reckoner.records.formula import Purpose
from reckoner.records.hazard import HCode
from reckoner.records.process import Kind
from reckoner.records.source import Certainty, Source
from reckoner.records.values import Id, Record, Temperature, Text

Moment = Literal["before work", "batch", "ingredient", "mixing", "process step", "keeping", "label", "chemical"]


class Caution(Record):
    """One caution with the conditions under which it is said; every condition that is given must hold.

    Attributes:
        at: where it stands: on top of a formula's page, at the head of each weighing table, on the line of an
            ingredient, beside the mixing steps, at a step of a process, beside the keeping times, on the bottle's
            label, or on the page of a chemical, of its jars at their strength.
        chemicals: at an ingredient, it is one of these; elsewhere, one of these is in the bath.
        groups: the same by groups of the table of incompatibilities.
        roles: the same by what the chemical is used for.
        forms: only forms of these ids.
        statements: the same by a hazard statement of the jar; at an ingredient, of the jar at its strength.
        unless: not beside one of these statements, whose own caution says more.
        state: at an ingredient, only where a jar of it is solid, or liquid: a liquid makes no dust.
        beside: and one chemical of these groups is in the same formula.
        purposes: only for baths of these purposes.
        warmer: only where the bath is mixed or used at this temperature or above.
        acid_against: only where the bath is acid. Its stated pH is below 6; where none is stated it holds a strong
            acid, or at least as many moles of these chemicals as of those of these groups, which take an acid up.
        kinds: at a step, only in processes of these kinds.
        after: only where the bath before, without a wash between, holds a chemical of these groups.
    """

    text: Text
    at: Moment
    chemicals: tuple[Id, ...] = ()
    groups: tuple[Id, ...] = ()
    roles: tuple[Role, ...] = ()
    forms: tuple[Id, ...] = ()
    statements: tuple[HCode, ...] = ()
    unless: tuple[HCode, ...] = ()
    state: Literal["solid", "liquid"] | None = None
    beside: tuple[Id, ...] = ()
    purposes: tuple[Purpose, ...] = ()
    warmer: Temperature | None = None
    acid_against: tuple[Id, ...] = ()
    kinds: tuple[Kind, ...] = ()
    after: tuple[Id, ...] = ()
    certainty: Certainty
    citation: Text | None = None


class Cautions(Record):
    """All cautions of the trade, in the order in which they are shown."""

    cautions: Annotated[tuple[Caution, ...], Field(min_length=1)]
    source: Source
