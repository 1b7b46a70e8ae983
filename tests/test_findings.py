"""Hazard findings are figures: the JSON's follow from their ingredients, and pages word them with the right names."""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

import pytest

from hazard_cases import bath, hazards
from independent.hazards import OFF, all_findings, holds, value_of
from reckoner.calc.hazards.finding import Rule
from reckoner.pages.shared.finding_words import RULES, limit_words, value_words
from site_build import Site
from small import SOURCE, chemical, formula, page_text, results

LAW = "jurisdiction: European Union, edition: a test, status: harmonised"


def irritant(chemical_id: str, name: str, more: str = "") -> str:
    """An irritant whose id may be any word."""
    classes = "[{hazard: Skin Irrit. 2, h: H315}, {hazard: Eye Irrit. 2, h: H319}]"
    record = f"hazards: [{{forms: [solid], classes: {classes}, {more}{LAW}, {SOURCE}}}]\nforms:"
    text = chemical(chemical_id, "[{id: solid, name: flakes, formula: NaCl}]")
    return text.replace(f"name: {chemical_id}", f"name: {name}").replace("forms:", record, 1)


@pytest.mark.parametrize("word", ["limit", "share", "sum", "over", "against", "salt"])
def test_an_id_that_is_a_word_of_the_sentence_stays_out_of_it(word: str) -> None:
    """Names stood in place of ids by replacing text, so that a chemical's id in a word of ours took its name."""
    lines = ", ".join(f"{{chemical: {each}, form: solid, amount: 60 g}}" for each in (word, "salt-of-lemon"))
    files = {
        f"chemicals/{word}.yml": irritant(word, "Blue crystals (invented)"),
        "chemicals/salt-of-lemon.yml": irritant("salt-of-lemon", "Lemon crystals (invented)"),
        "solutions/a/bath.yml": formula("bath", f"[{lines}]"),
    }
    text = page_text(results(files), "solutions/bath.md")
    assert "sum of share over limit 1.2: " in text
    assert "Blue crystals 6 % against 10 %" in text
    assert "Lemon crystals 6 % against 10 %" in text


def test_every_rule_has_words() -> None:
    assert RULES.keys() == set(get_args(Rule))


def test_every_figure_follows_from_its_ingredients(site: Site) -> None:
    findings = list(all_findings(site.figures))
    assert len(findings) > 200
    assert {finding["unit"] for _, finding in findings} >= {"% w/w", "share over limit", "pH", "mg/kg"}
    for formula_id, finding in findings:
        value = value_of(finding)
        assert holds(finding), (formula_id, finding)
        assert value is None or abs(value - Fraction(finding["value"])) < OFF * value, (formula_id, finding)


def test_figures_are_no_words(site: Site) -> None:
    for _, finding in all_findings(site.figures):
        told = [finding["value"], finding["limit"]]
        told += [each[key] for each in finding["ingredients"] for key in ("share", "limit", "weight", "ate")]
        assert all(each is None or Fraction(each) >= 0 for each in told)


def test_two_strong_acids_are_told_one_by_one() -> None:
    """Table 3.2.4 adds nothing up: 3 and 1 % are compared with 1 % each, and the figure is the larger."""
    acid = hazards("Skin Corr. 1 H314")
    result = bath(("3", acid), ("1", acid), strong={"p0": "acid", "p1": "acid"}, ph="3")
    found = next(f for f in result.findings if f.rule == "table 3.2.4")
    assert (found.compared.value, found.compared.limit, found.chemicals) == (3, 1, ("p0", "p1"))
    assert value_words(found, str) == "p0 3 % against 1 %, p1 1 % against 1 %"
    assert limit_words(found) == "1 %"
