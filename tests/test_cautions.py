"""Cautions of the trade: each stands where it matters, and only there."""

from __future__ import annotations

import re

import pytest

from reckoner.calc.hazards.cautions import CONDITIONS
from reckoner.calc.results import Results
from reckoner.records.caution import Caution
from site_build import Site
from small import SOURCE, chemical, formula, page_text, process, results, supplier


def on_the_line(results: Results, formula_id: str, chemical_id: str) -> str:
    """The cautions at an ingredient's line, joined."""
    result = results.formulas[formula_id]
    index = next(i for i, item in enumerate(result.formula.ingredients) if item.chemical == chemical_id)
    return " ".join(caution.text for caution in result.cautions.ingredients[index, 0])


SOUR = chemical("sour", "[{id: solid, name: sour, formula: C6H8O7}]", role="acid")
BASE = chemical("base", "[{id: solid, name: base, formula: Na2CO3}]", role="alkali")
TABLES = {
    "chemicals/sour.yml": SOUR,
    "chemicals/base.yml": BASE,
    "incompatibilities.yml": (
        "groups: [{id: bases, name: bases, chemicals: [base]}, {id: sours, name: sours, chemicals: [sour]}]\n"
        "pairs: [{groups: [bases, sours], result: foam, severity: caution, certainty: common practice}]\n"
        f"{SOURCE}\n"
    ),
    "cautions.yml": (
        "cautions:\n"
        "  - {text: An acid., at: label, chemicals: [sour], acid_against: [bases], certainty: common practice}\n"
        f"{SOURCE}\n"
    ),
}


@pytest.mark.parametrize(
    ("sour", "base", "ph", "said"),
    [
        ("19.2", "0", "", True),
        ("19.2", "10.5", "", True),
        ("19.2", "10.7", "", False),
        ("0.1", "6", "", False),
        ("0.1", "6", "5.9", True),
        ("19.2", "0", "6", False),
        ("19.2", "0", "6.5", False),
        ("19.2", "0", "7", False),
        ("19.2", "0", "5.5-6.5", True),
    ],
)
def test_an_acid_is_what_is_acid(sour: str, base: str, ph: str, said: bool) -> None:
    """By its stated pH, else by moles: 0.1 mol of citric acid (192.12 g/mol) beside soda (105.99 g/mol)."""
    lines = [f"{{chemical: sour, form: solid, amount: {sour} g}}"]
    lines += [f"{{chemical: base, form: solid, amount: {base} g}}"] if base != "0" else []
    stated = f"ph: {{value: {ph}, certainty: computed}}\n" if ph else ""
    files = {**TABLES, "solutions/bath.yml": formula("bath", f"[{', '.join(lines)}]", more=stated)}
    assert ("An acid." in page_text(results(files), "labels/bath.md")) == said


#: (formula, ingredient, words of the caution): the usual cautions of the trade; common practice, and for the order of
#: acid, sulfite and thiosulfate The Darkroom Cookbook, 3rd ed., pp. 171 and 268.
LINES = [
    ("ecn2-developer-home", "cd-3", "Gloves on before the jar is opened"),
    ("c41-developer", "cd-4", "Gloves on before the jar is opened"),
    ("bw-mq-borax", "metol", "can sensitise the skin"),
    ("ecn2-stop", "sulfuric-acid", "Acid into water"),
    ("ecn2-bleach", "potassium-ferricyanide", "No acid near it"),
]


@pytest.mark.parametrize(("formula_id", "chemical_id", "words"), LINES)
def test_a_caution_stands_on_its_line(demo_results: Results, formula_id: str, chemical_id: str, words: str) -> None:
    assert words in on_the_line(demo_results, formula_id, chemical_id)


