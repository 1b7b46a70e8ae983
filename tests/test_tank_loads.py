"""Films and tanks: figures worked by hand, and the warning for too many films."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reckoner.calc.film.tank_loads import Load, TankUse
from reckoner.calc.results import Results
from reckoner.pages.process.tank_view import tanks_view
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from small import SETTINGS, SOURCE, chemical, formula, process, results

D = Decimal
FORMATS = f"""
formats:
  - {{id: roll, name: a roll, length: 1000 mm, width: 35 mm, counts_as: 1, {SOURCE}}}
  - {{id: long, name: a long film, length: 5000 mm, width: 16 mm, counts_as: 2.5, {SOURCE}}}
"""
SALT = "[{chemical: salt, form: solid, amount: 5 g}]"


def made(tanks: str, developer: str = "", fixer: str = "") -> tuple[TankUse, Results]:
    files = {
        "settings.yml": SETTINGS + f"formats: [roll, long]\ntanks: {tanks}\n",
        "film_formats.yml": FORMATS,
        "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
        "solutions/a/dev.yml": formula("dev", SALT, "colour developer", developer),
        "solutions/a/fix.yml": formula("fix", SALT, "fixer", fixer),
        "processes/pr.yml": process("dev", "fix"),
    }
    worked = results(files)
    return worked.tanks["pr"], worked


def capacity(rolls: str) -> str:
    return f"capacity: [{{does: {rolls} rolls, per: 1 L, how: used again, certainty: common practice}}]\n"


LEAST = "minimum: {per_roll: 250 mL, certainty: common practice}\n"
TANKS = (
    "[{name: small, volume: 300 mL, holds: [{format: roll, count: 1}, {format: long, count: 1}]}, "
    "{name: big, volume: 600 mL, holds: [{format: roll, count: 3}]}]"
)


def test_least_developer_against_the_tank() -> None:
    use, _ = made(TANKS, LEAST)
    one, long, three = (load.least[0] for load in use.loads)
    # 250 mL a roll: one roll in 300 mL is enough; 2.5 rolls need 625 mL, and 300 mL does not do one such film.
    assert (one.needed, one.enough, one.films) == (D(250), True, 1)
    assert (long.needed, long.enough, long.films) == (D(625), False, 0)
    # Three rolls need 750 mL; 600 mL does two.
    assert (three.needed, three.enough, three.films) == (D(750), False, 2)


def test_a_developer_that_is_poured_away_does_as_many_loads_as_it_fills_the_tank() -> None:
    """1 L fills 300 mL three times; kept and used again it does 8 to 12 rolls, whatever else is recorded."""
    once = "{does: 1 roll, per: 250 mL, once: yes, certainty: common practice}"
    again = "{does: 8-12 rolls, per: 1 L, certainty: common practice}"
    load = made(TANKS, f"capacity: [{once}]\n")[0].loads[0]
    assert (load.cautious, load.generous) == (3, 3)
    load = made(TANKS, f"capacity: [{once}, {again}]\n")[0].loads[0]
    assert (load.cautious, load.generous) == (8, 12)


def test_the_bath_that_gives_out_first_and_what_it_does() -> None:
    use, _ = made(TANKS, capacity("4-12"), capacity("6-9"))
    # Cautious, the developer ends at 4 rolls; generous, the fixer at 9.
    assert (use.ends_cautious, use.ends_generous) == ("dev", "fix")
    assert [(one.film.id, one.cautious, one.generous) for one in use.films] == [("roll", 4, 9), ("long", 1, 3)]
    loads = [(load.film.id, load.rolls, load.cautious, load.generous) for load in use.loads]
    assert loads == [("roll", D(1), 4, 9), ("long", D("2.5"), 1, 3), ("roll", D(3), 1, 3)]


def test_baths_without_capacity_are_named_and_nothing_is_made_up() -> None:
    use, _ = made(TANKS, "", capacity("6-9"))
    assert use.unrecorded == ("dev",)
    assert use.ends_cautious == "fix"
    none, _ = made(TANKS)
    assert (none.ends_cautious, none.films) == (None, ())
    assert [load.cautious for load in none.loads] == [None, None, None]


def test_a_litre_does_not_fill_a_larger_tank() -> None:
    use, _ = made("[{name: bucket, volume: 2 L, holds: [{format: roll, count: 4}]}]", capacity("4-12"))
    found: Load = use.loads[0]
    assert (found.cautious, found.generous) == (None, None)


@pytest.mark.parametrize(
    ("load", "said"),
    [
        (
            1,
            "Too little dev: at 250\u00a0mL a roll this load needs 625\u00a0mL, and the tank holds 300\u00a0mL. "
            "Not even one film",
        ),
        (2, "and the tank holds 600\u00a0mL. At most 2 films of this format may go in."),
    ],
)
def test_too_many_films_are_a_warning_in_words(load: int, said: str) -> None:
    use, worked = made(TANKS, LEAST)
    view = tanks_view(use, PageWriter(worked, Display("en_GB"), Links("processes/pr.md", True)))
    assert view.loads[0].warnings == ()
    assert said in view.loads[load].warnings[0]
