"""A figure has one name and one meaning on all pages; where two figures differ, the page says why."""

from __future__ import annotations

from collections.abc import Mapping
from html import unescape

from reckoner.calc.film.other_times import listed_times
from reckoner.calc.results import Results
from reckoner.records.catalogue import Catalogue
from small import SETTINGS, SOURCE, chemical, formula, page_text, process, results

SALT = "[{chemical: salt, form: solid, amount: 5 g}]"
HOLD = "other_temperatures: {hold: yes, note: a colour process, certainty: common practice}\n"
VARIATION = (
    "variations: [{name: at 30 °C, step: dev, time: '8:00', temperature: 30 °C, note: colours cross, "
    "certainty: from memory}, {name: push one stop, step: dev, time: '3:45', temperature: 37.8 °C, "
    "certainty: from memory}, {name: in degrees F, step: dev, time: '3:20', temperature: 100.04 °F, "
    "certainty: from memory}]\n"
)


def handbook() -> Results:
    steps = process("dev").replace("kind: bath, light", "kind: bath, temperature: 37.8 °C, time: '3:15', light")
    return results(
        {
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/dev.yml": formula("dev", SALT, "colour developer", HOLD),
            "solutions/other.yml": formula("other", SALT, "colour developer", HOLD),
            "processes/pr.yml": steps + VARIATION,
        }
    )


def test_a_formula_tells_the_times_at_other_temperatures_that_its_process_lists() -> None:
    """At 30 °C, which its process lists; not a push at the usual 37.8 °C, nor the same in °F: 100.04 °F."""
    made = handbook()
    times = list(listed_times("dev", made.catalogue.processes.values()))
    assert [time.variation.name for time in times] == ["at 30 °C"]
    page = unescape(page_text(made, "solutions/dev.md")).replace("\u00a0", " ")
    assert "<td>30 °C</td><td><b>8:00</b> <small>pr, at 30 °C; colours cross (from memory)</small>" in page
    assert "No time is calculated for another temperature: a colour process" in page
    other = page_text(made, "solutions/other.md")
    assert "No time is calculated" in other and "<b>8:00</b>" not in other


def test_no_page_of_the_demonstration_denies_what_a_process_lists(
    demo: Catalogue, demo_pages: Mapping[str, str]
) -> None:
    listed = 0
    for formula_id in demo.formulas:
        times = list(listed_times(formula_id, demo.processes.values()))
        page = unescape(demo_pages[f"solutions/{formula_id}.md"])
        for time in times:
            listed += 1
            assert time.variation.name in page
    assert listed >= 2


def test_loads_and_rolls_of_a_litre_say_why_they_differ() -> None:
    """4 rolls a litre used once, 250 mL each, against 8 used again: the tank's line has both, and whose rule it is."""
    once = "{does: 4 rolls, per: 1 L, once: yes, certainty: common practice}"
    again = "{does: 8-12 rolls, per: 1 L, certainty: common practice}"
    film = f"formats: [{{id: roll, name: a roll, length: 1 m, width: 35 mm, counts_as: 1, {SOURCE}}}]\n"
    tanks = "formats: [roll]\ntanks: [{name: reel, volume: 300 mL, holds: [{format: roll, count: 1}]}]\n"
    made = results(
        {
            "settings.yml": SETTINGS + tanks,
            "film_formats.yml": film,
            "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
            "solutions/dev.yml": formula("dev", SALT, "colour developer", f"capacity: [{once}, {again}]\n"),
            "processes/pr.yml": process("dev"),
        }
    )
    (load,) = made.tanks["pr"].loads
    assert (load.cautious, load.generous, load.planned, load.poured) == (8, 12, 3, "dev")
    page = page_text(made, "processes/pr.md").replace("\u00a0", " ")
    assert "1 L of each bath does 8 to 12 loads where it is used again; plans count 3 loads, dev poured away" in page


def test_every_cost_has_one_name(demo_pages: Mapping[str, str]) -> None:
    """Chemicals used, first order and full cost, and no other word for them on any page of figures."""
    old = ("To start, ", ">Used<", "Used, for", "All-in", "all-in")
    for path, markdown in demo_pages.items():
        kept = [word for word in old if word in markdown]
        assert not kept, (path, kept)
