"""Pictures: a value lies where its axis says, ticks stand at equal distances, bars are as long as what they show."""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import pairwise

import pytest

from reckoner.pages.charts.geometry import Series, bar_chart, line_chart

D = Decimal


def points(path: str) -> list[tuple[Decimal, Decimal]]:
    """The corners of a path without steps."""
    return [(D(x), D(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)]


@pytest.mark.parametrize(
    ("far", "high", "last", "top"),
    [("37", "4", 50, 5), ("10", "26", 10, 50), ("0.5", "11", D("0.5"), D("12.5")), ("50", "100", 50, 100)],
)
def test_axes_end_at_a_round_number_that_reaches_the_values(far: str, high: str, last: D, top: D) -> None:
    drawn = line_chart([Series("a", ((D(0), D(0)), (D(far), D(high))), False)])
    assert [tick.value for tick in drawn.x_ticks] == [last * i / 5 for i in range(6)]
    assert [tick.value for tick in drawn.y_ticks] == [top * i / 5 for i in range(6)]


def test_a_value_lies_where_its_axis_says() -> None:
    """Each tick's own value, drawn as a point, is at the tick's place to a tenth of a unit."""
    drawn = line_chart([Series("a", tuple((D(10 * i), D(20 * i)) for i in range(6)), False)])
    assert [x for x, _ in points(drawn.lines[0].path)] == [tick.at for tick in drawn.x_ticks]
    assert [y for _, y in points(drawn.lines[0].path)] == [tick.at for tick in drawn.y_ticks]
    assert (drawn.x_ticks[0].at, drawn.x_ticks[-1].at) == (drawn.left, drawn.right)
    assert (drawn.y_ticks[0].at, drawn.y_ticks[-1].at) == (drawn.floor, drawn.top)


def test_ticks_stand_at_equal_distances() -> None:
    drawn = line_chart([Series("a", ((D(1), D(1)), (D(7), D(3))), False)])
    for ticks in (drawn.x_ticks, drawn.y_ticks):
        gaps = {later.at - one.at for one, later in pairwise(ticks)}
        assert max(gaps) - min(gaps) <= D("0.1")


def test_steps_go_across_before_they_go_up() -> None:
    drawn = line_chart([Series("a", ((D(0), D(0)), (D(5), D(5))), True)])
    start, across, up = re.fullmatch(r"M([\d.]+ [\d.]+)H([\d.]+)V([\d.]+)", drawn.lines[0].path).groups()
    assert [D(one) for one in start.split()] == [drawn.left, drawn.floor]
    assert (D(across), D(up)) == (drawn.right, drawn.top)


def test_lines_are_told_apart_by_their_dashes() -> None:
    line = ((D(0), D(0)), (D(1), D(1)))
    drawn = line_chart([Series(name, line, False) for name in "abc"])
    assert len({one.dash for one in drawn.lines}) == 3


def test_a_line_of_nothing_has_an_axis() -> None:
    drawn = line_chart([Series("a", ((D(0), D(0)), (D(1), D(0))), False)])
    assert [tick.value for tick in drawn.y_ticks] == [0, 1, 2, 3, 4, 5]
    assert {y for _, y in points(drawn.lines[0].path)} == {drawn.floor}


def test_bars_are_as_long_as_what_they_show() -> None:
    drawn = bar_chart([("b", D(1)), ("a", D(4)), ("c", D(1))])
    assert [bar.name for bar in drawn.bars] == ["a", "b", "c"]
    longest = drawn.bars[0].length
    assert [bar.length / longest for bar in drawn.bars] == [1, D("0.25"), D("0.25")]
    assert longest <= drawn.width
    places = [bar.y for bar in drawn.bars]
    assert places[1] - places[0] == places[2] - places[1] > drawn.thick
    assert places[-1] + drawn.thick <= drawn.height
    assert all(0 < bar.name_y < bar.y for bar in drawn.bars)


def test_the_longest_bar_comes_first_and_equal_ones_by_name() -> None:
    assert [bar.name for bar in bar_chart([("a", D(1)), ("c", D(4)), ("b", D(4))]).bars] == ["b", "c", "a"]


def test_bars_of_nothing_have_no_length() -> None:
    assert [bar.length for bar in bar_chart([("a", D(0))]).bars] == [0]
