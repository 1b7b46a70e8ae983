"""Kit or own drawn: money by rolls and by litres as steps, each picture with the table of the same figures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying import in_currency
from reckoner.calc.chart import Series
from reckoner.calc.kit_or_own import Comparison
from reckoner.calc.sides import Run
from reckoner.pages.basket_view import Say
from reckoner.pages.chart_view import LineChartView, lines_view
from reckoner.pages.parts import Shower

MIXING = "Mixing"
#: So many lines a table of steps has; above that some are left out, and it says so.
MOST_LINES = 20


@dataclass(frozen=True)
class StepsView:
    """A picture with the table of the same figures; ``some`` says that lines are left out."""

    picture: LineChartView
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    some: bool


def by_roll(section: str, found: Comparison, labels: list[str], shower: Shower) -> StepsView | None:
    """Money spent roll by roll; a lab's own steps, one for each roll, make no lines of the table."""
    if found.own is None:
        return None
    ways = [(MIXING, found.own.run), *((n, a.run) for n, a in zip(labels, found.alternatives, strict=True))]
    stepping = [found.own.run, *(a.run for a in found.alternatives if a.kit.kind != "lab")]
    crossed = {change.at for a in found.alternatives for change in a.crossings}
    return _steps(f"{section}-rolls", ("rolls", "Roll"), Decimal(1), ways, (_changes(stepping), crossed), shower)


def by_litre(section: str, found: Comparison, labels: list[str], shower: Shower) -> StepsView | None:
    """Money spent litre by litre, a batch of each bath at a time; a lab makes none."""
    pairs = zip(labels, found.alternatives, strict=True)
    ways = [(label, a.by_litre) for label, a in pairs if a.by_litre is not None]
    if found.own is None or found.own.by_litre is None or not ways:
        return None
    ways = [(MIXING, found.own.by_litre), *ways]
    kept = _changes(run for _, run in ways)
    crossed = {change.at for a in found.alternatives for change in a.litre_crossings}
    words = ("litres of each bath", "L")
    return _steps(f"{section}-litres", words, found.cost.batch_litres, ways, (kept, crossed), shower)


def _changes(runs: Iterable[Run]) -> set[int]:
    """Places where some sum rises."""
    found = set()
    for run in runs:
        spent = (Decimal(-1), *run.spent())
        found |= {at for at in range(1, len(spent)) if spent[at] != spent[at - 1]}
    return found


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
    ways: list[tuple[str, Run]],
    marks: tuple[set[int], set[int]],
    shower: Shower,
) -> StepsView:
    """Draw some runs and write their table; ``marks`` are the places where sums rise and where runs cross."""
    say, show = Say(shower), shower.show
    last = len(ways[0][1].spent())
    (axis, head), (kept, crossed) = words, marks
    lines = sorted(kept | crossed | {last})
    some = len(lines) > MOST_LINES
    if some:
        lines = _thinned(lines, crossed)
    series = [Series(name, _points(run, each, shower), steps=True) for name, run in ways]
    sums = "; ".join(f"{name} {say.exact(run.spent()[-1])}" for name, run in ways)
    picture = lines_view(
        chart_id,
        f"Money spent ({shower.results.catalogue.settings.currency}) by {axis}",
        f"Step lines. After {show.number(each * last)} {axis}: {sums}.",
        axis,
        series,
        show.number,
        show.number,
    )
    rows = tuple((show.number(each * at), *(say.exact(run.spent()[at - 1]) for _, run in ways)) for at in lines)
    return StepsView(picture, (head, *(name for name, _ in ways)), rows, some)


def _points(run: Run, each: Decimal, shower: Shower) -> tuple[tuple[Decimal, Decimal], ...]:
    cent = in_currency(1, shower.results.catalogue.settings.currency)
    sums = [cent.times(spent).rounded for spent in run.spent()]
    return ((Decimal(0), Decimal(0)), *((each * at, spent) for at, spent in enumerate(sums, 1)))
