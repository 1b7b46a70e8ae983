"""Formulas: amounts in mixing order that make one bath or stock solution."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reckoner.problems import ValueFault
from reckoner.records.note import DatedNote
from reckoner.records.source import Certainty, Source
from reckoner.records.use import FilmCapacity, Keeping, MinimumVolume, OtherTemperatures, Replenishment, Reuse, Use
from reckoner.records.values import (
    MOST_LINES,
    Acidity,
    AnyAmount,
    Day,
    Density,
    Flag,
    Id,
    Parts,
    Published,
    Range,
    Record,
    Temperature,
    Text,
    Volume,
)

Purpose = Literal[
    "colour prebath",
    "colour developer",
    "colour first developer",
    "film developer",
    "paper developer",
    "reversal",
    "stop bath",
    "bleach",
    "bleach-fix",
    "fixer",
    "wash aid",
    "clearing bath",
    "final rinse",
    "reducer",
    "toner",
    "sensitiser",
    "stock solution",
]
#: Purposes of baths that develop.
DEVELOPERS = frozenset({"colour developer", "colour first developer", "film developer", "paper developer"})
Disposal = Literal[
    "alkaline developer",
    "silver-bearing",
    "hexavalent chromium",
    "acid",
    "ferricyanide",
    "formaldehyde",
    "oxidiser",
    "sulfide",
    "general",
]
#: Classes of which the drain may be allowed somewhere.
DRAINED = frozenset({"alkaline developer", "general"})


class Item(Record):
    """One line of a formula: a chemical in a form, or another formula, with its amount.

    Attributes:
        chemical: id of the chemical; its file in ``chemicals/`` has that name.
        form: id of the form that is weighed, as the chemical's file lists them.
        formula: id of another formula, a stock solution say, instead of chemical and form.
        amount: what goes into the volume that the formula makes: weight, or volume of a liquid.
        as_published: the same as the publication prints it in old units.
        note: what to know about this line.
    """

    chemical: Id | None = None
    form: Id | None = None
    formula: Id | None = None
    amount: AnyAmount
    as_published: Published | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _one_thing(self) -> Item:
        if (self.chemical is None) == (self.formula is None):
            raise ValueFault("an ingredient is either a chemical or a formula (write chemical: and form:, or formula:)")
        if self.chemical and not self.form:
            raise ValueFault("the form is missing (write form: as in the catalogue, as anhydrous)")
        if self.formula and self.form:
            raise ValueFault("a formula used as an ingredient has no form (leave form: out)", "form")
        if self.as_published and self.as_published[0].dimension != self.amount.dimension:
            raise ValueFault("as_published and amount are a mass and a volume (write both as one kind)", "as_published")
        if self.formula and self.amount.dimension != "volume":
            raise ValueFault("a solution is measured by volume (write the amount in mL)", "amount")
        return self


class Ingredient(Item):
    """An item with what may take its place.

    Attributes:
        optional: the bath works without it; it is left out of the cost and shown as optional.
        alternatives: full items that may stand instead (``or:`` in the data).
        swap: chemicals supplying the same ion that the formula accepts mole for mole.
    """

    optional: Flag = False
    alternatives: Annotated[tuple[Item, ...], Field(alias="or")] = ()
    swap: tuple[Id, ...] = ()


class Adjust(Record):
    """A last adjustment without amount: not costed, and the page says so.

    Attributes:
        to_ph: the pH that the finished bath is brought to.
        with: what it is brought there with, in drops.
    """

    to_ph: Acidity
    using: Annotated[tuple[Text, ...], Field(alias="with", min_length=1)]


class Ph(Record):
    """The pH of the finished bath.

    Attributes:
        value: the pH, or a span of it.
        tolerance: how far off it may be, in words.
        at: temperature at which it is measured.
        certainty: how sure this value is.
    """

    value: Acidity
    tolerance: Text | None = None
    at: Temperature | None = None
    certainty: Certainty


class DoesNotWork(Record):
    """Why nobody should put film into the bath that a formula gives as it is written.

    Attributes:
        why: what is wrong with it, in a sentence.
        certainty: how sure that is.
        citation: where it was read, if anywhere.
    """

    why: Text
    certainty: Certainty
    citation: Text | None = None


class Formula(Record):
    """One solution: its ingredients in mixing order and everything the bench needs to know.

    Attributes:
        id: what other files and addresses call it; the file's name is the same.
        formerly: ids that it once had; their addresses lead here.
        name: what it is, as a chemist would say it.
        also_published_as: designations in print, as D-76.
        aliases: other words that search finds it by.
        purpose: decides where it is listed.
        makes: volume that the amounts make up to.
        published_for: volume that the ``as_published`` amounts make in the publication.
        strength: working baths go in the tank; stocks, concentrates and parts are diluted or joined first.
        water: purified, or tap water where that does.
        start_water: water in the vessel before the first ingredient; absent where another liquid is the solvent.
        start_temperature: of that water.
        make_up_with: solvent to the mark, water unless named.
        ingredients: lines in mixing order.
        dilution: parts of each formula below ``of``, and water last, instead of ingredients.
        of: ids of the formulas that are diluted or joined.
        adjust: a last adjustment of the pH.
        mixing: what to do, a sentence for each step.
        mix_temperature: of the water while mixing.
        ph: of the finished bath.
        ph_not_stated: why nobody states the pH of a bath with a strong acid or alkali; it stays treated as corrosive.
        density: of the finished bath at 20 °C.
        use: temperature and time outside a process.
        keeping: how long it keeps, by state.
        capacity: how much film it does.
        minimum: the least of it that a roll needs.
        reuse: how the time grows with use.
        replenishment: what is added for the film that went through.
        idle: what a bath that stands unused is given.
        other_temperatures: times at other temperatures.
        cautions: what to beware of; at least one.
        disposal: class of waste, for the local rules.
        disposal_note: what else to know when it is spent.
        disposal_collect: collected when spent, whatever its class allows.
        does_not_work: the formula as written gives no bath for film, and why; every page of it says so.
        doubts: what is uncertain about the formula.
        notes: anything else worth knowing.
        log: the owner's own remarks, private unless marked.
        proven_on: day on which the owner proved a formula from memory on film.
        private: left out of what others are given.
        source: where the formula is from, and how sure it is.
    """

    id: Id
    formerly: tuple[Id, ...] = ()
    name: Text
    also_published_as: tuple[Text, ...] = ()
    aliases: tuple[Text, ...] = ()
    purpose: Purpose
    strength: Literal["working", "stock", "concentrate", "part"]
    makes: Volume
    published_for: Volume | None = None
    water: Literal["purified", "tap"] = "purified"
    start_water: Volume | None = None
    start_temperature: Temperature | None = None
    make_up_with: Item | None = None
    ingredients: Annotated[tuple[Ingredient, ...], Field(max_length=MOST_LINES)] = ()
    dilution: Parts | None = None
    of: tuple[Id, ...] = ()
    adjust: Adjust | None = None
    mixing: tuple[Text, ...] = ()
    mix_temperature: Temperature | None = None
    ph: Ph | None = None
    ph_not_stated: Text | None = None
    density: Density | None = None
    use: Use | None = None
    keeping: tuple[Keeping, ...] = ()
    capacity: tuple[FilmCapacity, ...] = ()
    minimum: MinimumVolume | None = None
    reuse: Reuse | None = None
    replenishment: tuple[Replenishment, ...] = ()
    idle: Text | None = None
    other_temperatures: OtherTemperatures | None = None
    cautions: Annotated[tuple[Text, ...], Field(min_length=1)]
    disposal: Disposal
    disposal_collect: Flag = False
    disposal_note: Text | None = None
    does_not_work: DoesNotWork | None = None
    doubts: tuple[Text, ...] = ()
    notes: tuple[Text, ...] = ()
    log: tuple[DatedNote, ...] = ()
    proven_on: Day | None = None
    private: Flag = False
    source: Source

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything that may go in: ingredients, their alternatives, and what it is made up with."""
        lines = [item for ingredient in self.ingredients for item in (ingredient, *ingredient.alternatives)]
        return (*lines, self.make_up_with) if self.make_up_with else tuple(lines)

    @property
    def acidity(self) -> Range | None:
        """The pH that is stated, measured or aimed at; the widest span where both are."""
        spans = [*([self.ph.value] if self.ph else []), *([self.adjust.to_ph] if self.adjust else [])]
        if not spans:
            return None
        return Range(min(span.low for span in spans), max(span.high for span in spans), spans[0].unit)

    @model_validator(mode="after")
    def _ph_or_reason(self) -> Formula:
        if self.ph_not_stated and self.acidity:
            raise ValueFault("ph_not_stated beside a pH (keep one of them)", "ph_not_stated")
        return self

    @model_validator(mode="after")
    def _made_of_something(self) -> Formula:
        if bool(self.ingredients) == bool(self.dilution):
            message = "a formula has ingredients or a dilution (write ingredients:, or dilution: with of:)"
            raise ValueFault(message, "dilution")
        if self.dilution and len(self.dilution.parts) - len(self.of) not in (0, 1):
            raise ValueFault(
                "the dilution's parts do not match 'of' (write one part for each solution, then water)", "dilution"
            )
        if self.of and not self.dilution:
            raise ValueFault("'of' needs a dilution (write dilution: 1+9)", "of")
        return self

    @model_validator(mode="after")
    def _volumes_fit(self) -> Formula:
        if self.start_water and self.start_water.base > self.makes.base:
            raise ValueFault(
                f"start_water is more than the {self.makes} the formula makes (write less water)", "start_water"
            )
        published = any(
            i.as_published for ingredient in self.ingredients for i in (ingredient, *ingredient.alternatives)
        )
        if published and not self.published_for:
            raise ValueFault(
                "as_published needs published_for (write the volume, as published_for: 32 US_fl_oz)", "ingredients"
            )
        return self
