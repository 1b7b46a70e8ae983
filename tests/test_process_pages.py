"""What stands on the pages of processes: cases by backing, light, certainty of each figure, comparison, tests."""

from __future__ import annotations

import json
import re
from html import unescape

import jsonschema
import pytest

from reckoner.calc.film.adapted import step_pairs
from reckoner.calc.results import Results
from reckoner.outputs.export import handbook_json, handbook_schema
from reckoner.pages.process.process_view import process_view
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.shared.render import render

CINE, HOME = "motion-picture-colour-negative", "motion-picture-colour-negative-home"


def page(process_id: str, worked: Results) -> str:
    """The page's text without tags."""
    writer = PageWriter(worked, Display("en_GB"), Links(f"processes/{process_id}.md", True))
    view = process_view(worked.catalogue.processes[process_id], worked.processes[process_id], writer)
    plain = unescape(re.sub(r"<[^>]+>", "", render("process.md.jinja", view)))
    return plain.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("process_id", "said"),
    [
        (CINE, "Film with rem-jet backing: all steps; total wet time 12:25"),
        # 12:25 less 0:10 of prebath and 0:05 of rinse.
        (CINE, "Film without: leave out steps 1 and 2; total wet time 12:10"),
        (CINE, "Total darkness, until the end of step 6, Bleach; from step 7, Wash: room light."),
        # 0:30 + 3:00 + 0:30 + 0:30 + 3:00 + 1:00 + 2:00 + 3:00 + 1:00 = 14:30, and the longest of each 19:30.
        (HOME, "all steps; total wet time 14:30–19:30"),
        (HOME, "besides Rem-jet removal, rinse (step 2), without a set time"),
        (HOME, "Film without: leave out steps 1, 2 and 10; total wet time 14:00–18:30"),
        (HOME, "never put it in a shared machine"),
        (HOME, "Tank shut, in room light, until the end of step 6, Bleach; from step 7, Wash: room light."),
        ("still-colour-negative", "No step of this process takes it off"),
        ("black-and-white-negative", "until the end of step 4, Fixer; from step 5, Rinse: room light."),
        ("paper-print", "Red or amber safelight, until the end of step 3, Fixer; from step 4, Rinse: room light."),
        ("colour-reversal", "pull one stop4:00–4:30"),
        (HOME, "no such step"),
        ("colour-reversal", "First developer: 1:30–2:00 shorter; in doubt: 2:00 is the likelier; Publications Z-119"),
        ("colour-reversal", "is the likelier; Publications Z-119 and J-83, from memory"),
    ],
)
def test_what_a_page_says(demo_results: Results, process_id: str, said: str) -> None:
    assert said in page(process_id, demo_results)


@pytest.mark.parametrize("process_id", [CINE, HOME, "still-colour-negative", "colour-reversal"])
def test_film_is_loaded_in_darkness_without_the_phone(demo_results: Results, process_id: str) -> None:
    assert "in total darkness, with the phone out of the room" in page(process_id, demo_results)


def test_paper_is_not_loaded(demo_results: Results) -> None:
    assert "phone out of the room" not in page("paper-print", demo_results)


def test_every_step_stands_whatever_the_film(demo_results: Results) -> None:
    text = page(HOME, demo_results)
    assert text.count("only film with rem-jet backing") == 3
    for step in demo_results.catalogue.processes[HOME].steps:
        assert step.name in text


def test_steps_that_do_the_same_stand_beside_each_other(demo_results: Results) -> None:
    catalogue = demo_results.catalogue
    pairs = step_pairs(catalogue.processes[CINE], catalogue.processes[HOME], catalogue.formulas)
    # The last wipe has no place in the machine's table; everything after it is one step further on.
    assert pairs == (*((n, n) for n in range(1, 10)), (None, 10), (10, 11), (11, 12))


@pytest.mark.parametrize(("here", "there"), [(CINE, "The usual way at home"), (HOME, "The published table")])
def test_both_pages_compare(demo_results: Results, here: str, there: str) -> None:
    text = page(here, demo_results)
    assert there in text
    assert "Published, step 3: 3:00 from memory · 106.0 ± 0.2 °F (41.1 ± 0.1 °C) published" in text
    assert "At home, step 3: 3:00 common practice · 41.1 ± 0.1 °C (106 ± 0.2 °F) published" in text


def test_every_fault_says_how_sure_it_is(demo_results: Results) -> None:
    for process in demo_results.catalogue.processes.values():
        assert process.faults
        for fault in process.faults:
            assert fault.certainty in {"common practice", "published"}
            assert fault.citation or fault.certainty == "common practice"


def test_only_tests_for_the_baths_of_a_process(demo_results: Results) -> None:
    paper, cine = page("paper-print", demo_results), page(CINE, demo_results)
    assert "Drop on a film leader" in paper
    assert "Iodide test of a fixer" in paper
    assert "Look of a colour developer" not in paper
    assert "Look of a colour developer" in cine


def test_the_exported_processes(demo_results: Results) -> None:
    figures = json.loads(handbook_json(demo_results))
    jsonschema.validate(figures, json.loads(handbook_schema()))
    cine = next(one for one in figures["processes"] if one["id"] == CINE)
    assert (cine["wet_time"]["low"], cine["wet_time_without_backing"]["low"]) == ("745", "730")
    developer = cine["steps"][2]
    assert developer["temperature"] == {"low": "106", "high": "106", "unit": "°F"}
    assert (developer["time_certainty"], developer["temperature_certainty"]) == ("from memory", "published")
    home = next(one for one in figures["processes"] if one["id"] == HOME)
    assert home["adapts"] == CINE
