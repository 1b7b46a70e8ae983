"""Goggles, gloves, dust and vapour: at each jar's line, on each formula's page, by the jar that is opened."""

from __future__ import annotations

import re

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.jar import jar_label
from reckoner.calc.results import Results
from reckoner.records.chemical import Form
from site_build import Site


def said_at(result: FormulaResult, line: int) -> str:
    """The cautions of whatever may be taken at a line."""
    cautions = result.cautions.ingredients.items()
    return " ".join(caution.text for (index, _), said in cautions if index == line for caution in said)


def forms_at(result: FormulaResult, results: Results, line: int) -> set[tuple[str, str]]:
    """The jars that the weighing table offers at a line: as asked, as bought, and the alternatives."""
    rows = [row for row in result.batches[0].rows if row.row.line.index == line]
    asked = {(row.row.line.chemical, row.row.line.form) for row in rows if row.row.line.chemical and row.row.line.form}
    bought = {(row.jar.jar.chemical.id, row.jar.jar.form.id) for row in rows if row.jar}
    return {(str(c), str(f)) for c, f in asked | bought}


def form_of(results: Results, jar: tuple[str, str]) -> Form:
    form = results.catalogue.chemicals[jar[0]].form(jar[1])
    assert form is not None
    return form


def statements(results: Results, jar: tuple[str, str]) -> set[str]:
    chemical = results.catalogue.chemicals[jar[0]]
    record = chemical.hazards_of(jar[1])
    return set(jar_label(chemical, form_of(results, jar), record).statements) if record else set()


def test_every_jar_that_harms_eyes_says_goggles_at_its_line(demo_results: Results) -> None:
    """P280 stands for H314, H318 and H319 (CLP, Annex I, tables 3.2.5 and 3.3.5, from memory)."""
    seen: set[str] = set()
    for result in demo_results.formulas.values():
        for line, _ in enumerate(result.formula.ingredients):
            for jar in forms_at(result, demo_results, line):
                found = statements(demo_results, jar) & {"H314", "H318", "H319"}
                seen |= found
                if found:
                    assert "goggles" in said_at(result, line).lower(), (result.formula.id, jar)
    assert seen == {"H314", "H318", "H319"}


def test_a_carcinogen_says_so_at_its_line(demo_results: Results) -> None:
    dichromate = demo_results.formulas["bleach-dichromate"]
    line = next(i for i, one in enumerate(dichromate.formula.ingredients) if one.chemical == "potassium-dichromate")
    assert "cancer" in said_at(dichromate, line)
    assert "Goggles" in said_at(dichromate, line)


def test_no_liquid_is_said_to_make_dust(demo_results: Results, site: Site) -> None:
    seen = 0
    for result in demo_results.formulas.values():
        for line, _ in enumerate(result.formula.ingredients):
            jars = forms_at(result, demo_results, line)
            if jars and all(form_of(demo_results, jar).state == "liquid" for jar in jars):
                seen += 1
                assert "no dust" not in said_at(result, line).lower(), (result.formula.id, jars)
    assert seen > 30
    for chemical in demo_results.catalogue.chemicals.values():
        if all(form.state == "liquid" for form in chemical.forms):
            assert not re.search(r"\bdust\b(?! mask does nothing)", " ".join(chemical.cautions)), chemical.id
    page = site.page("solutions/stabiliser-formaldehyde")
    assert "a dust mask does nothing against vapour" in page
    assert "No dust" not in page


def test_formalin_s_page_names_fumes_asthma_and_lenses(demo_results: Results) -> None:
    result = demo_results.formulas["stabiliser-formaldehyde"]
    before = " ".join(caution.text for caution in result.cautions.before)
    assert "Asthma" in before
    assert "contact lenses" in before
    line = next(i for i, one in enumerate(result.formula.ingredients) if one.chemical == "formaldehyde")
    assert "extraction or outdoors" in said_at(result, line)
    assert result.keep_away


def test_asthma_stands_on_acid_stops(demo_results: Results) -> None:
    for formula in ("ecn2-stop", "ecn2-stop-acetic", "stop-acetic", "stop-citric"):
        assert "Asthma" in " ".join(c.text for c in demo_results.formulas[formula].cautions.before), formula


def test_every_formula_page_names_goggles_and_gloves_above_the_sizes(demo_results: Results, site: Site) -> None:
    for formula in demo_results.formulas:
        page = site.page(f"solutions/{formula}")
        box = page[page.index('id="protect-yourself"') : page.index('href="#make-')]
        assert "Goggles and gloves" in box, formula
        assert 'href="#make-' not in page[: page.index('id="protect-yourself"')], formula


