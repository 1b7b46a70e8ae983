"""What labels and pages say to do: at once where the hazard is grave, and nothing that waits beside it."""

from __future__ import annotations

import pytest

from reckoner.calc.hazards.classify import LABEL
from reckoner.calc.hazards.precaution import MOST, first_steps, precautions
from reckoner.calc.results import Results
from site_build import Site

#: (hazard statement, precautionary statement): Regulation (EC) No 1272/2008, Annex I, label elements of parts 3.1
#: (swallowed: at once for categories 1 to 3), 3.2 and 3.3 (corrosion and eye damage: at once); from memory.
AT_ONCE = [
    ("H300", "P301+P310"),
    ("H301", "P301+P310"),
    ("H314", "P303+P361+P353"),
    ("H314", "P310"),
    ("H318", "P310"),
    ("H310", "P310"),
    ("H330", "P310"),
]


@pytest.mark.parametrize(("hazard", "advice"), AT_ONCE)
def test_grave_hazards_call_for_help_at_once(hazard: str, advice: str) -> None:
    assert advice in first_steps([hazard])
    assert advice in precautions([hazard])


@pytest.mark.parametrize("graver", ["H301", "H314", "H318"])
def test_nothing_waits_for_a_symptom_beside_what_does_not(graver: str) -> None:
    assert "P301+P312" not in first_steps(["H302", graver])
    assert "P301+P312" not in precautions(["H302", graver])
    assert "P301+P312" in first_steps(["H302"])
    assert "P311" not in first_steps(["H330", "H331"])
    assert "P311" in first_steps(["H331"])


def test_a_corrosive_label_does_not_tell_to_wash_the_skin_twice() -> None:
    """CLP Article 28(1): what is clearly redundant is left off; the place goes to the next statement."""
    both = ["H314", "H317", "H341"]
    assert "P303+P361+P353" in precautions(both)
    assert "P302+P352" not in precautions(both)
    assert "P308+P313" in precautions(both)
    assert "P302+P352" in precautions(["H317", "H341"])


def test_six_at_the_most() -> None:
    assert len(precautions(LABEL)) == MOST


def jars(results: Results, formula_id: str) -> set[str]:
    """Stems of the statements of every jar of a bath."""
    parts = results.formulas[formula_id].hazards.composition.substances
    return {entry.h[:4] for part in parts if part.hazards for entry in part.hazards.classes}


def test_every_page_of_the_demo_with_a_grave_jar_says_immediately(demo_results: Results, site: Site) -> None:
    seen = 0
    for formula_id in demo_results.formulas:
        said = site.page(f"solutions/{formula_id}")
        said = said[said.index('id="in-an-accident"') :]
        if jars(demo_results, formula_id) & {"H300", "H301"}:
            seen += 1
            assert "IF SWALLOWED: Immediately call" in said, formula_id
            assert "if you feel unwell" not in said, formula_id
        if jars(demo_results, formula_id) & {"H314", "H318", "H330", "H310"}:
            assert "P310 Immediately call" in said, formula_id
    assert seen > 3


def test_a_corrosive_bath_s_label_says_take_off_and_rinse(demo_results: Results, site: Site) -> None:
    burning = [i for i, r in demo_results.formulas.items() if "H314" in r.hazards.label.statements]
    assert burning
    for formula_id in burning:
        label = site.page(f"labels/{formula_id}")
        assert "P303+P361+P353" in label, formula_id
        assert "Immediately call a POISON CENTRE" in label, formula_id
