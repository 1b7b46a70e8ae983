"""Processes of the handbook against published tables; each test names its source and whether it was read."""

from __future__ import annotations

from decimal import Decimal

import pytest

from outside import decimals
from reckoner.calc.film.schedule import varied_time, wet_time
from reckoner.calc.film.temperature import other_scale, to_fahrenheit
from reckoner.calc.results import Results
from reckoner.pages.process.schedule_view import steps_view
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.catalogue import Catalogue
from reckoner.records.values import Range

D = Decimal

#: (°F, ±, printed °C, printed ±, places). 98.0 and 80 ± 2 for developer and stop of Process ECP-2E: Kodak Publication
#: H-24.09, table 9-4, text read. 106.0 and the two prebath rows of Process ECN-2: tables quoting H-24.07, text read.
#: 100 ± 2: H-24.07, from memory.
PRINTED = [
    ("98.0", "0.2", "36.7", "0.1", 1),
    ("80", "2", "27", "1", 0),
    ("106.0", "0.2", "41.1", "0.1", 1),
    ("80", "5", "27", "3", 0),
    ("100", "2", "38", "1", 0),
]


@pytest.mark.parametrize(("f", "spread", "c", "c_spread", "places"), PRINTED)
def test_fahrenheit_first_tables_in_celsius_as_printed(f: str, spread: str, c: str, c_spread: str, places: int) -> None:
    warm, tolerance = other_scale(Range(D(f), D(f), "°F"), Range(D(spread), D(spread), "°F"))
    assert warm.unit == "°C"
    assert decimals(warm.low, places) == D(c)
    assert tolerance is not None
    assert decimals(tolerance.high, places) == D(c_spread)


@pytest.mark.parametrize(("c", "exact", "printed"), [("41.1", "105.98", "106.0"), ("27", "80.6", "80")])
def test_the_other_way_round_does_not_come_out(c: str, exact: str, printed: str) -> None:
    """The trap: printed °C are rounded from °F, so 27 °C is 80.6 °F where 80 is meant (H-24.07 as quoted, read)."""
    assert to_fahrenheit(D(c)) == D(exact)
    assert D(exact) != D(printed)


#: Process ECN-2, Kodak Publication H-24.07. Prebath and developer temperatures read in tables that quote it, the rest
#: from memory: (step, time, °F).
ECN2 = [
    ("Prebath", "0:10", "80 ± 2"),
    ("Rem-jet removal and rinse", "0:05", "80–100"),
    ("Colour developer", "3:00", "106.0 ± 0.2"),
    ("Stop", "0:30", "80–100"),
    ("Wash", "0:30", "80–100"),
    ("Bleach", "3:00", "100 ± 2"),
    ("Wash", "1:00", "80–100"),
    ("Fixer", "2:00", "100 ± 2"),
    ("Wash", "2:00", "80–100"),
    ("Final rinse", "0:10", "80–100"),
]


def test_the_published_table_as_printed(demo_results: Results) -> None:
    process = demo_results.catalogue.processes["motion-picture-colour-negative"]
    views = steps_view(process, PageWriter(demo_results, Display("en_GB"), Links("processes/x.md", True)))
    shown = [(view.name, view.figures[0].figures[0], view.figures[1].figures[0]) for view in views[:10]]
    assert [(name, time, warm.replace("\u00a0", " ")) for name, time, warm in shown] == [
        (name, time, f"{warm} °F") for name, time, warm in ECN2
    ]
    developer = views[2].figures
    assert developer[1].figures[1].replace("\u00a0", " ") == "(41.1 ± 0.1 °C)"
    assert [figure.certainty for figure in developer] == ["from memory", "published"]


def test_wet_time_of_the_published_table(demo: Catalogue) -> None:
    """12:25 with the removal of the backing: sum of the table above, from memory."""
    found = wet_time(demo.processes["motion-picture-colour-negative"])
    assert (found.low, found.high, found.untimed, found.maybe) == (D(745), D(745), (), ())


def test_colour_reversal_has_ten_steps_with_drying(demo: Catalogue) -> None:
    """US Army subcourse SS0514, read."""
    steps = demo.processes["colour-reversal"].steps
    assert len(steps) == 10
    assert steps[-1].kind == "drying"


#: Publication Z-131 (C-41) and Publications Z-119 and J-83 (E-6), from memory: (process, variation, seconds).
PUSHED = [
    ("still-colour-negative", "push one stop", 225, 225),
    ("still-colour-negative", "push two stops", 270, 270),
    ("colour-reversal", "push one stop", 480, 480),
    ("colour-reversal", "push two stops", 600, 600),
    ("colour-reversal", "pull one stop", 240, 270),
]


@pytest.mark.parametrize(("process_id", "name", "low", "high"), PUSHED)
def test_push_and_pull(demo: Catalogue, process_id: str, name: str, low: int, high: int) -> None:
    process = demo.processes[process_id]
    found = varied_time(process, next(one for one in process.variations if one.name == name))
    assert (found.low, found.high) == (D(low), D(high))