def test_every_batch_begins_with_what_to_wear(demo_results: Results, site: Site) -> None:
    for formula, result in demo_results.formulas.items():
        page = site.page(f"solutions/{formula}")
        heads = re.findall(
            r'<p class="hb-caution">Goggles, gloves, window open\.([^<]*)</p>\s*<table class="hb-weigh">', page
        )
        assert len(heads) == len(result.batches), formula
    assert "cancer" in site.page("solutions/bleach-dichromate").split('<table class="hb-weigh">')[0].rpartition("<p")[2]


def test_the_cautions_of_the_chemicals_stand_on_the_formula(demo_results: Results, site: Site) -> None:
    for formula, result in demo_results.formulas.items():
        page = site.page(f"solutions/{formula}")
        for chemical, _ in result.jars:
            for caution in demo_results.catalogue.chemicals[chemical].cautions:
                assert caution in page, (formula, chemical)
    assert "dust mask (FFP2" in site.page("solutions/ecn2-bleach")


def test_every_jar_that_the_table_offers_is_listed_with_its_class(demo_results: Results, site: Site) -> None:
    """The form that lies on the balance, not only the one the formula asks for."""
    bought = 0
    for formula, result in demo_results.formulas.items():
        page = site.page(f"solutions/{formula}")
        listed = page[page.index('id="in-the-jars-while-weighing"') : page.index('id="in-the-mixed-bath"')]
        lines = re.sub(r"<[^>]+>", "", listed)
        for line, _ in enumerate(result.formula.ingredients):
            for chemical_id, form_id in forms_at(result, demo_results, line):
                chemical = demo_results.catalogue.chemicals[chemical_id]
                name = form_of(demo_results, (chemical_id, form_id)).name
                if len(chemical.forms) > 1 and chemical_id != "water":
                    bought += 1
                    short = re.sub(r" \([^)]*\)$", "", chemical.name)
                    assert name.removeprefix(short).lstrip(", ") in lines, (formula, name)
    assert bought > 100


def test_the_stop_bath_s_ten_per_cent_acid_carries_its_own_class(site: Site) -> None:
    page = site.page("solutions/ecn2-stop")
    jars = page[page.index('id="in-the-jars-while-weighing"') : page.index('id="in-the-mixed-bath"')]
    lines = {re.sub(r"<[^>]+>", "", line) for line in re.findall(r"<li>(.*?)</li>", jars, re.S)}
    ten = next(line for line in lines if "10 %" in line.partition(":")[0])
    assert "H315" in ten
    assert "H314" not in ten
    assert any("H314" in line for line in lines if "7.0 N" in line)


def test_only_strong_acetic_acid_is_called_flammable(demo_results: Results) -> None:
    """Weaker than 80 % it travels without the flammable class (UN 2790), from memory."""
    for form, burns in (("glacial", True), ("solution-80", True), ("solution-28", False), ("solution-24", False)):
        assert ("H226" in statements(demo_results, ("acetic-acid", form))) == burns, form
    for result in demo_results.formulas.values():
        for line, _ in enumerate(result.formula.ingredients):
            jars = forms_at(result, demo_results, line)
            if jars and jars <= {("acetic-acid", "solution-28"), ("acetic-acid", "solution-24")}:
                assert "Flammable" not in said_at(result, line), result.formula.id


def test_a_bath_mixed_at_blood_heat_is_not_said_to_scald(demo_results: Results) -> None:
    for formula, scalds in (("ecn2-bleach", False), ("bw-mq-borax", True)):
        before = " ".join(c.text for c in demo_results.formulas[formula].cautions.before)
        assert ("it scalds" in before) == scalds, formula
        assert "residual-current" in before


def test_cd_3_is_called_what_its_record_says(demo_results: Results) -> None:
    for result in demo_results.formulas.values():
        if any(one.chemical == "cd-3" for one in result.formula.ingredients):
            assert "toxic if swallowed" not in " ".join(result.formula.cautions), result.formula.id


def test_no_class_is_never_said_without_what_it_does_not_mean(site: Site) -> None:
    """In lists of jars and strengths, in the text of a bath, on labels and where baths are compared."""
    ours = re.compile(r"(<strong>no class\b|No class of health|[Nn]o class reached)[^.<]*(?:\. That is[^.:]*)?")
    seen = 0
    for path in site.folder.rglob("index.html"):
        for said in ours.finditer(path.read_text("utf-8")):
            seen += 1
            assert "not the same as harmless" in said.group(), (path, said.group())
    assert seen > 100
