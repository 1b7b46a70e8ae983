"""What a plan asks for, in words, and the sum that leads from its films to litres of each bath."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.buying.demand import BathDemand, FilmUse, plan_rolls
from reckoner.calc.film.capacity import rolls_of
from reckoner.calc.film.film_baths import WAIT
from reckoner.calc.film.whole_films import whole_up
from reckoner.calc.mixing.working import plain
from reckoner.calc.prices.complete_sets import usual_baths
from reckoner.money import shares
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.records.plan import Plan, Want
from reckoner.rounding import CENT, round_half_up


@dataclass(frozen=True)
class WantLine:
    """One line of a plan: what it is for, and how much."""

    name: Link
    text: str


@dataclass(frozen=True)
class FilmSum:
    """The films of one process in rolls: lines that add up to ``total``."""

    process: Link
    lines: tuple[str, ...]
    total: str


@dataclass(frozen=True)
class AskedView:
    """What a plan asks for.

    Attributes:
        conditions: what else is said in the plan, each with its heading.
        films: by process, in rolls.
        baths: from rolls to batches and litres, bath by bath.
    """

    wants: tuple[WantLine, ...]
    conditions: tuple[tuple[str, str], ...]
    films: tuple[FilmSum, ...]
    baths: tuple[WantLine, ...]


def asked_view(plan: Plan, baths: tuple[BathDemand, ...], writer: PageWriter) -> AskedView:
    """Put what a plan asks for into words."""
    processes = dict.fromkeys(want.process for want in plan.wants if want.process and want.films)
    return AskedView(
        wants=tuple(_want(want, writer) for want in plan.wants),
        conditions=tuple(_conditions(plan, writer)),
        films=tuple(_film_sum(plan, process, writer) for process in processes),
        baths=tuple(
            WantLine(writer.formula(bath.formula), _bath(bath, _counted(plan, bath.formula, writer), writer))
            for bath in baths
            if bath.batches
        ),
    )


def _want(want: Want, writer: PageWriter) -> WantLine:
    name = writer.process(want.process) if want.process else writer.formula(want.formula or "")
    if want.litres is not None:
        count = len(usual_baths(writer.results.catalogue.processes[want.process])) if want.process else 1
        each = f" of each of its {count} baths" if count > 1 else ""
        return WantLine(name, writer.show.amount(want.litres) + each)
    return WantLine(name, "; ".join(f"{film.count} × {_format(film.format, writer)}" for film in want.films))


def _format(format_id: str, writer: PageWriter) -> str:
    film = writer.results.catalogue.films.get(format_id)
    return writer.film(film) if film else format_id


def _conditions(plan: Plan, writer: PageWriter) -> Iterator[tuple[str, str]]:
    over = writer.show.range(plan.over)
    yield (
        "Over",
        f"{over}, and then nothing more is mixed" if plan.nothing_after else f"{over}, and then on at this rate",
    )
    if any(want.films for want in plan.wants):
        yield "Exposed film waits", f"at most {writer.show.range(plan.wait or WAIT)}"
    yield "Avoided suppliers", ", ".join(writer.supplier(supplier) for supplier in plan.avoid) or "none"
    yield "Fetched from shops", "yes, where an offer is not sent" if plan.collect else "nothing"
    yield "Shelf", "counts first" if plan.use_shelf else "is left alone"
    yield "Budget", writer.show.money(plan.budget) if plan.budget else "none"
    gear = "; ".join(f"{item.name}, {writer.show.money(item.price)}" for item in plan.gear)
    yield "Gear, bought once and in none of the sums", gear or "none"


def _film_sum(plan: Plan, process: str, writer: PageWriter) -> FilmSum:
    """Lines rounded so that those shown add up to the total shown."""
    formats = writer.results.catalogue.films
    films = [film for want in plan.wants if want.process == process for film in want.films]
    total = plan_rolls(plan, process, writer.results.catalogue)
    hundredths = [rolls_of(formats[film.format]) * film.count / CENT for film in films]
    shown = shares(int(round_half_up(total / CENT, Decimal(1))), hundredths)
    lines = tuple(
        f"{film.count} × {_format(film.format, writer)}, "
        f"{_figure(rolls_of(formats[film.format]), writer)} each: {_rolls(part * CENT, writer)}"
        for film, part in zip(films, shown, strict=True)
    )
    count = sum(film.count for film in films)
    counted = "1 film" if count == 1 else f"{count} films"
    return FilmSum(writer.process(process), lines, f"{counted}, {_rolls(sum(shown) * CENT, writer)}")


def _rolls(number: Decimal, writer: PageWriter) -> str:
    """To the hundredth: 48.52 rolls."""
    return _figure(round_half_up(number, CENT), writer, 9)


def _figure(rolls: Decimal, writer: PageWriter, figures: int = 4) -> str:
    return writer.show.exactish(rolls, "roll" if rolls == 1 else "rolls", figures)


def _counted(plan: Plan, formula: str, writer: PageWriter) -> Mapping[str, int]:
    """Films of each format that go through a bath."""
    processes, counts = writer.results.catalogue.processes, Counter[str]()
    for want in plan.wants:
        if want.process and formula in usual_baths(processes[want.process]):
            counts.update({film.format: film.count for film in want.films})
    return counts


def _bath(bath: BathDemand, films: Mapping[str, int], writer: PageWriter) -> str:
    """From whole films to batches: 1 × Super 8 or 3 × 135 a batch, poured away: 20 batches of 1 L, 20 L."""
    show, first = writer.show, writer.results.catalogue.settings.first_batch
    batches = f"{bath.batches} batches" if bath.batches > 1 else "1 batch"
    litres = first.litres * bath.batches
    made = f"{batches} of {show.amount(first)}, {_litres(litres, writer)}"
    if bath.litres > litres:
        made += f"; {_litres(bath.litres - litres, writer)} asked for besides: {_litres(bath.litres, writer)}"
    if not bath.uses:
        return f"new with the bath that is exhausted first: {made}"
    each = " or ".join(_use(use, writer) for use in bath.uses)
    aged = "; too old before it is spent" if bath.ends_by == "age" else ""
    return f"{each}; {_rule(bath, writer)}{aged}: {made}{_not_full(bath, films)}"


def _not_full(bath: BathDemand, films: Mapping[str, int]) -> str:
    """Why the batches are more than the films would fill."""
    filled = [Decimal(films.get(use.format, 0) * use.batches) / use.films for use in bath.uses]
    # A bath that is poured away after each tankful takes one format at a time.
    full = sum(map(whole_up, filled)) if bath.uses[0].once else whole_up(sum(filled, Decimal(0)))
    if full >= bath.batches or bath.ends_by == "age":
        return ""
    return f". {full} would do if every batch were full; films that come too far apart each take a batch of their own"


def _use(use: FilmUse, writer: PageWriter) -> str:
    """So many whole films in a batch, or in the batches that are mixed together."""
    batch = "a batch" if use.batches == 1 else f"{use.batches} batches mixed together"
    return f"{use.films} × {_format(use.format, writer)} in {batch}"


def _rule(bath: BathDemand, writer: PageWriter) -> str:
    """How the bath is used: by the tankful, or shared by several tankfuls one after another."""
    tanks = dict.fromkeys(use.tankful.tank.name for use in bath.uses if use.tankful.tank)
    in_tanks = f" ({', '.join(tanks)})" if tanks else ""
    if bath.uses[0].once:
        return f"poured away after each tankful{in_tanks}"
    loads = max(use.loads for use in bath.uses)
    return (
        f"one batch is shared by up to {loads} tankfuls, one after another{in_tanks}"
        if loads > 1
        else f"used again{in_tanks}"
    )


def _litres(litres: Decimal, writer: PageWriter) -> str:
    return f"{writer.show.number(Decimal(plain(litres, 3)))} L"
