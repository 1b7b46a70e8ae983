"""Hazard records: how a chemical is classified, by whom, in which edition; and the table of phrase texts."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.restriction import ExposureLimit
from reckoner.records.source import Source
from reckoner.records.values import Count, Flag, Id, Number, Percent, Record, Text

#: Class and category in the short form of CLP Annex VI.
ClassCode = Literal[
    "Acute Tox. 1",
    "Acute Tox. 2",
    "Acute Tox. 3",
    "Acute Tox. 4",
    "Skin Corr. 1",
    "Skin Corr. 1A",
    "Skin Corr. 1B",
    "Skin Corr. 1C",
    "Skin Irrit. 2",
    "Eye Dam. 1",
    "Eye Irrit. 2",
    "Resp. Sens. 1",
    "Skin Sens. 1",
    "Skin Sens. 1A",
    "Skin Sens. 1B",
    "Muta. 1B",
    "Muta. 2",
    "Carc. 1B",
    "Carc. 2",
    "Repr. 1B",
    "Repr. 2",
    "Lact.",
    "STOT SE 1",
    "STOT SE 2",
    "STOT SE 3",
    "STOT RE 1",
    "STOT RE 2",
    "Asp. Tox. 1",
    "Aquatic Acute 1",
    "Aquatic Chronic 1",
    "Aquatic Chronic 2",
    "Aquatic Chronic 3",
    "Aquatic Chronic 4",
    "Met. Corr. 1",
    "Ox. Sol. 2",
    "Ox. Sol. 3",
    "Flam. Liq. 2",
    "Flam. Liq. 3",
    "Flam. Sol. 2",
]
HCode = Annotated[Text, Field(pattern=r"^H\d{3}[A-Za-z]{0,2}$")]
Route = Literal["oral", "dermal", "inhalation"]


class Classification(Record):
    """One class with its hazard statement.

    Attributes:
        minimum: an asterisk in Annex VI: at least this category; measured data may make it stricter.
        effect: organ or route where the entry names one.
    """

    hazard: ClassCode
    h: HCode
    minimum: Flag = False
    effect: Text | None = None


class SpecificLimit(Record):
    """A specific concentration limit of Annex VI: the class holds from ``start`` to below ``below``, % w/w."""

    hazard: ClassCode
    h: HCode
    start: Annotated[Percent, Field(alias="from")]
    below: Percent | None = None


class AcuteValue(Record):
    """An acute toxicity estimate or LD50 in mg/kg body weight."""

    route: Route
    mg_per_kg: Number
    kind: Literal["harmonised ATE", "LD50"]
    source: Text


class Hazards(Record):
    """One classification of some forms of a chemical.

    Attributes:
        forms: ids of the forms it speaks of.
        basis: id of the form whose mass the entry counts, where hydrates or solutions are entered as that; each form
            counts as itself where there is none.
        not_classified: looked at and found without a class; unlike a missing record, which is "not assessed".
        m_acute, m_chronic: M-factors; 1 where Annex VI gives none.
        gas_from: share of a bath from which its EUH031 or EUH032 is said, where the usual trigger is too high.
        flammable_from: strength of a solution from which its flammable class is said; from any strength without it.
        extreme_ph: strong acid or base of pH 2 or less, 11.5 or more: the non-additive rule.
        boron: counted in the sum of boron compounds (Annex VI note 11).
    """

    forms: Annotated[tuple[Id, ...], Field(min_length=1)]
    basis: Id | None = None
    not_classified: Flag = False
    classes: tuple[Classification, ...] = ()
    limits: tuple[SpecificLimit, ...] = ()
    acute: tuple[AcuteValue, ...] = ()
    m_acute: Count = 1
    m_chronic: Count = 1
    euh: tuple[Annotated[Text, Field(pattern=r"^EUH\d{3}$")], ...] = ()
    gas_from: Percent | None = None
    flammable_from: Percent | None = None
    extreme_ph: Literal["acid", "base"] | None = None
    boron: Flag = False
    exposure: tuple[ExposureLimit, ...] = ()
    jurisdiction: Text
    edition: Text
    status: Literal["harmonised", "self-classification", "read across"]
    note: Text | None = None
    source: Source

    @model_validator(mode="after")
    def _says_something(self) -> Hazards:
        if self.not_classified and self.classes:
            raise ValueFault("not_classified: yes beside classes (keep one of them)", "not_classified")
        if not self.not_classified and not self.classes and not self.euh:
            raise ValueFault("no class (write classes:, or not_classified: yes where it was looked at)")
        return self


class Phrase(Record):
    """The text of one statement."""

    code: Annotated[Text, Field(pattern=r"^(H\d{3}[A-Za-z]{0,2}|EUH\d{3}|P\d{3}(\+P\d{3})*)$")]
    text: Text


class Phrases(Record):
    """Texts of hazard, supplemental and precautionary statements, with their edition."""

    edition: Text
    phrases: Annotated[tuple[Phrase, ...], Field(min_length=1)]
    source: Source

    def text(self, code: str) -> str | None:
        """The text of a code, or None."""
        return next((phrase.text for phrase in self.phrases if phrase.code == code), None)
