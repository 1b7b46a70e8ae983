"""A cost over time on the page of what it is the cost of: a sentence, a picture and the table beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from babel.dates import format_date

from reckoner.calc.film.months import day_after, months_since
from reckoner.calc.prices.history import CostHistory, CostPoint
from reckoner.calc.prices.then_now import ThenNow
from reckoner.money import Money
from reckoner.pages.charts.chart_view import LineChartView, lines_view
from reckoner.pages.charts.geometry import Series
from reckoner.pages.prices.price_words import RULE, beside_prices, reasons
from reckoner.pages.shared.parts import PageWriter

#: So many reasons stand in the sentence; what the others make is told as one sum.
REASONS = 3


@dataclass(frozen=True)
class PointView:
    """One row of the table; the sums are empty on a day without a price for every chemical."""

    day: str
    used: str
    by_price: str
    to_start: str


@dataclass(frozen=True)
class HistoryView:
    """A cost over time.

    Attributes:
        sentence: empty where no list changed anything.
        picture: None where fewer than two dates have a cost.
        points: the table; empty where no date has a cost, or nothing to compare it with.
        repacked: whether another choice of packs ever moved the cost, so that prices alone have a column.
        beside: what prices alone make of the newest difference, where that is another sum.
        rule: what used is priced at.
    """

    sentence: str
    reasons: tuple[str, ...]
    picture: LineChartView | None
    points: tuple[PointView, ...]
    repacked: bool
    beside: str
    rule: str
    more: str


def history_view(history: CostHistory, opening: str, writer: PageWriter) -> HistoryView:
    """Put a history into words; ``opening`` begins the sentence, as A litre."""
    points = _points_shown(history.points)
    priced = any(point.used for point in points)
    return HistoryView(
        sentence=_sentence(history.change, opening, writer) if history.change else "",
        reasons=reasons(history.change, writer, REASONS) if history.change else (),
        picture=_picture(points, opening, writer),
        points=tuple(_point(point, writer) for point in points) if len(points) > 1 and priced else (),
        repacked=_repacked(points),
        beside=beside_prices(history.change, writer) if history.change else "",
        rule=RULE,
        more=writer.links.path("price-changes"),
    )


def _sentence(change: ThenNow, opening: str, writer: PageWriter) -> str:
    if change.then is None and change.now is None:
        return ""
    then = "had no whole price" if change.then is None else f"cost {writer.show.money(change.then)}"
    now = "no whole price" if change.now is None else writer.show.money(change.now)
    return f"{opening} {then} on {writer.show.day(change.day)}, {now} now"


def _points_shown(points: tuple[CostPoint, ...]) -> tuple[CostPoint, ...]:
    """The first date, those on which a figure as shown is another than before, and the last."""
    shown: list[CostPoint] = []
    for point in points:
        if not shown or point is points[-1] or _figures(point) != _figures(shown[-1]):
            shown.append(point)
    return tuple(shown)


def _figures(point: CostPoint) -> tuple[int | None, ...]:
    return tuple(None if sum_ is None else sum_.minor for sum_ in (point.used, point.to_start, point.by_price))


def _repacked(points: Iterable[CostPoint]) -> bool:
    pairs = ((point.used, point.by_price) for point in points)
    return any(used and alone and used.minor != alone.minor for used, alone in pairs)


def _point(point: CostPoint, writer: PageWriter) -> PointView:
    sums = ["" if sum_ is None else writer.show.money(sum_) for sum_ in (point.used, point.by_price, point.to_start)]
    return PointView(writer.show.day(point.day), *sums)


def _picture(points: tuple[CostPoint, ...], opening: str, writer: PageWriter) -> LineChartView | None:
    costs = [(point.day, point.used) for point in points if point.used is not None]
    if len(costs) < 2:
        return None
    first, sum_then = costs[0]
    lines = [_line("used, with the packs chosen on each day", costs, first)]
    if _repacked(points):
        alone = [(point.day, point.by_price) for point in points if point.by_price is not None]
        lines.append(_line("prices alone, no other choice of packs", alone, first))
    view = lines_view(
        "cost-over-time",
        f"{opening} in {sum_then.currency}, by the date of each price list",
        "Each line keeps a cost until the next price list; the figures stand in the table beside it.",
        "month",
        lines,
        lambda months: _month(day_after(months, first), writer),
        writer.show.number,
    )
    # Words at every other tick, so that they do not meet on a phone.
    return replace(view, x_ticks=view.x_ticks[::2])


def _line(name: str, costs: Iterable[tuple[date, Money]], first: date) -> Series:
    return Series(name, tuple((months_since(day, first), money.rounded) for day, money in costs), steps=True)


def _month(day: date, writer: PageWriter) -> str:
    """The month that begins on a day, or the day where it is inside one."""
    return str(format_date(day, "MMM y" if day.day == 1 else "d MMM", locale=writer.show.locale))
