"""Orders of baths that are refused, and those that only look like them."""

from __future__ import annotations

import pytest

from reckoner.problems import HandbookError
from small import chemical, formula, load

SOLID = "[{{id: solid, name: solid, formula: '{}'}}]"


def made(formula_id: str, purpose: str, chemical_id: str, more: str = "") -> str:
    return formula(formula_id, f"[{{chemical: {chemical_id}, form: solid, amount: 5 g{more}}}]", purpose)


FILES = {
    "chemicals/cd.yml": chemical("cd", SOLID.format("C6H8N2")),
    "chemicals/citric-acid.yml": chemical("citric-acid", SOLID.format("C6H8O7")),
    "chemicals/sodium-thiosulfate.yml": chemical("sodium-thiosulfate", SOLID.format("Na2S2O3")),
    "chemicals/potassium-ferricyanide.yml": chemical("potassium-ferricyanide", SOLID.format("K3[Fe(CN)6]")),
    "solutions/a/dev.yml": made("dev", "colour developer", "cd"),
    "solutions/a/stop.yml": made("stop", "stop bath", "citric-acid"),
    "solutions/a/fix.yml": made("fix", "fixer", "sodium-thiosulfate"),
    "solutions/a/plain.yml": made("plain", "bleach", "citric-acid"),
    "solutions/a/ferri.yml": made("ferri", "bleach", "potassium-ferricyanide"),
    "solutions/a/half.yml": formula("half", "", "bleach").replace("ingredients: ", "dilution: 1+1\nof: [ferri]"),
    "solutions/a/other.yml": made(
        "other", "bleach", "citric-acid", ", or: [{chemical: potassium-ferricyanide, form: solid, amount: 5 g}]"
    ),
}
WASH = "{name: wash, kind: wash, light: room light, certainty: common practice}"


def bath(*formulas: str, more: str = "") -> str:
    named = ", ".join(f"{{formula: {one}, certainty: common practice}}" for one in formulas)
    return f"{{name: {formulas[0]}, kind: bath, baths: [{named}], light: room light, certainty: common practice{more}}}"


def refused(*steps: str) -> list[str]:
    text = "id: pr\nname: pr\nkind: colour negative\ndarkness: none\ncautions: [gloves]\nsteps:\n"
    text += "".join(f"  - {step}\n" for step in steps)
    text += "source: {certainty: common practice, checked: 2026-11-25}\n"
    try:
        load({**FILES, "processes/pr.yml": text})
    except HandbookError as error:
        return [problem.message for problem in error.problems]
    return []


@pytest.mark.parametrize(
    "steps",
    [
        (bath("dev"), bath("stop"), WASH, bath("ferri")),
        # What stands behind a fixer and a wash is no developer any more.
        (bath("dev"), bath("fix"), WASH, bath("ferri")),
        (bath("dev"), bath("plain")),
        (bath("ferri"), WASH, bath("dev")),
        # A weak acid is no strong acid.
        (bath("stop"), bath("ferri")),
    ],
)
def test_orders_that_are_let_through(steps: tuple[str, ...]) -> None:
    assert refused(*steps) == []


@pytest.mark.parametrize(
    "last",
    [bath("ferri"), bath("plain", "ferri"), bath("half"), bath("other"), bath("ferri", more=", optional: yes")],
)
def test_any_bath_that_may_hold_ferricyanide_counts(last: str) -> None:
    said = refused(bath("dev"), bath("stop"), last)
    assert len(said) == 1
    assert "without a wash: developer carried into it stains" in said[0]


@pytest.mark.parametrize("more", [", optional: yes", ", only_for: paper", ", backing: rem-jet"])
def test_a_stop_that_may_be_left_out_does_not_count(more: str) -> None:
    said = refused(bath("dev"), WASH, bath("stop", more=more), WASH, bath("ferri"))
    assert len(said) == 1
    assert "without a stop bath:" in said[0]