def test_every_acid_hydroxide_sulfite_and_thiosulfate_line_of_the_demo_has_its_caution(demo_results: Results) -> None:
    """Whatever formula holds them."""
    wanted = {
        "sulfuric-acid": "Acid into water",
        "acetic-acid": "Acid into water",
        "sodium-hydroxide": "Into cold water",
        "potassium-hydroxide": "Into cold water",
        "sodium-thiosulfate": "No acid until the sulfite",
        "ammonium-thiosulfate": "No acid until the sulfite",
        "potassium-ferricyanide": "No acid near it",
        "cd-3": "Gloves on before",
        "cd-4": "Gloves on before",
        "sodium-persulfate": "Keep it off paper",
        "potassium-dichromate": "Keep it off paper",
    }
    seen = set()
    for result in demo_results.formulas.values():
        for index, item in enumerate(result.formula.ingredients):
            if item.chemical in wanted:
                seen.add(item.chemical)
                said = " ".join(caution.text for caution in result.cautions.ingredients[index, 0])
                assert wanted[item.chemical] in said, (result.formula.id, item.chemical)
    assert seen == set(wanted)


def test_sulfite_is_warned_of_beside_acid_only(demo_results: Results) -> None:
    """An acid fixer holds both; a developer with carbonate holds no acid."""
    acid = [r for r in demo_results.formulas.values() if _holds(r, "sodium-sulfite") and _holds(r, "acetic-acid")]
    alkaline = demo_results.formulas["bw-mq-borax"].formula.id
    assert acid
    for result in acid:
        assert "sulfur dioxide" in on_the_line(demo_results, result.formula.id, "sodium-sulfite")
    assert "sulfur dioxide" not in on_the_line(demo_results, alkaline, "sodium-sulfite")


def _holds(result: object, chemical_id: str) -> bool:
    return any(item.chemical == chemical_id for item in result.formula.ingredients)  # type: ignore[attr-defined]


def test_ventilation_vessels_and_pets_stand_on_every_formula(demo_results: Results) -> None:
    for result in demo_results.formulas.values():
        said = " ".join(caution.text for caution in result.cautions.before)
        for words in ("window", "kitchen", "pets"):
            assert words in said, (result.formula.id, words)


def test_pregnancy_stands_where_a_jar_says_h360(demo_results: Results) -> None:
    prebath = " ".join(c.text for c in demo_results.formulas["ecn2-prebath"].cautions.before)
    assert "Pregnant" in prebath
    plain = " ".join(c.text for c in demo_results.formulas["stop-citric"].cautions.before)
    assert "Pregnant" not in plain


def test_a_persulfate_bottle_may_burst(demo_results: Results) -> None:
    found = [r for r in demo_results.formulas.values() if _holds(r, "sodium-persulfate")]
    assert found
    for result in found:
        assert "burst" in " ".join(caution.text for caution in result.cautions.keeping)


def test_lighter_gas_is_named_beside_developers_only(demo_results: Results) -> None:
    seen = set()
    for result in demo_results.formulas.values():
        said = " ".join(caution.text for caution in result.cautions.keeping)
        roles = {demo_results.catalogue.chemicals[need.chemical].role for need in result.needs}
        oxidises = "developer" in result.formula.purpose and bool(
            roles & {"developing agent", "colour developing agent"}
        )
        assert ("flammable" in said) == oxidises, result.formula.id
        seen.add((result.formula.id, oxidises))
    # A lye that is a developer's second part does not oxidise: nobody puts gas over it.
    assert {("bw-caustic-contrast-a", True), ("bw-caustic-contrast-b", False), ("bw-p-aminophenol-b", False)} <= seen


def test_carbon_dioxide_where_an_acid_stop_follows_a_carbonate_developer(demo_results: Results) -> None:
    """At the stop's step, not at the developer's, and not where a wash stands between."""
    process = demo_results.catalogue.processes["motion-picture-colour-negative"]
    by_name = {
        step.name: " ".join(c.text for c in said)
        for step, said in zip(process.steps, demo_results.step_cautions[process.id], strict=True)
    }
    assert [name for name, said in by_name.items() if "carbon dioxide" in said] == ["Stop"]
    assert any("sulfur dioxide and scalds" in said for said in by_name.values())
    assert any("residual-current" in said for said in by_name.values())


