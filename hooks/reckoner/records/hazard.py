"""Hazard records: how a chemical is classified, by whom, in which edition; and the table of phrase texts."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.acute import INHALED, STATEMENTS, AcuteValue, Inhaled, Route
from reckoner.records.restriction import ExposureLimit
from reckoner.records.source import Certainty, Source
from reckoner.records.values import Count, Day, Flag, Id, Percent, Record, Text

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
    "Resp. Sens. 1A",
    "Resp. Sens. 1B",
    "Skin Sens. 1",
    "Skin Sens. 1A",
    "Skin Sens. 1B",
    "Muta. 1A",
    "Muta. 1B",
    "Muta. 2",
    "Carc. 1A",
    "Carc. 1B",
    "Carc. 2",
    "Repr. 1A",
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
    "Ox. Liq. 1",
    "Ox. Liq. 2",
    "Ox. Liq. 3",
    "Ox. Sol. 1",
    "Ox. Sol. 2",
    "Ox. Sol. 3",
    "Flam. Liq. 2",
    "Flam. Liq. 3",
    "Flam. Sol. 2",
]
HCode = Annotated[Text, Field(pattern=r"^H\d{3}[A-Za-z]{0,2}$")]


class Classification(Record):
    """One class with its hazard statement.

    Attributes:
        minimum: an asterisk in Annex VI: at least this category; measured data may make it stricter.
        effect: organ or route where the entry names one.
        inhaled: of a class by inhalation, what is breathed; where neither it nor a figure says so, dust or mist.
    """

    hazard: ClassCode
    h: HCode
    minimum: Flag = False
    effect: Text | None = None
    inhaled: Inhaled | None = None

    @model_validator(mode="after")
    def _breathed(self) -> Classification:
        if self.inhaled and self.h not in STATEMENTS[self.inhaled]:
            raise ValueFault(f"{self.h} is not said of what is breathed (leave inhaled: out)", "inhaled")
        if self.hazard.startswith("Acute Tox.") and not self._fits_category():
            raise ValueFault(f"{self.h} is not the statement of {self.hazard} (check both)", "h")
        return self

    def _fits_category(self) -> bool:
        return any(self.h == statements[int(self.hazard[-1]) - 1] for statements in STATEMENTS.values())


class SpecificLimit(Record):
    """A specific concentration limit of Annex VI: the class holds from ``start`` to below ``below``, % w/w."""

    hazard: ClassCode
    h: HCode
    start: Annotated[Percent, Field(alias="from")]
    below: Percent | None = None

    @model_validator(mode="after")
    def _a_band(self) -> SpecificLimit:
        for key, end in (("from", self.start), ("below", self.below)):
            if end is not None and end.basis != "w/w":
                raise ValueFault(f"the law's limits are % w/w (write {end.percent} % w/w)", key)
        if self.below is not None and self.below.percent <= self.start.percent:
            raise ValueFault("the band ends where it begins, or before (write the larger figure as below:)", "below")
        return self


class LimitIon(Record):
    """What specific limits count instead of the salt: chromate, by note 3 of Annex VI.

    Attributes:
        formula: of the ion, without its charge, as CrO4.
        moles: how many one mole of the salt gives.
    """

    formula: Text
    moles: Count = 1


class Beyond(Record):
    """A statement that is stricter than the harmonised entry, or not in it, and whose word it is."""

    h: Annotated[Text, Field(pattern=r"^(EUH|H)\d{3}[A-Za-z]{0,2}$")]
    why: Text
    certainty: Certainty


class ReadAcross(Record):
    """Whether the classes of a related substance are taken over, and why; the supplier's sheet decides.

    Attributes:
        of: the related substance and its index number.
        carried: its classes stand in this record.
    """

    of: Text
    carried: Flag
    why: Text
    certainty: Certainty


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
        limits_count: what the specific limits count, where that is an ion and not the salt (note 3).
        boron: counted in the sum of boron compounds (Annex VI note 11).
        edition: of what the classes stand in: of a harmonised entry, the adaptation that last changed it.
        index: number of the harmonised entry.
        checked_against: the adaptation up to which that was looked up, as hazard_phrases.yml lists it.
        beyond: what is stricter than the harmonised entry.
        read_across: of what it is read across, or why not.
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
    limits_count: LimitIon | None = None
    boron: Flag = False
    exposure: tuple[ExposureLimit, ...] = ()
    jurisdiction: Text
    edition: Text
    index: Annotated[Text, Field(pattern=r"^\d{3}-\d{3}-\d{2}-[\dX]$")] | None = None
    checked_against: Text | None = None
    status: Literal["harmonised", "self-classification", "read across"]
    beyond: tuple[Beyond, ...] = ()
    read_across: ReadAcross | None = None
    note: Text | None = None
    source: Source

    @model_validator(mode="after")
    def _says_something(self) -> Hazards:
        if self.not_classified and self.classes:
            raise ValueFault("not_classified: yes beside classes (keep one of them)", "not_classified")
        if not self.not_classified and not self.classes and not self.euh:
            raise ValueFault("no class (write classes:, or not_classified: yes where it was looked at)")
        return self

    @model_validator(mode="after")
    def _beyond_recorded(self) -> Hazards:
        if self.index and self.status != "harmonised":
            raise ValueFault("an index number is that of a harmonised entry (write status: harmonised)", "index")
        held = {*(entry.h for entry in self.classes), *(limit.h for limit in self.limits), *self.euh}
        for entry in self.beyond:
            if entry.h not in held:
                raise ValueFault(
                    f"{entry.h} is beyond the entry and not recorded (add the class, or take it out)", "beyond"
                )
        return self

    def inhaled(self, entry: Classification) -> Inhaled:
        """What is breathed of a class by inhalation: as it says, as its only figure says, else dust or mist."""
        known = {value.way for value in self.acute}
        routes = [route for route in INHALED if route in known]
        return entry.inhaled or (routes[0] if len(routes) == 1 else "dust or mist")

    def category(self, route: Route) -> int | None:
        """The gravest recorded category of acute toxicity by one way, 1 to 4, or None."""
        return min((int(entry.hazard[-1]) for entry in self._of(route)), default=None)

    def minimum(self, route: Route) -> bool:
        """Whether a class of one way is a minimum classification."""
        return any(entry.minimum for entry in self._of(route))

    def _of(self, route: Route) -> tuple[Classification, ...]:
        """Classes of acute toxicity by one way."""
        entries = (entry for entry in self.classes if entry.h in STATEMENTS[route])
        return tuple(entry for entry in entries if route not in INHALED or self.inhaled(entry) == route)


class Phrase(Record):
    """The text of one statement."""

    code: Annotated[Text, Field(pattern=r"^(H\d{3}[A-Za-z]{0,2}|EUH\d{3}|P\d{3}(\+P\d{3})*)$")]
    text: Text


class Adaptation(Record):
    """An adaptation of the regulation, by which harmonised entries change.

    Attributes:
        name: as records name it under ``checked_against``.
        regulation: that made it.
        applies: from this day; it may be used before.
    """

    name: Text
    regulation: Text
    applies: Day


class Phrases(Record):
    """Texts of hazard, supplemental and precautionary statements, with their edition.

    Attributes:
        adaptations: of the table of harmonised entries, the newest last: what is older in a record is warned of.
    """

    edition: Text
    adaptations: tuple[Adaptation, ...] = ()
    phrases: Annotated[tuple[Phrase, ...], Field(min_length=1)]
    source: Source

    def text(self, code: str) -> str | None:
        """The text of a code, or None."""
        return next((phrase.text for phrase in self.phrases if phrase.code == code), None)
