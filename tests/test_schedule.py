"""A process by the clock: figures worked by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reckoner.calc.film.schedule import LightSpan, light_spans, varied_time, warmths, wet_time
from reckoner.problems import ValueFault
from reckoner.records.practice import Variation
from reckoner.records.process import Process

D = Decimal


def step(name: str, kind: str = "wash", **more: object) -> dict[str, object]:
    return {"name": name, "kind": kind, "light": "room light", "certainty": "common practice", **more}


def bath(name: str, *baths: dict[str, object], **more: object) -> dict[str, object]:
    named = baths or ({},)
    accepted = [{"formula": "one", "certainty": "common practice", **each} for each in named]
    return step(name, "bath", baths=accepted, **more)


def process(*steps: dict[str, object], **more: object) -> Process:
    record = {
        "id": "pr",
        "name": "pr",
        "kind": "colour negative",
        "darkness": "none",
        "cautions": ["gloves"],
        "steps": list(steps),
        "source": {"certainty": "common practice", "checked": "2026-11-25"},
        **more,
    }
    return Process.model_validate(record)


FILM = process(
    bath("Prebath", time="0:30-1:00", backing="rem-jet", light="total darkness", temperature="27-38 °C"),
    step("Rinse", "rinse", time_note="until clear", backing="rem-jet", light="total darkness", temperature="38 °C"),
    # The usual bath's own time counts: 6:00, not 3:00.
    bath("Developer", {"time": "6:00"}, {"time": "9:00"}, time="3:00", light="total darkness", temperature="41 °C"),
    step("Wash", time="1:00", temperature="80-100 °F"),
    bath("Wash aid", time="1:00-2:00", optional="yes", temperature="38 °C"),
    bath("Wetting", time="0:30"),
    step("Dry", "drying", time="3:00"),
)


def test_wet_time_adds_baths_and_water_and_neither_drying_nor_what_may_be_left_out() -> None:
    found = wet_time(FILM)
    # 0:30 + 6:00 + 1:00 + 0:30 = 8:00; with 1:00 in the prebath 8:30.
    assert (found.low, found.high) == (D(480), D(510))
    assert found.untimed == (2,)
    assert (found.maybe_low, found.maybe_high, found.maybe) == (D(60), D(120), (5,))


def test_wet_time_without_backing_leaves_out_its_steps() -> None:
    found = wet_time(FILM, backing=False)
    assert (found.low, found.high, found.untimed) == (D(450), D(450), ())


def test_light_from_step_to_step() -> None:
    assert list(light_spans(FILM)) == [LightSpan(1, 3, "total darkness"), LightSpan(4, 7, "room light")]


def test_the_hottest_comes_first_whatever_its_scale() -> None:
    """100 °F is 37.8 °C and comes after 38 °C; 27-38 °C reaches 38 °C, but begins colder."""
    found = [(str(one.temperature.high), one.temperature.unit, one.baths, one.water) for one in warmths(FILM)]
    assert found == [
        ("41", "°C", (3,), ()),
        ("38", "°C", (5,), (2,)),
        ("38", "°C", (1,), ()),
        ("100", "°F", (), (4,)),
    ]


def test_a_bath_that_may_be_hot_does_not_come_before_one_that_must() -> None:
    """24 to 41 °C is had at 24 °C, 35 to 40 at 35; the developer needs its 37.8."""
    both = process(
        bath("Bleach", temperature="24-41 °C"),
        bath("Stabiliser", temperature="35-40 °C"),
        bath("Developer", temperature="37.8 °C", tolerance="0.15 °C"),
    )
    assert [one.baths for one in warmths(both)] == [(3,), (2,), (1,)]


def test_the_tolerance_stays_with_the_step_s_own_temperature() -> None:
    both = process(
        bath("A", {"temperature": "38 °C"}, temperature="38 °C", tolerance="1 °C"),
        bath("B", {"temperature": "30 °C"}, temperature="38 °C", tolerance="1 °C"),
    )
    assert [one.tolerance is not None for one in warmths(both)] == [True, False]


VARIED = process(bath("First developer", time="6:00"), bath("Fixer", time="4:00-5:00"), bath("Bleach"))


@pytest.mark.parametrize(
    ("at", "change", "low", "high"),
    [
        ("First developer", {"time": "7:00"}, 420, 420),
        ("First developer", {"longer": "2:00"}, 480, 480),
        # 6:00 less 1:30 to 2:00 is 4:00 to 4:30.
        ("First developer", {"shorter": "1:30-2:00"}, 240, 270),
        ("Fixer", {"longer": "0:30-1:00"}, 270, 360),
    ],
)
def test_the_time_of_a_variation(at: str, change: dict[str, str], low: int, high: int) -> None:
    found = varied_time(VARIED, variation(at, change))
    assert (found.low, found.high) == (D(low), D(high))


@pytest.mark.parametrize(
    ("at", "change"), [("Developer", {"time": "7:00"}), ("Bleach", {"longer": "1:00"}), ("Fixer", {"shorter": "4:00"})]
)
def test_a_variation_that_cannot_be(at: str, change: dict[str, str]) -> None:
    with pytest.raises(ValueFault):
        varied_time(VARIED, variation(at, change))


def variation(at: str, change: dict[str, str]) -> Variation:
    return Variation.model_validate({"name": "push", "step": at, "certainty": "common practice", **change})
