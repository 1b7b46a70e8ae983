"""Geometry of pictures: values to places on a drawing 320 units wide, ticks at round figures.

Lines differ by dashes, not by colour, so that a picture says the same in every colour scheme and on paper.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.rounding import round_half_up

WIDTH, HEIGHT = Decimal(320), Decimal(220)
LEFT, RIGHT, TOP, BOTTOM = Decimal(44), Decimal(16), Decimal(10), Decimal(34)
#: stroke-dasharray of the first, second, … line.
DASHES = ("none", "7 3", "2 3", "10 3 2 3")
TENTH = Decimal("0.1")
BAR, GAP = Decimal(16), Decimal(22)
#: Parts that the figures cut an axis into.
TICKS = 5


@dataclass(frozen=True)
class Series:
    """One line of a picture: points by rising x. ``steps`` keeps a value until the next point."""

    name: str
    points: tuple[tuple[Decimal, Decimal], ...]
    steps: bool = False


@dataclass(frozen=True)
class Tick:
    """A mark on an axis: its place and the figure it stands for."""

    at: Decimal
    value: Decimal


@dataclass(frozen=True)
class DrawnLine:
    """A line as drawn; ``path`` is the d attribute of an SVG path."""

    name: str
    path: str
    dash: str


@dataclass(frozen=True)
class LineChart:
    """A drawn chart of lines over one pair of axes.

    Attributes:
        y_words, x_words, name_words: where the figures of the axes and the name of the lower axis stand.
    """

    width: Decimal
    height: Decimal
    left: Decimal
    floor: Decimal
    right: Decimal
    top: Decimal
    y_words: Decimal
    x_words: Decimal
    name_words: Decimal
    lines: tuple[DrawnLine, ...]
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]


@dataclass(frozen=True)
class DrawnBar:
    """One bar lying on its side, with its name above it."""

    name: str
    value: Decimal
    y: Decimal
    name_y: Decimal
    length: Decimal


@dataclass(frozen=True)
class BarChart:
    """Bars from the largest down; the largest reaches across."""

    width: Decimal
    height: Decimal
    thick: Decimal
    bars: tuple[DrawnBar, ...]


def line_chart(series: Iterable[Series]) -> LineChart:
    """Draw lines from zero on both axes; at least one point is needed."""
    drawn = tuple(series)
    points = [point for line in drawn for point in line.points]
    far, high = (_round_up(max(point[axis] for point in points)) for axis in (0, 1))
    across, up = WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM
    floor = HEIGHT - BOTTOM

    def place(point: tuple[Decimal, Decimal]) -> tuple[Decimal, Decimal]:
        return (_tenth(LEFT + point[0] / far * across), _tenth(floor - point[1] / high * up))

    return LineChart(
        width=WIDTH,
        height=HEIGHT,
        left=LEFT,
        floor=floor,
        right=WIDTH - RIGHT,
        top=TOP,
        y_words=LEFT - 4,
        x_words=floor + 14,
        name_words=HEIGHT - 4,
        lines=tuple(
            DrawnLine(line.name, _path([place(point) for point in line.points], line.steps), DASHES[i % len(DASHES)])
            for i, line in enumerate(drawn)
        ),
        x_ticks=tuple(Tick(_tenth(LEFT + i * across / TICKS), i * far / TICKS) for i in range(TICKS + 1)),
        y_ticks=tuple(Tick(_tenth(floor - i * up / TICKS), i * high / TICKS) for i in range(TICKS + 1)),
    )


def bar_chart(bars: Iterable[tuple[str, Decimal]]) -> BarChart:
    """Draw bars, the longest first; ties by name."""
    sorted_bars = sorted(bars, key=lambda bar: (-bar[1], bar[0]))
    longest = max((value for _, value in sorted_bars), default=Decimal(1)) or Decimal(1)
    drawn = tuple(
        DrawnBar(
            name,
            value,
            y=index * (BAR + GAP) + GAP - 4,
            name_y=index * (BAR + GAP) + GAP - 8,
            length=_tenth(value / longest * (WIDTH - 2)),
        )
        for index, (name, value) in enumerate(sorted_bars)
    )
    return BarChart(WIDTH, (BAR + GAP) * len(drawn) + 4, BAR, drawn)


def _path(points: list[tuple[Decimal, Decimal]], steps: bool) -> str:
    pieces = [f"M{points[0][0]} {points[0][1]}"]
    for x, y in points[1:]:
        pieces.append(f"H{x}V{y}" if steps else f"L{x} {y}")
    return "".join(pieces)


def _round_up(value: Decimal) -> Decimal:
    """The least 1, 2, 2.5 or 5 times a power of ten a tick that reaches ``value``.

    >>> _round_up(Decimal("37"))
    Decimal('50')
    """
    if value <= 0:
        return Decimal(TICKS)
    per_tick = value / TICKS
    power = Decimal(10) ** per_tick.adjusted()
    for factor in ("1", "2", "2.5", "5", "10"):
        step = Decimal(factor) * power
        if step >= per_tick:
            return (step * TICKS).normalize() + 0
    raise AssertionError("10 times the power is always enough")


def _tenth(value: Decimal) -> Decimal:
    return round_half_up(value, TENTH)
