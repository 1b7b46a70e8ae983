"""Pictures in words: title, description, and the figures at the ticks."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.pages.charts.geometry import BarChart, LineChart, Series, Tick, bar_chart, line_chart

FigureWords = Callable[[Decimal], str]


@dataclass(frozen=True)
class TickView:
    """A mark on an axis with its figure."""

    at: Decimal
    text: str


@dataclass(frozen=True)
class LineChartView:
    """A chart of lines; ``id`` is unique on the page, and the same figures stand in a table beside it."""

    id: str
    title: str
    description: str
    x_name: str
    chart: LineChart
    x_ticks: tuple[TickView, ...]
    y_ticks: tuple[TickView, ...]


@dataclass(frozen=True)
class BarView:
    """One bar with its name and figure."""

    text: str
    y: Decimal
    name_y: Decimal
    length: Decimal


@dataclass(frozen=True)
class BarChartView:
    """A chart of bars."""

    id: str
    title: str
    description: str
    chart: BarChart
    bars: tuple[BarView, ...]


def lines_view(
    chart_id: str,
    title: str,
    description: str,
    x_name: str,
    series: Iterable[Series],
    x_words: FigureWords,
    y_words: FigureWords,
) -> LineChartView:
    """Draw lines and word their ticks."""
    chart = line_chart(series)
    return LineChartView(
        chart_id, title, description, x_name, chart, _ticks(chart.x_ticks, x_words), _ticks(chart.y_ticks, y_words)
    )


def bars_view(
    chart_id: str, title: str, description: str, bars: Iterable[tuple[str, Decimal]], in_words: FigureWords
) -> BarChartView:
    """Draw bars; each name is followed by its figure."""
    chart = bar_chart(bars)
    worded = tuple(BarView(f"{bar.name} {in_words(bar.value)}", bar.y, bar.name_y, bar.length) for bar in chart.bars)
    return BarChartView(chart_id, title, description, chart, worded)


def _ticks(ticks: tuple[Tick, ...], in_words: FigureWords) -> tuple[TickView, ...]:
    return tuple(TickView(tick.at, in_words(tick.value)) for tick in ticks)
