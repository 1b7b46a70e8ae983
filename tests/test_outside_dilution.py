"""Dilution, percent and strength against textbook worked examples and published mixing tables."""

from __future__ import annotations

from decimal import Decimal

import pytest

from outside import decimals, figures
from reckoner.calc.mixing.dilution import part_volumes
from reckoner.calc.mixing.molar import molar_mass, moles_per_unit, solute_per_unit
from reckoner.calc.mixing.scaling import litre_list, scale
from reckoner.calc.mixing.substitution import Jar, convert
from reckoner.problems import ValueFault
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Chemical, Form
from reckoner.records.values import parse_dilution, parse_strength
from reckoner.units import parse_amount
from small import SETTINGS, chemical, formula, load

D = Decimal
CHEMICAL = Chemical(
    id="salt",
    name="salt",
    use="a test",
    role="other",
    forms=({"id": "solid", "name": "solid"},),
    source={"certainty": "common practice", "checked": "2026-11-25"},
)

#: OpenStax Chemistry 2e, "Molarity": worked examples and check-your-learning answers; text read. Each is read as: how
#: much stock makes a volume of wanted strength. (stock, wanted, volume made, stock printed, figures)
DILUTED = [
    ("5.00", "2.36", "1.80", "0.850", 3),
    ("2.04", "0.102", "500.0", "25.0", 3),
    ("0.45", "0.12", "41", "11", 2),
    ("1.88", "0.125", "3.76", "0.250", 3),
    ("1.59", "0.100", "5.00", "0.314", 3),
    ("3.00", "0.575", "0.261", "0.0500", 3),
]


def solution(strength: str, basis: str = "w/v") -> Jar:
    told = f"{strength} % {basis}"
    form = Form(
        id=f"of-{strength}", name="solution", state="liquid", formula="NaCl", strength=told, density="1.05 g/mL"
    )
    return Jar(CHEMICAL, form)


@pytest.mark.parametrize(("stock", "wanted", "volume", "printed", "count"), DILUTED)
def test_textbook_dilutions(stock: str, wanted: str, volume: str, printed: str, count: int) -> None:
    """C1 V1 = C2 V2 is what a jar of another strength is converted by; the concentrations' unit falls out."""
    assert figures(convert(solution(wanted), solution(stock)).factor * D(volume), count) == D(printed)


def test_11_ml_diluted_is_41_and_a_quarter() -> None:
    """The exact answer is 41.25 mL; the book shows two figures."""
    factor = convert(solution("0.12"), solution("0.45")).factor
    assert abs(factor * D("41.25") - 11) < D("1e-20")


#: OpenStax Chemistry 2e, "Other Units for Solution Concentrations"; text read.
#: (mL, density, % by mass, grams printed, figures). The glucose and the salt water are weighed, so their density is 1;
#: 15 parts in 10^9 are 0.0000015 %. Its two examples in % by volume need the density of the pure solute: see below.
BY_MASS = [
    ("500", "1.19", "37.2", "221", 3),
    ("5.0", "1.00", "0.075", "0.00375", 3),
    ("910", "1.00", "14.8", "135", 3),
    ("300", "1.00", "0.0000015", "0.0000045", 2),
]


@pytest.mark.parametrize(("volume", "density", "percent", "printed", "count"), BY_MASS)
def test_solute_in_a_commercial_acid(volume: str, density: str, percent: str, printed: str, count: int) -> None:
    form = Form(id="a", name="acid", state="liquid", strength=f"{percent} % w/w", density=f"{density} g/mL")
    assert figures(solute_per_unit(form) * D(volume), count) == D(printed)


def test_a_strength_by_volume_does_not_tell_a_mass() -> None:
    with pytest.raises(ValueFault, match="v/v"):
        solute_per_unit(Form(id="a", name="alcohol", state="liquid", strength="70 % v/v", density="0.87 g/mL"))


@pytest.mark.parametrize("formula", ["C2H4O2", None])
def test_28_per_cent_by_volume_from_99_and_a_half(formula: str | None) -> None:
    """281.4 mL and water to make a litre: C1 V1 = C2 V2 in volumes (the cross rule; 99.6 % is printed as 281 below)."""
    asked, at_hand = (
        Form(id=name, name=name, state="liquid", formula=formula, strength=f"{percent} % v/v")
        for name, percent in (("vinegar", "28"), ("glacial", "99.5"))
    )
    acid = CHEMICAL.model_copy(update={"forms": (asked, at_hand)})
    assert decimals(convert(Jar(acid, asked), Jar(acid, at_hand)).factor * 1000, 1) == D("281.4")
    assert convert(Jar(acid, asked), Jar(acid, asked, parse_strength("14 % v/v"))).factor == 2
    assert convert(Jar(acid, asked), Jar(acid, asked)).factor == 1


