"""Kit or own drawn: money by rolls and by litres as steps, each picture with the table of the same figures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.compare.kit_or_own import Comparison
from reckoner.money import ExactMinor, Minor, in_currency
from reckoner.pages.charts.chart_view import LineChartView, lines_view
from reckoner.pages.charts.geometry import Series
from reckoner.pages.compare.sums import SumWords
from reckoner.pages.shared.parts import PageWriter
from reckoner.rounding import round_half_up

MIXING = "Mixing"
Sums = tuple[ExactMinor, ...]
#: So many lines a table of steps has; above that some are left out, and it says so.
MOST_LINES = 20


@dataclass(frozen=True)
class StepsView:
    """A picture with the table of the same figures; ``summary`` says how many lines there are, and the last."""

    picture: LineChartView
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    summary: str


def by_roll(section: str, comparison: Comparison, labels: list[str], writer: PageWriter) -> StepsView | None:
    """Money spent roll by roll; a lab's own steps, one for each roll, make no lines of the table."""
    if comparison.own is None:
        return None
    pairs = zip(labels, comparison.alternatives, strict=True)
    ways = [(MIXING, comparison.own.run.spent()), *((name, a.run.spent()) for name, a in pairs)]
    stepping = [comparison.own.run.spent(), *(a.run.spent() for a in comparison.alternatives if a.kit.kind != "lab")]
    crossed = {change.at for a in comparison.alternatives for change in a.crossings}
    unit = comparison.question.unit
    words = (f"{unit}s", unit.capitalize())
    return _steps(f"{section}-rolls", words, Decimal(1), ways, (_changes(stepping), crossed), writer)


def by_litre(section: str, comparison: Comparison, labels: list[str], writer: PageWriter) -> StepsView | None:
    """Money spent litre by litre, a batch of each bath at a time; a lab makes none."""
    pairs = zip(labels, comparison.alternatives, strict=True)
    ways = [(label, a.by_litre) for label, a in pairs if a.by_litre is not None]
    if comparison.own is None or comparison.own.by_litre is None or not ways:
        return None
    ways = [(MIXING, comparison.own.by_litre), *ways]
    rises = _changes(sums for _, sums in ways)
    crossed = {change.at for a in comparison.alternatives for change in a.litre_crossings}
    words = ("litres of each bath", "L")
    return _steps(f"{section}-litres", words, comparison.cost.batch_litres, ways, (rises, crossed), writer)


def _changes(ways: Iterable[Sums]) -> set[int]:
    """Places where some sum rises by a minor unit or more."""
    rises = set()
    for sums in ways:
        spent = (-1, *whole(sums))
        rises |= {at for at in range(1, len(spent)) if spent[at] != spent[at - 1]}
    return rises


def whole(sums: Sums) -> tuple[Minor, ...]:
    """Sums in whole minor units, rounded once: pictures and tables show the same."""
    return tuple(Minor(int(round_half_up(exact, Decimal(1)))) for exact in sums)


def _thinned(lines: list[int], crossed: set[int]) -> list[int]:
    """The first lines, every crossing, the last line, and of the rest as many as there is room for."""
    head = lines[: MOST_LINES // 2]
    tail = [at for at in lines[len(head) :] if at not in crossed]
    every = -(-len(tail) // (MOST_LINES // 2))
    return sorted({*head, *(crossed & set(lines)), *tail[::every], lines[-1]})


def _steps(
    chart_id: str,
    words: tuple[str, str],
    each: Decimal,
    ways: list[tuple[str, Sums]],
    marks: tuple[set[int], set[int]],
    writer: PageWriter,
) -> StepsView:
    """Draw some sums and write their table; ``marks`` are the places where sums rise and where they cross."""
    in_words, show = SumWords(writer), writer.show
    spent = [(name, whole(sums)) for name, sums in ways]
    last = len(spent[0][1])
    (axis, head), (kept, crossed) = words, marks
    lines = sorted(kept | crossed | {last})
    some = len(lines) > MOST_LINES
    if some:
        lines = _thinned(lines, crossed)
    currency = writer.results.catalogue.settings.currency
    ends = "; ".join(f"{name} {in_words.minor(sums[-1])}" for name, sums in spent)
    picture = lines_view(
        chart_id,
        f"Money spent ({currency}) by {axis}",
        f"Step lines. After {show.number(each * last)} {axis}: {ends}.",
        axis,
        [Series(name, _points(sums, each, currency), steps=True) for name, sums in spent],
        show.number,
        show.number,
    )
    rows = tuple((show.number(each * at), *(in_words.minor(sums[at - 1]) for _, sums in spent)) for at in lines)
    counted = f"{len(rows)} rows of {len(kept | crossed | {last})}" if some else f"{len(rows)} rows"
    summary = f"The same in figures, {counted}. {show.number(each * last)} {axis}: {ends}"
    return StepsView(picture, (head, *(name for name, _ in ways)), rows, summary)


def _points(sums: tuple[int, ...], each: Decimal, currency: str) -> tuple[tuple[Decimal, Decimal], ...]:
    spent = [in_currency(sum_, currency).number for sum_ in sums]
    return ((Decimal(0), Decimal(0)), *((each * at, sum_) for at, sum_ in enumerate(spent, 1)))
