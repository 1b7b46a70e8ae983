"""Form conversion by moles: what to weigh from the jar at hand for what the formula asks."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.mixing.molar import molar_mass, moles_per_unit, solute_per_unit
from reckoner.calc.mixing.working import plain
from reckoner.problems import ValueFault
from reckoner.records.chemical import Chemical, Form
from reckoner.records.values import Strength
from reckoner.units import Amount


@dataclass(frozen=True)
class Jar:
    """What is at hand: a form of a chemical, with the jar's own assay where it is stated."""

    chemical: Chemical
    form: Form
    assay: Strength | None = None

    @property
    def unit(self) -> str:
        """Solids are weighed in g, liquids measured in mL."""
        return "g" if self.form.state == "solid" else "mL"


@dataclass(frozen=True)
class Conversion:
    """A factor from the asked form to the jar's, in their own units (g or mL).

    Attributes:
        factor: multiply the asked amount by this; exactly 1 where nothing is converted.
        rule: in words.
        inputs: molar masses, strengths and densities used.
    """

    factor: Decimal
    unit: str
    rule: str
    inputs: tuple[tuple[str, str], ...] = ()


def base_amount(amount: Amount, form: Form) -> Decimal:
    """An amount of a form in its own unit: g for solids, mL for liquids.

    Raises:
        ValueFault: a volume of a solid, or a mass of a liquid without density.
    """
    if form.state == "solid":
        if amount.dimension != "mass":
            raise ValueFault(f"'{amount}' is a volume of a solid, {form.name} (write a mass, as 2.5 g)")
        return amount.base
    if amount.dimension == "volume":
        return amount.base
    if form.density is None:
        raise ValueFault(f"'{amount}' is a mass of a liquid without density, {form.name} (write mL)")
    return amount.base / form.density


def convert(asked: Jar, jar: Jar) -> Conversion:
    """The factor from the asked form (nominal strength) to a jar.

    Moles of the active entity stay the same: by molar mass, and by the entity's count in the formula unit where one
    salt stands for another.

    Raises:
        ValueFault: the two do not convert, with the reason.
    """
    same_form = asked.chemical.id == jar.chemical.id and asked.form.id == jar.form.id
    if same_form and (jar.assay is None or jar.assay == _strength(asked)):
        return Conversion(Decimal(1), jar.unit, "the jar holds the form the formula asks for")
    if _by_volume(asked, jar):
        return _same_substance_by_volume(asked, jar)
    if same_form:
        return _same_form(asked, jar)
    left = moles_per_unit(asked.form, asked.assay) * _active_moles(asked, jar)
    right = moles_per_unit(jar.form, jar.assay) * _active_moles(jar, asked)
    rule = "equal moles: asked amount × (moles per unit asked ÷ moles per unit in the jar)"
    if asked.chemical.id != jar.chemical.id and asked.chemical.active:
        rule = f"equal moles of {asked.chemical.active.entity}, as the formula allows the exchange"
    return Conversion(left / right, jar.unit, rule, (*_inputs("asked", asked), *_inputs("jar", jar)))


def _strength(jar: Jar) -> Strength | None:
    return jar.assay or jar.form.strength


def _by_volume(asked: Jar, jar: Jar) -> bool:
    """Whether both are solutions of one substance in % v/v: then neither masses nor densities are needed."""
    strengths = (_strength(asked), _strength(jar))
    return (
        asked.form.state == jar.form.state == "liquid"
        and asked.chemical.id == jar.chemical.id
        and asked.form.formula == jar.form.formula
        and all(strength is not None and strength.basis == "v/v" for strength in strengths)
    )


def _same_substance_by_volume(asked: Jar, jar: Jar) -> Conversion:
    """28 % v/v from 99.5 % v/v: 281.4 mL and water to make a litre."""
    wanted, held = _strength(asked), _strength(jar)
    assert wanted is not None and held is not None
    inputs = (("asked: strength", f"{wanted.percent} % v/v"), ("jar: strength", f"{held.percent} % v/v"))
    rule = "same substance, both in % v/v: asked volume × strength asked ÷ strength of the jar"
    return Conversion(wanted.percent / held.percent, jar.unit, rule, inputs)


def _same_form(asked: Jar, jar: Jar) -> Conversion:
    assert jar.assay is not None
    factor = solute_per_unit(asked.form, asked.assay) / solute_per_unit(jar.form, jar.assay)
    inputs = (("assay of the jar", f"{jar.assay.percent} % {jar.assay.basis}"),)
    return Conversion(factor, jar.unit, "same form: asked amount ÷ assay of the jar", inputs)


def _active_moles(jar: Jar, other: Jar) -> Decimal:
    if jar.chemical.id == other.chemical.id:
        return Decimal(1)
    if not jar.chemical.active or not other.chemical.active:
        raise ValueFault(f"{jar.chemical.name} does not stand in for {other.chemical.name}: no common ion is recorded")
    if jar.chemical.active.entity != other.chemical.active.entity:
        raise ValueFault(f"{jar.chemical.name} and {other.chemical.name} supply different things")
    return Decimal(jar.chemical.active.moles)


def _inputs(which: str, jar: Jar) -> tuple[tuple[str, str], ...]:
    inputs = [(f"{which}: molar mass of {jar.form.name}", f"{molar_mass(jar.form.formula or '')} g/mol")]
    strength = _strength(jar)
    if strength:
        inputs.append((f"{which}: strength", f"{strength.percent} % {strength.basis}"))
    if jar.form.state == "liquid" and jar.form.density:
        inputs.append((f"{which}: density", f"{plain(jar.form.density)} g/mL"))
    return tuple(inputs)