@pytest.mark.parametrize("basis", ["w/w", "w/v"])
def test_by_volume_converts_to_no_other_basis_and_to_no_other_substance(basis: str) -> None:
    salt, other = solution("28", "v/v"), solution("99.5", basis)
    with pytest.raises(ValueFault, match="v/v"):
        convert(salt, other)
    with pytest.raises(ValueFault, match="v/v"):
        convert(other, salt)
    with pytest.raises(ValueFault):
        convert(salt, Jar(CHEMICAL.model_copy(update={"id": "pepper"}), solution("99.5", "v/v").form))


def test_volume_of_a_commercial_acid_for_a_mass() -> None:
    """OpenStax Chemistry 2e: 125 g of HCl are in 282 mL of 37.2 %, 1.19 g/mL."""
    form = Form(id="a", name="acid", state="liquid", strength="37.2 % w/w", density="1.19 g/mL")
    assert figures(D(125) / solute_per_unit(form), 3) == D(282)


#: OpenStax Chemistry 2e: (formula, L, mol/L, grams printed).
MOLAR = [
    ("NaCl", "0.250", "5.30", "77.4"),
    ("CaCl2", "0.2500", "0.200", "5.55"),
    ("KBr", "0.370", "1.50", "66.0"),
    ("C2H4O2", "0.500", "0.839", "25.2"),
    ("C2H4O2", "1.50", "0.839", "75.6"),
]


@pytest.mark.parametrize(("compound", "litres", "molarity", "printed"), MOLAR)
def test_grams_for_a_molarity(compound: str, litres: str, molarity: str, printed: str) -> None:
    form = Form(id="s", name="solid", formula=compound)
    assert figures(D(litres) * D(molarity) / moles_per_unit(form), 3) == D(printed)


#: Molar masses that the same worked examples print.
PRINTED_MASSES = [("NaCl", "58.44", 2), ("CaCl2", "110.98", 2), ("KBr", "119.00", 2), ("C2H4O2", "60.052", 3)]


@pytest.mark.parametrize(("compound", "printed", "places"), PRINTED_MASSES)
def test_molar_masses_of_the_textbook(compound: str, printed: str, places: int) -> None:
    assert decimals(molar_mass(compound), places) == D(printed)


def test_a_molar_mass_that_the_textbook_misprints() -> None:
    """For CoCl2 it prints 128.9 g/mol and reckons 6.52 g in 75.0 mL to 0.674 mol/L; the compound has 129.84."""
    assert decimals(molar_mass("CoCl2"), 2) == D("129.84")
    form = Form(id="s", name="solid", formula="CoCl2")
    assert figures(D("6.52") * moles_per_unit(form) / D("0.0750"), 3) < D("0.674")


#: Definitions of trade usage, from memory; 10 mL + 500 mL is a published instance of 1+50, read.
PARTS = [
    ("1+9", 1000, ["100", "900"]),
    ("1+50", 510, ["10", "500"]),
    ("1+50", 1000, ["19.608", "980.392"]),
    ("1+1+100", 1000, ["9.804", "9.804", "980.392"]),
    ("1+2", 1000, ["333.333", "666.667"]),
    ("1+4", 1000, ["200", "800"]),
    ("1+8", 900, ["100", "800"]),
]


@pytest.mark.parametrize(("parts", "total", "printed"), PARTS)
def test_parts(parts: str, total: int, printed: list[str]) -> None:
    found = part_volumes(parse_dilution(parts), D(total))
    assert [decimals(volume, 3) for volume in found] == [D(volume) for volume in printed]
    assert abs(sum(found) - total) < D("1e-20")


def test_a_colon_is_refused_because_it_is_read_two_ways() -> None:
    """1:9 is one part and nine to most makers, one part in nine to some laboratories."""
    with pytest.raises(ValueFault, match=r"write 1\+9"):
        parse_dilution("1:9")


def test_chained_dilutions_multiply() -> None:
    """1+9 of a 1+4 is 1 in 50: common practice."""
    assert parse_dilution("1+9").total * parse_dilution("1+4").total == parse_dilution("1+49").total


def test_a_photographic_percent_is_weight_in_volume() -> None:
    """10 % is 10 g made up to 100 mL (German photographic textbook definition, read), not 10 g and 100 mL."""
    form = Form(id="s", name="stock", state="liquid", strength="10 % w/v", formula="KBr")
    assert solute_per_unit(form) * 100 == 10


