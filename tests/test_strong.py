"""Strong acids and alkalis: a stated pH, none, a limit of their own, and what the page, label and JSON say."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest

from hazard_cases import bath, classes, hazards
from reckoner.calc.hazards.composition import compose
from reckoner.calc.mixing.rollup import Need
from reckoner.outputs.export import handbook_json
from reckoner.pages.shared.finding_words import figure, value_words
from reckoner.problems import HandbookError, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.warn import WARNINGS
from small import SOURCE, chemical, formula, load, page_text, results

LAW = "jurisdiction: European Union, edition: a test, status: harmonised"
SOLID = "[{id: solid, name: pellets, formula: NaOH}]"
#: Annex VI, index 011-002-00-6, read.
LYE_LIMITS = (
    "[{hazard: Skin Corr. 1A, h: H314, from: 5 % w/w}, {hazard: Skin Corr. 1B, h: H314, from: 2 % w/w, below: 5 % w/w},"
    " {hazard: Skin Irrit. 2, h: H315, from: 0.5 % w/w, below: 2 % w/w},"
    " {hazard: Eye Irrit. 2, h: H319, from: 0.5 % w/w, below: 2 % w/w}]"
)
LYE = chemical("lye", SOLID, role="alkali").replace(
    "forms:",
    f"strong: alkali\nhazards: [{{forms: [solid], classes: [{{hazard: Skin Corr. 1A, h: H314}}], limits: {LYE_LIMITS},"
    f" {LAW}, {SOURCE}}}]\nforms:",
)
SULFIDE = chemical("sulfide", "[{id: solid, name: flakes, formula: Na2S}]").replace(
    "forms:",
    f"strong: alkali\nhazards: [{{forms: [solid], classes: [{{hazard: Skin Corr. 1B, h: H314}}], {LAW}, {SOURCE}}}]\n"
    "forms:",
)
SODA = chemical("soda", "[{id: solid, name: soda, formula: Na2CO3}]", role="alkali")
PAGE, LABEL, BENCH = "solutions/bath.md", "labels/bath.md", "bench/bath.md"
FILES = {"chemicals/lye.yml": LYE, "chemicals/sulfide.yml": SULFIDE, "chemicals/soda.yml": SODA}
BATH = formula("bath", "[{chemical: lye, form: solid, amount: 4 g}]", "toner")


def line(what: str, grams: str) -> str:
    return f"[{{chemical: {what}, form: solid, amount: {grams} g}}]"


def dilution(of: str, parts: str, more: str = "") -> str:
    return (
        f"id: weak\nname: weak\npurpose: toner\nstrength: working\nmakes: 1 L\ndilution: {parts}\nof: [{of}]\n"
        f"cautions: [wear gloves]\ndisposal: general\n{more}{SOURCE}\n"
    )


def told(files: dict[str, str]) -> dict[str, Severity]:
    """What a build of some solutions says of pH, with its severity."""
    found = results({**FILES, **files})
    return {str(p): p.severity for warn in WARNINGS for p in warn(found) if "pH" in p.message or "ph_" in p.message}


def test_a_strong_ingredient_without_a_ph_is_treated_as_corrosive() -> None:
    files = {"solutions/a/bath.yml": formula("bath", line("sulfide", "6"), "toner")}
    found = results({**FILES, **files})
    hazard = found.formulas["bath"].hazards
    assert (hazard.label.signal, hazard.label.statements) == ("Danger", ("H314",))
    assert hazard.ph_missing == ("sulfide",)
    assert all("pH not stated, treated as corrosive" in page_text(found, path) for path in (PAGE, LABEL))
    (formula_out,) = json.loads(handbook_json(found))["formulas"]
    assert formula_out["hazards"]["ph_not_stated"] == ["sulfide"]
    assert formula_out["hazards"]["findings"][0]["rule"] == "3.2.3.1.2, pH not stated"
    ((message, severity),) = told(files).items()
    assert message.startswith(
        "formulas/solutions/a/bath.yml:7:14: pH not stated, treated as corrosive: sulfide (write ph:"
    )
    assert severity is Severity.WARNING


@pytest.mark.parametrize("ph", ["10", "2.1", "11.4", "9-11.4"])
def test_a_stated_ph_between_the_ends_decides(ph: str) -> None:
    files = {
        "solutions/a/bath.yml": formula(
            "bath", line("sulfide", "6"), "toner", f"ph: {{value: {ph}, certainty: computed}}\n"
        )
    }
    assert "Skin Corr. 1" not in classes(results({**FILES, **files}).formulas["bath"].hazards)
    assert told(files) == {}


@pytest.mark.parametrize("ph", ["2", "11.5", "11.5-12", "10-12", "1.5-3", "14"])
def test_a_stated_ph_at_or_beyond_the_ends_is_corrosive(ph: str) -> None:
    """3.2.3.1.2, read: pH 2 or less, 11.5 or more."""
    files = {
        "solutions/a/bath.yml": formula(
            "bath", line("soda", "6"), "toner", f"ph: {{value: {ph}, certainty: computed}}\n"
        )
    }
    assert {"Skin Corr. 1", "Eye Dam. 1"} <= classes(results({**FILES, **files}).formulas["bath"].hazards)


def test_the_ph_that_a_bath_is_brought_to_is_stated() -> None:
    adjusted = "adjust: {to_ph: 10.2, with: [lye in drops]}\n"
    files = {"solutions/a/bath.yml": formula("bath", line("lye", "1"), "toner", adjusted)}
    assert told(files) == {}
    files = {"solutions/a/bath.yml": formula("bath", line("lye", "1"), "toner", adjusted.replace("10.2", "12"))}
    assert "Skin Corr. 1" in classes(results({**FILES, **files}).formulas["bath"].hazards)


def test_a_weaker_alkali_without_a_ph_says_that_none_is_stated() -> None:
    """A concentrated carbonate can pass pH 11.5 (3.2.3.1.2): no class is made up, and the missing pH is not hidden."""
    soda = SODA.replace(
        "forms:",
        f"hazards: [{{forms: [solid], classes: [{{hazard: Eye Irrit. 2, h: H319}}], {LAW}, {SOURCE}}}]\nforms:",
    )
    words = "pH not stated: soda. Measure it: pH 11.5 or more would be corrosive."
    for grams, ph, said in (
        ("9", "", False),
        ("10", "", True),
        ("600", "", True),
        ("600", "ph: {value: 11, certainty: computed}\n", False),
    ):
        files = {
            **FILES,
            "chemicals/soda.yml": soda,
            "solutions/a/bath.yml": formula("bath", line("soda", grams), "toner", ph),
        }
        found = results(files)
        assert "Skin Corr. 1" not in classes(found.formulas["bath"].hazards)
        assert {words in page_text(found, path) for path in (PAGE, LABEL, BENCH)} == {said}, grams


def test_the_bench_sheet_says_first_that_the_bath_is_corrosive() -> None:
    stated = "ph: {value: 12.5, certainty: computed}\n"
    for ph, why in (("", "pH not stated, treated as corrosive: lye."), (stated, "Corrosive by its pH, 12.5.")):
        found = results({**FILES, "solutions/a/bath.yml": formula("bath", line("lye", "4"), "toner", ph)})
        top = page_text(found, BENCH).partition("Gloves and goggles on")[0]
        assert f"The mixed bath is corrosive: Danger, H314. {why}" in top
    mild = results({**FILES, "solutions/a/bath.yml": formula("bath", line("soda", "4"), "toner")})
    assert "corrosive" not in page_text(mild, BENCH)


def test_the_reason_without_a_ph_compares_with_nothing() -> None:
    """ "Sulfuric acid 3.53 % against a pH" was no sentence."""
    text = page_text(results({**FILES, "solutions/a/bath.yml": formula("bath", line("sulfide", "6"), "toner")}), PAGE)
    assert "sulfide 0.6 %; a stated pH above 2 and below 11.5 would decide otherwise" in text
    assert "against a" not in text


def test_through_stocks_and_dilutions() -> None:
    files = {
        "solutions/a/stock.yml": formula("stock", line("sulfide", "6"), "toner"),
        "solutions/a/weak.yml": dilution("stock", "1+99"),
        "solutions/a/inside.yml": formula("inside", "[{formula: stock, amount: 10 mL}]", "toner"),
    }
    found = results({**FILES, **files}).formulas
    assert {i: found[i].hazards.label.signal for i in found} == dict.fromkeys(("stock", "weak", "inside"), "Danger")
    assert {message.split(":")[0] for message in told(files)} == {f"formulas/{name}" for name in files}


def test_an_alternative_counts_too() -> None:
    either = "[{chemical: soda, form: solid, amount: 6 g, or: [{chemical: lye, form: solid, amount: 2 g}]}]"
    files = {"solutions/a/bath.yml": formula("bath", either, "toner"), "solutions/a/weak.yml": dilution("bath", "1+1")}
    found = results({**FILES, **files}).formulas
    assert found["bath"].hazards.ph_missing == found["weak"].hazards.ph_missing == ("lye",)
    assert found["bath"].hazards.label.signal == "Danger"
    assert "lye if it is taken instead" in value_words(found["bath"].hazards.findings[0], str)


def test_a_reason_takes_the_warning_and_nothing_else() -> None:
    because = "ph_not_stated: nobody ever measured it\n"
    files = {"solutions/a/bath.yml": formula("bath", line("sulfide", "6"), "toner", because)}
    ((message, severity),) = told(files).items()
    assert severity is Severity.NOTE
    assert message.endswith("treated as corrosive: sulfide: nobody ever measured it (write ph: once it is known)")
    found = results({**FILES, **files})
    assert found.formulas["bath"].hazards.label.signal == "Danger"
    assert "nobody ever measured it" in page_text(found, LABEL)


def test_a_reason_without_need_is_said_and_beside_a_ph_it_is_refused() -> None:
    because = "ph_not_stated: nobody ever measured it\n"
    idle = {"solutions/a/bath.yml": formula("bath", line("soda", "6"), "toner", because)}
    ((message, severity),) = told(idle).items()
    assert severity is Severity.WARNING
    assert "no strong acid or alkali" in message
    both = formula("bath", line("lye", "6"), "toner", because + "ph: {value: 10, certainty: computed}\n")
    with pytest.raises(HandbookError, match="ph_not_stated beside a pH"):
        load({**FILES, "solutions/a/bath.yml": both})


#: Grams of hydroxide in a litre, and the class by its own limits (Annex VI, 011-002-00-6; the fact sheet of the Danish
#: EPA on mixtures of extreme pH, read: 0.4 % is not classified by it, 1 % irritates).
BY_ITS_LIMITS = [
    ("4", set()),
    ("4.9", set()),
    ("5", {"H315", "H319"}),
    ("19.9", {"H315", "H319"}),
    ("20", {"H314", "H318"}),
]


@pytest.mark.parametrize("ph", ["", "ph: {value: 12.5, certainty: computed}\n"])
@pytest.mark.parametrize(("grams", "statements"), BY_ITS_LIMITS)
def test_the_class_by_its_own_limit_is_said_and_never_stands_alone(grams: str, statements: set[str], ph: str) -> None:
    found = results({**FILES, "solutions/a/bath.yml": formula("bath", line("lye", grams), "toner", ph)})
    own = found.formulas["bath"].hazards.own_limit
    assert own is not None
    assert {finding.h for finding in own.findings} == statements
    assert found.formulas["bath"].hazards.label.signal == "Danger"
    for path in (PAGE, LABEL):
        text = page_text(found, path)
        # Why it is corrosive stands first; what its share alone would come to follows and takes nothing away.
        stated = "Corrosive by its pH, 12.5." if path == LABEL else "extreme pH"
        reason = stated if ph else "treated as corrosive"
        alone = text.index("The share of lye alone (")
        assert text.index(reason) < alone
        assert ("corrodes too." if "H314" in statements else ": the pH decides.") in text[alone:]
        assert ("would give no class: the pH decides." in text) == (not statements)
    (formula_out,) = json.loads(handbook_json(found))["formulas"]
    assert {one["statement"] for one in formula_out["hazards"]["by_own_limit"]["findings"]} == statements


def test_two_corrosives_or_one_without_a_limit_have_no_class_of_their_own() -> None:
    both = "[{chemical: lye, form: solid, amount: 1 g}, {chemical: sulfide, form: solid, amount: 1 g}]"
    for lines in (both, line("sulfide", "6")):
        found = results({**FILES, "solutions/a/bath.yml": formula("bath", lines, "toner")})
        assert found.formulas["bath"].hazards.own_limit is None


def test_a_strong_jar_below_its_limit_says_how_to_treat_it() -> None:
    """One per cent of hydroxide irritates by Annex VI (0.5 to 2 %); its pH is about 13."""
    weak = "{id: weak, name: weak lye, formula: NaOH, state: liquid, strength: 1 % w/w, density: 1.01 g/mL}"
    jars = LYE.replace(SOLID, f"[{{id: solid, name: pellets, formula: NaOH}}, {weak}]").replace(
        "forms: [solid]", "forms: [solid, weak]"
    )
    text = page_text(results({"chemicals/lye.yml": jars, "solutions/a/bath.yml": BATH}), "chemicals/lye.md")
    assert text.count("pH above 11.5: treat as corrosive.") == 1


def test_only_a_corrosive_strong_acid_is_not_additive() -> None:
    """Tables 3.2.4 and 3.3.4 at 1 %: an acid of extreme pH that damages the eye alone does not corrode skin by them."""
    damages = hazards("Eye Dam. 1 H318")
    assert classes(bath(("1", damages), ph="4", strong={"p0": "acid"})) == {"Eye Dam. 1"}
    assert classes(bath(("0.99", damages), ph="4", strong={"p0": "acid"})) == set()
    corrodes = hazards("Skin Corr. 1B H314")
    assert classes(bath(("1", corrodes), ph="4", strong={"p0": "acid"})) == {"Skin Corr. 1", "Eye Dam. 1"}
    assert classes(bath(("0.99", corrodes), ph="4", strong={"p0": "acid"})) == set()


# Masses and figures

SPIRIT = chemical(
    "spirit", "[{id: pure, name: spirit, state: liquid, density: 0.79 g/mL, formula: C2H6O, strength: 96 % w/w}]"
)


def test_a_bath_of_alcohol_weighs_less_than_water() -> None:
    """900 mL of 0.79 g/mL and 100 mL of water weigh 811 g: 8.11 g in it are 1 %, not 0.81 %."""
    known = load({**FILES, "chemicals/spirit.yml": SPIRIT}).chemicals
    needs = [Need("spirit", "pure", Decimal(900), "mL"), Need("lye", "solid", Decimal("8.11"), "g")]
    made = compose(needs, known, None)
    assert made.mass == Decimal(811)
    assert {part.chemical: part.percent for part in made.substances}["lye"] == Decimal(1)
    assert made.mass_rule == "lighter liquids"
    # Never less than what goes in, and a recorded density stands before it.
    assert compose([*needs, Need("soda", "solid", Decimal(300), "g")], known, None).mass == Decimal("1019.11")
    assert compose(needs, known, Decimal("0.84")).mass == Decimal(840)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("0.125", "0.125"),
        ("1.125", "1.13"),
        ("1.135", "1.14"),
        ("0.00005", "0.00005"),
        ("0.00004", "0.00004"),
        ("0.0000123456", "0.000012"),
        ("0.00125", "0.0013"),
        ("0", "0"),
        ("20", "20"),
    ],
)
def test_figures_are_rounded_half_up_and_never_nothing(value: str, text: str) -> None:
    assert figure(Decimal(value)) == text


def test_chromate_is_counted_from_the_record(demo: Catalogue) -> None:
    """Two CrO4 (115.99) of one K2Cr2O7 (294.18), from atomic weights: 78.86 %."""
    made = compose([Need("potassium-dichromate", "crystals", Decimal(100), "g")], demo.chemicals, None)
    (part,) = made.substances
    assert abs(part.limited - Decimal("7.886")) < Decimal("0.001")
    assert part.percent == Decimal(10)