def test_an_alternative_has_its_own_cautions_and_the_asked_jar_not_those_of_it() -> None:
    """DTPA in solution is no H318 jar, the tetrasodium EDTA that may be taken instead is one."""
    record = "hazards: [{forms: [solid], classes: [{hazard: Eye Dam. 1, h: H318}], jurisdiction: GB, edition: a table,"
    burns = "{text: Burns., at: ingredient, statements: [H318], certainty: common practice}"
    dusty = "{text: Dust., at: ingredient, certainty: common practice}"
    found = results(
        {
            "chemicals/mild.yml": chemical("mild", "[{id: solid, name: solid}]"),
            "chemicals/sharp.yml": chemical("sharp", "[{id: solid, name: solid}]")
            + f"{record} status: harmonised, {SOURCE}}}]\n",
            "solutions/bath.yml": formula(
                "bath",
                "[{chemical: mild, form: solid, amount: 2 g, or: [{chemical: sharp, form: solid, amount: 3 g}]}]",
            ),
            "cautions.yml": f"cautions: [{burns}, {dusty}]\n{SOURCE}\n",
        }
    )
    page = page_text(found, "bench/bath.md")
    above = re.findall(r'<p class="bs-care">(\w+)\.</p>|bs-name">(?:<em>.*?</em> )?(mild|sharp)', page)
    # Two batch sizes.
    assert above == [("Dust", ""), ("", "mild"), ("Burns", ""), ("", "sharp")] * 2


def test_a_step_is_cautioned_by_the_statements_of_its_bath() -> None:
    record = "hazards: [{forms: [solid], classes: [{hazard: Eye Dam. 1, h: H318}], jurisdiction: GB, edition: a table,"
    burns = "{text: Burns., at: process step, statements: [H318], certainty: common practice}"
    found = results(
        {
            "chemicals/mild.yml": chemical("mild", "[{id: solid, name: solid}]"),
            "chemicals/sharp.yml": chemical("sharp", "[{id: solid, name: solid}]")
            + f"{record} status: harmonised, {SOURCE}}}]\n",
            "solutions/one.yml": formula("one", "[{chemical: mild, form: solid, amount: 2 g}]"),
            "solutions/two.yml": formula("two", "[{chemical: sharp, form: solid, amount: 2 g}]"),
            "processes/pr.yml": process("one", "two"),
            "cautions.yml": f"cautions: [{burns}]\n{SOURCE}\n",
        }
    ).step_cautions["pr"]
    assert [[caution.text for caution in step] for step in found] == [[], ["Burns."]]


def test_a_list_of_what_must_never_meet_says_stop() -> None:
    pair = "{groups: [acids, sulfides], result: Hydrogen sulfide., severity: danger, certainty: common practice}"
    groups = "groups: [{id: acids, name: acids, chemicals: [acid]}, {id: sulfides, name: s, chemicals: [sulfide]}]"
    both = "[{chemical: acid, form: solid, amount: 1 g}, {chemical: sulfide, form: solid, amount: 1 g}]"
    files = {
        "chemicals/acid.yml": chemical("acid", "[{id: solid, name: solid}]"),
        "chemicals/sulfide.yml": chemical("sulfide", "[{id: solid, name: solid}]"),
        "solutions/bath.yml": formula("bath", both),
        "incompatibilities.yml": f"{groups}\npairs: [{pair}]\n{SOURCE}\n",
    }
    for path in ("bench/bath.md", "solutions/bath.md"):
        assert page_text(results(files), path).count("acid and sulfide must not meet in one vessel.") == 2, path
        apart = {**files, "solutions/bath.yml": formula("bath", both[: both.index(", {")] + "]")}
        assert "in one vessel" not in page_text(results(apart), path)


def test_what_is_about_no_bath_is_said_at_the_first_step_only() -> None:
    """And what is about what a bath holds, at every step where it holds."""
    general = "{text: Mains., at: process step, certainty: common practice}"
    about = "{text: Salt., at: process step, chemicals: [salt], certainty: common practice}"
    bath = "[{chemical: salt, form: solid, amount: 10 g}]"
    found = results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid}]"),
            "solutions/one.yml": formula("one", bath),
            "solutions/two.yml": formula("two", bath),
            "processes/pr.yml": process("one", "two"),
            "cautions.yml": f"cautions: [{general}, {about}]\n{SOURCE}\n",
        }
    ).step_cautions["pr"]
    assert [[caution.text for caution in step] for step in found] == [["Mains.", "Salt."], ["Salt."]]


