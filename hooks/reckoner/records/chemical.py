"""Chemicals of the catalogue, their forms, and the table of look-alikes."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.records.hazard import Hazards
from reckoner.records.record import each_once
from reckoner.records.restriction import Restriction
from reckoner.records.source import Certainty, Source
from reckoner.records.values import Count, Density, Duration, Id, Number, Percent, Record, Temperature, Text

#: What decides how exactly it must be weighed (design: weighability).
Role = Literal[
    "colour developing agent",
    "developing agent",
    "preservative",
    "alkali",
    "restrainer",
    "acid",
    "fixing agent",
    "bleaching agent",
    "halide",
    "sequestrant",
    "solvent",
    "other",
]

Strong = Literal["acid", "alkali"]


class Solubility(Record):
    """Grams that dissolve in a litre of water at a temperature."""

    grams_per_litre: Number
    at: Temperature
    certainty: Certainty
    citation: Text | None = None


class Form(Record):
    """What is weighed or sold.

    Attributes:
        id: unique within the chemical.
        name: as on the jar.
        formula: chemical formula with hydrate water after a point (``Na2CO3.10H2O``); gives the molar mass.
            None for mixtures without one: they convert to nothing else.
        cas: CAS registry number of this form.
        state: solids are weighed, liquids measured by volume.
        strength: nominal strength of a solution, or assay of a solid as usually sold.
        density: g/mL at 20 °C, needed for liquids that convert.
    """

    id: Id
    name: Text
    formula: Text | None = None
    cas: Annotated[Text | None, Field(pattern=r"^\d{2,7}-\d{2}-\d$")] = None
    state: Literal["solid", "liquid"] = "solid"
    strength: Percent | None = None
    density: Density | None = None
    solubility: tuple[Solubility, ...] = ()
    note: Text | None = None
    source: Source | None = None


class HouseholdName(Record):
    """A name from the grocer's that finds the page, with the condition under which it is the same thing."""

    name: Text
    only_if: Text


class Active(Record):
    """The entity a salt is used for, so that sodium and potassium salts can be exchanged where a formula allows it.

    Attributes:
        entity: common name of the ion or molecule, the same in every chemical that supplies it.
        moles: moles of it in one mole of the chemical's formula unit (metabisulfite gives 2 bisulfite).
    """

    entity: Id
    moles: Count = 1


class PackKeeping(Record):
    """How long a pack keeps, closed and once opened; without a time it keeps as long as anyone has waited."""

    sealed: Duration | None = None
    opened: Duration | None = None
    certainty: Certainty
    citation: Text | None = None


class Chemical(Record):
    """A catalogue entry with its forms.

    Attributes:
        strong: a strong acid (1 % of it in water has a pH of 2 or less) or alkali (11.5 or more). A bath that holds it
            states its pH or is treated as corrosive.
        keep_apart: none known, where no pair of the table of incompatibilities speaks of it; the table has the rest.
        milder_because: of an owner's record over the library's, why its hazards are milder; it stands on the page.
    """

    id: Id
    formerly: tuple[Id, ...] = ()
    name: Text
    synonyms: tuple[Text, ...] = ()
    household: tuple[HouseholdName, ...] = ()
    use: Text
    role: Role
    strong: Strong | None = None
    active: Active | None = None
    forms: Annotated[tuple[Form, ...], Field(min_length=1)]
    cautions: tuple[Text, ...] = ()
    keep_apart: Literal["none known"] | None = None
    storage: tuple[Text, ...] = ()
    keeping: PackKeeping | None = None
    restrictions: tuple[Restriction, ...] = ()
    hazards: tuple[Hazards, ...] = ()
    milder_because: Text | None = None
    source: Source

    @model_validator(mode="after")
    def _forms_differ(self) -> Chemical:
        each_once("form", (form.id for form in self.forms), "forms")
        return self

    def form(self, form_id: str) -> Form | None:
        """The form of that id, or None."""
        for form in self.forms:
            if form.id == form_id:
                return form
        return None

    def hazards_of(self, form_id: str) -> Hazards | None:
        """The classification that speaks of a form: the harmonised one first; None is "not assessed"."""
        records = [record for record in self.hazards if form_id in record.forms]
        return next((r for r in records if r.status == "harmonised"), records[0] if records else None)


class LookAlike(Record):
    """Chemicals whose names are easily taken for one another, and what goes wrong then."""

    chemicals: Annotated[tuple[Id, ...], Field(min_length=1)]
    also: tuple[Text, ...] = ()
    why: Text


class LookAlikes(Record):
    """The table of look-alikes: spelling help never crosses a group alone."""

    groups: tuple[LookAlike, ...]
    source: Source

    def others(self, chemical_id: str) -> tuple[LookAlike, ...]:
        """The groups that hold a chemical."""
        return tuple(group for group in self.groups if chemical_id in group.chemicals)