def test_the_3_and_8_rule_makes_27_per_cent_not_28() -> None:
    """Three parts glacial 99.5 % and eight of water: The Darkroom Cookbook, 3rd ed., formula 121, note."""
    acid, _ = part_volumes(parse_dilution("3+8"), parse_strength("99.5 % v/v").percent)
    assert decimals(acid, 1) == D("27.1")


#: Cross rule, V × wanted ÷ at hand: (% at hand, % wanted, volume made, volume printed, places). Army text SS0513, read:
#: 9.0 fl oz of 99.5 % acid to 32 fl oz; the others are computed.
CROSSED = [("99.5", "28", "32", "9.0", 1), ("99.6", "28", "1000", "281", 0), ("5", "1", "100", "20", 0)]


@pytest.mark.parametrize(("at_hand", "wanted", "volume", "printed", "places"), CROSSED)
def test_the_cross_rule(at_hand: str, wanted: str, volume: str, printed: str, places: int) -> None:
    assert decimals(convert(solution(wanted), solution(at_hand)).factor * D(volume), places) == D(printed)


def test_a_grain_to_ten_minims_is_no_ten_per_cent() -> None:
    """437.5 grains made to 4375 minims is called 10 % in an old dictionary (read); weight in volume it is 10.9 %."""
    grams, made = parse_amount("437.5 grain").base, parse_amount("4375 imp_minim").base
    assert decimals(grams / made * 100, 1) == D("10.9")


#: Grams of the compound in a volume or weight of the catalogue's solutions and flakes. Formaldehyde and thiosulfate
#: from memory; sulfite and sulfide from an amateur circular on colour chemistry, text read.
#: (chemical, form, mL or g, least, most)
STRONG = [
    ("formaldehyde", "solution-37", "10", "3.9", "4.1"),
    ("ammonium-thiosulfate", "solution-60", "1000", "790", "800"),
    ("potassium-sulfite", "solution-45", "100", "65.15", "65.25"),
    ("sodium-sulfide", "flake-60", "100", "60", "60"),
]


@pytest.mark.parametrize(("chemical_id", "form_id", "amount", "least", "most"), STRONG)
def test_what_bought_solutions_hold(
    demo: Catalogue, chemical_id: str, form_id: str, amount: str, least: str, most: str
) -> None:
    form = demo.chemicals[chemical_id].form(form_id)
    assert form is not None
    assert D(least) <= solute_per_unit(form) * D(amount) <= D(most)


def test_seven_normal_sulfuric_acid_from_concentrated() -> None:
    """7.0 N takes about 196 mL of 95-96 % acid of 1.84 g/mL to the litre; 50 mL of it hold 0.175 mol (trade usage)."""
    acid = Form(id="c", name="acid", state="liquid", formula="H2SO4", strength="96 % w/w", density="1.84 g/mL")
    normal = D("7.0") / 2
    assert abs(normal / moles_per_unit(acid) - 196) < 3


#: Technical sheet TI2443 (revised 01-00), Process E-6 single-use mixing table, text read: mL per litre, batch, printed,
#: step of the table. Halves go up: 8.75 to 8.8, 71.25 to 71.3.
TI2443 = [
    ("200", "350 mL", "70.0", "0.1 mL"),
    ("25", "350 mL", "8.8", "0.1 mL"),
    ("25", "5 L", "125.0", "0.1 mL"),
    ("142.5", "350 mL", "50", "1 mL"),
    ("142.5", "500 mL", "71.3", "0.1 mL"),
    ("600", "350 mL", "210.0", "0.1 mL"),
]


@pytest.mark.parametrize(("per_litre", "batch", "printed", "step"), TI2443)
def test_published_mixing_table(per_litre: str, batch: str, printed: str, step: str) -> None:
    tools = SETTINGS[: SETTINGS.index("cylinders:")] + f"cylinders: [{{name: one, step: {step}, capacity: 5 L}}]\n"
    settings = tools + SETTINGS[SETTINGS.index("age_limits:") :]
    catalogue = load(
        {
            "settings.yml": settings,
            "chemicals/part.yml": chemical("part", "[{id: liquid, name: concentrate, state: liquid}]"),
            "solutions/a/bath.yml": formula("bath", f"[{{chemical: part, form: liquid, amount: {per_litre} mL}}]"),
        }
    )
    table = scale(litre_list(catalogue.formulas["bath"], catalogue.chemicals), parse_amount(batch), catalogue.settings)
    assert table.rows[0].measured.rounded == D(printed)


def test_a_copy_with_other_forms_knows_those() -> None:
    """Nothing remembered of the first stands in the way."""
    assert CHEMICAL.form("solid")
    copy = CHEMICAL.model_copy(update={"forms": (solution("28", "v/v").form,)})
    assert copy.form("of-28")
    assert copy.form("solid") is None