@pytest.mark.parametrize(("kind", "said"), [("colour negative", True), ("paper", False)])
def test_a_caution_for_some_kinds_of_process_is_said_there_only(kind: str, said: bool) -> None:
    bath = formula("one", "[{chemical: salt, form: solid, amount: 10 g}]")
    shut = "{text: Mind the tank., at: process step, kinds: [colour negative], certainty: common practice}"
    whole = process("one")
    assert "kind: colour negative" in whole
    made = results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid}]"),
            "solutions/one.yml": bath,
            "processes/pr.yml": whole.replace("kind: colour negative", f"kind: {kind}"),
            "cautions.yml": f"cautions: [{shut}]\n{SOURCE}\n",
        }
    )
    assert ([caution.text for caution in made.step_cautions["pr"][0]] == ["Mind the tank."]) is said
    assert ("tank shut: the clock" in page_text(made, "processes/pr.md")) is said


def test_a_caution_of_no_condition_is_always_said_and_each_condition_can_fail() -> None:
    """Guards the tuple of conditions: a field of the record without a condition would never be looked at."""
    fields = {"text", "at", "certainty", "citation"}
    about = {"chemicals", "groups", "roles", "statements"}
    others = {"forms", "state", "beside", "purposes", "warmer", "acid_against", "after", "unless", "kinds"}
    assert set(Caution.model_fields) - fields - about == others
    assert len(CONDITIONS) == 1 + len(others)


def test_the_jar_that_was_bought_has_its_cautions_too() -> None:
    """The formula asks for the anhydrous salt; the shop has crystals only, and it is the crystals that dust."""
    forms = "[{id: dry, name: dry, formula: Na2SO3}, {id: crystals, name: crystals, formula: Na2SO3.7H2O}]"
    said = "{text: Mind it., at: ingredient, chemicals: [salt], forms: [crystals], certainty: common practice}"
    files = {
        "chemicals/salt.yml": chemical("salt", forms),
        "solutions/bath.yml": formula("bath", "[{chemical: salt, form: dry, amount: 10 g}]"),
        "cautions.yml": f"cautions: [{said}]\n{SOURCE}\n",
    }
    assert results(files).formulas["bath"].cautions.ingredients == {(0, 0): ()}
    offers = "date: 2026-11-01\noffers: [{chemical: salt, form: crystals, pack: 1 kg, price: 10.00 EUR}]\n"
    sold = {"prices/shop/supplier.yml": supplier(), "prices/shop/2026-11-01.yml": offers}
    found = results({**files, **sold}).formulas["bath"].cautions.ingredients
    assert [caution.text for caution in found[0, 0]] == ["Mind it."]


def test_what_burns_is_not_said_to_irritate_as_well(demo_results: Results) -> None:
    """A jar of H318 needs no second sentence for H319, nor does one that may be taken instead on the same line."""
    by_line: dict[tuple[str, int], set[str]] = {}
    for result in demo_results.formulas.values():
        for (index, _), said in result.cautions.ingredients.items():
            by_line.setdefault((result.formula.id, index), set()).update(caution.text for caution in said)
    lines = list(by_line.values())
    burns, irritates = "Goggles on: it burns or blinds.", "Goggles on: it irritates the eyes."
    assert any(burns in line for line in lines)
    assert any(irritates in line for line in lines)
    assert not any(burns in line and irritates in line for line in lines)


def test_the_page_shows_the_caution_in_the_weighing_list(site: Site) -> None:
    page = site.page("solutions/ecn2-developer-home")
    assert '<tr class="hb-caution"><td colspan="2">Gloves on before the jar is opened' in page
    process = site.page("processes/motion-picture-colour-negative")
    assert '<p class="hb-caution">Carbonate in the film meets acid here' in process
