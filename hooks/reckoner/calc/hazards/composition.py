"""Mass fractions of a bath: what each classified substance weighs in a litre, over what the litre weighs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from reckoner.calc.mixing.molar import molar_mass, moles_per_unit, solute_per_unit
from reckoner.calc.mixing.rollup import WATER, Need
from reckoner.problems import ValueFault
from reckoner.records.chemical import Chemical, Form, Strong
from reckoner.records.hazard import Hazards

LITRE_OF_WATER = Decimal(1000)
HUNDRED = Decimal(100)
#: What a litre's mass was taken from: the recorded density, or without one the sum of the ingredients where that is
#: more than a litre of water, water less what lighter liquids lack, water; of a jar its stated strength.
MassRule = Literal["density", "ingredients", "lighter liquids", "water", "strength"]
#: Grams a litre that lighter liquids may lack unsaid: a thousandth, far below the solids' own share of the volume.
LIGHTER = Decimal(1)


@dataclass(frozen=True)
class Substance:
    """One substance of a bath.

    Attributes:
        hazards: its classification, or None: not assessed.
        grams: of the substance on the basis that its entry is for, in a litre.
        percent: % w/w of the bath.
        forms: ids of the forms it comes in, those of the jars.
        strong: whether it is a strong acid or alkali.
        counted: % w/w of what its specific limits count, where that is another thing (note 3 of Annex VI).
    """

    chemical: str
    hazards: Hazards | None
    grams: Decimal
    percent: Decimal
    forms: tuple[str, ...] = ()
    strong: Strong | None = None
    counted: Decimal | None = None

    @property
    def limited(self) -> Decimal:
        """% w/w that is held against its specific limits."""
        return self.percent if self.counted is None else self.counted


@dataclass(frozen=True)
class Composition:
    """A bath's substances, sorted by chemical; ``mass`` in g for a litre, and how that was found."""

    substances: tuple[Substance, ...]
    mass: Decimal
    mass_rule: MassRule

    @property
    def unknown(self) -> tuple[Substance, ...]:
        """Substances that nobody has assessed."""
        return tuple(substance for substance in self.substances if substance.hazards is None)

    def moles(self, chemicals: Mapping[str, Chemical]) -> dict[str, Decimal]:
        """Moles of each chemical in a litre; what has no formula is left out."""
        found: dict[str, Decimal] = {}
        for substance in self.substances:
            chemical = chemicals[substance.chemical]
            form = chemical.form((substance.hazards.basis if substance.hazards else None) or substance.forms[0])
            if form is not None and form.formula is not None:
                found[substance.chemical] = found.get(substance.chemical, Decimal(0)) + substance.grams / molar_mass(
                    form.formula
                )
        return found


def compose(needs: Iterable[Need], chemicals: Mapping[str, Chemical], density: Decimal | None) -> Composition:
    """Mass fractions from the needs of one litre; needs of one chemical are added up.

    Args:
        density: of the bath in g/mL where it is recorded.
    """
    grams: dict[tuple[str, int], Decimal] = {}
    records: dict[tuple[str, int], Hazards | None] = {}
    forms: dict[tuple[str, int], tuple[str, ...]] = {}
    weighed, lighter = Decimal(0), Decimal(0)
    for need in needs:
        chemical = chemicals[need.chemical]
        form = chemical.form(need.form)
        assert form is not None, "checks refuse unknown forms"
        if need.chemical != WATER:
            density_of_form = (form.density or Decimal(1)) if form.state == "liquid" else Decimal(1)
            weighed += need.per_litre * density_of_form
            lighter += need.per_litre * max(1 - density_of_form, Decimal(0))
        hazards = chemical.hazards_of(need.form)
        key = (need.chemical, -1 if hazards is None else chemical.hazards.index(hazards))
        records[key] = hazards
        forms[key] = tuple(dict.fromkeys((*forms.get(key, ()), need.form)))
        grams[key] = grams.get(key, Decimal(0)) + need.per_litre * entered(chemical, form, hazards)
    mass, rule = _mass(weighed, lighter, density)
    substances = tuple(
        Substance(
            chemical_id,
            records[chemical_id, index],
            amount,
            amount / mass * HUNDRED,
            forms[chemical_id, index],
            chemicals[chemical_id].strong,
            _counted(amount / mass * HUNDRED, chemicals[chemical_id], records[chemical_id, index]),
        )
        for (chemical_id, index), amount in sorted(grams.items())
        if chemical_id != WATER
    )
    return Composition(substances, mass, rule)


def entered(chemical: Chemical, form: Form, hazards: Hazards | None) -> Decimal:
    """Grams that 1 g or 1 mL of a form enters the sums with: the entry's substance, not the solution or hydrate."""
    basis = chemical.form(hazards.basis) if hazards and hazards.basis else None
    try:
        if basis is not None and basis.formula and basis.id != form.id:
            return moles_per_unit(form) * molar_mass(basis.formula)
        return solute_per_unit(form)
    except ValueFault:
        # Mixtures without a strength (a wetting agent) enter whole.
        return form.density or Decimal(1)


def _counted(percent: Decimal, chemical: Chemical, hazards: Hazards | None) -> Decimal | None:
    """% w/w of the ion that a record's limits count: its moles weigh so much of what the entry is for."""
    ion = hazards.limits_count if hazards else None
    if hazards is None or ion is None:
        return None
    form = chemical.form(hazards.basis or hazards.forms[0])
    assert form is not None and form.formula is not None, "checks refuse an ion of a mixture"
    return percent * ion.moles * molar_mass(ion.formula) / molar_mass(form.formula)


def _mass(weighed: Decimal, lighter: Decimal, density: Decimal | None) -> tuple[Decimal, MassRule]:
    """Grams of a litre and how that was found.

    Args:
        weighed: grams of everything but water.
        lighter: grams by which the liquids that are lighter than water fall short of it. A mixture shrinks a little
            and so weighs rather more, which makes shares rather too high.
        density: of the bath in g/mL where it is recorded.
    """
    if density is not None:
        return max(density * LITRE_OF_WATER, weighed), "density"
    if weighed > LITRE_OF_WATER:
        return weighed, "ingredients"
    if lighter > LIGHTER:
        return max(LITRE_OF_WATER - lighter, weighed), "lighter liquids"
    return LITRE_OF_WATER, "water"
