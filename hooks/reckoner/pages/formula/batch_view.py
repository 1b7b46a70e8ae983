"""Weighing tables in words: one batch size with its rows, instruments, advice and cautions."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.bath import Batch, BatchRow, FormulaResult
from reckoner.calc.hazards.incompatible import Meeting, meetings
from reckoner.calc.mixing.instruments import Measured
from reckoner.calc.mixing.scaling import Line
from reckoner.calc.mixing.weighability import Weighability
from reckoner.pages.safety.not_working_view import before
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.records.caution import Caution

#: Above a list that holds what must never meet.
STOP = "Stop: {left} and {right} must not meet in one vessel. {result}. Weigh nothing, and look at the source again."
#: Sentences of a weighing table; the script that rescales a bench sheet fills in the same ones.
EXACTLY = "Exactly {exactly}: ±{error} on this instrument; {wanted} wanted ({reason})"
LOTS = "{tool}, in {portions} lots"
MAKE_UP = "{solvent} to make {volume}"
FROM_SIZE = {"g": "Weighable from a batch of {size} up.", "mL": "Measurable from a batch of {size} up."}
STOCK = (
    "Better as a stock solution: {weigh} made up to {volume} is {strength} % w/v; measure {pour} of it ({tool}) in "
    "place of that much water."
)


@dataclass(frozen=True)
class AmountView:
    """An amount with the form it is an amount of, and the instrument."""

    figure: str
    form: str
    instrument: str
    poor: str


@dataclass(frozen=True)
class RowView:
    """One line of a weighing table.

    Attributes:
        number: place in mixing order as printed; empty for alternatives.
        jar: the same from the jar that was bought, or None.
        advice: what to do where the amount cannot be weighed.
        cautions: of the trade, for this line of the list.
    """

    number: str
    name: Link
    kind: str
    asked: AmountView
    jar: AmountView | None
    advice: str
    costed: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class BatchView:
    """One batch size.

    Attributes:
        main: the owner's first batch, its half and its double, which the one file keeps.
        stop: that it does not work as written, and that two chemicals of the list must never meet.
    """

    anchor: str
    main: bool
    title: str
    stop: str
    cautions: str
    start: str
    start_note: str
    rows: tuple[RowView, ...]
    make_up: str


#: Beside the starting water.
LESS_WATER = "; less than written, as what you have brings water of its own"


def batch_view(batch: Batch, result: FormulaResult, writer: PageWriter) -> BatchView:
    """Put one batch size into words."""
    formula, show, table = result.formula, writer.show, batch.table
    title = show.amount(table.volume)
    start = ""
    if table.start_water is not None and table.start_measured is not None:
        start = show.stepped(table.start_measured.rounded, table.start_measured.step, "mL")
    warm = f" at {show.range(formula.start_temperature)}" if formula.start_temperature and start else ""
    solvent = f"{formula.water} water"
    if formula.make_up_with is not None and formula.make_up_with.chemical:
        solvent = writer.short_name(formula.make_up_with.chemical)
    return BatchView(
        anchor="make-" + title.replace("\u00a0", "-").lower(),
        main=table.volume.base in _main_sizes(writer),
        title=title,
        stop=before(result.formula.id, _stop(result, writer), writer),
        cautions=" ".join(caution.text for caution in result.cautions.batch),
        start=start,
        start_note=f"{formula.water} water{warm}{LESS_WATER if result.less_water else ''}" if start else "",
        rows=tuple(_row(row, result, writer) for row in batch.rows),
        make_up="" if formula.dilution else MAKE_UP.format(solvent=solvent, volume=title),
    )


def _main_sizes(writer: PageWriter) -> frozenset[Decimal]:
    first = writer.results.catalogue.settings.first_batch.base
    return frozenset((first / 2, first, first * 2))


def _row(row: BatchRow, result: FormulaResult, writer: PageWriter) -> RowView:
    line, kind = row.row.line, ""
    if line.alternative:
        kind = "or instead"
    elif line.optional:
        kind = "optional, not in the cost"
    if line.chemical and line.form:
        name = writer.chemical(line.chemical)
        form = writer.form(line.chemical, line.form)
    else:
        name, form = writer.formula(line.formula or ""), ""
    asked = _amount(row, form, writer)
    costed = "the cost uses this one" if line.alternative and row.costed else ""
    number = "" if line.alternative else str(line.index + 1)
    jar = _jar(row, writer)
    # Where the jar holds another form, that is what lies on the balance and what the advice is about.
    judged, measured = (row.jar.weighability, row.jar.measured) if row.jar else (row.weighability, row.row.measured)
    advice = _advice(judged, measured.unit, writer)
    poor = f"{(jar or asked).poor}. {advice}" if advice else ""
    cautions = _cautions(line, result)
    return RowView(number, name, kind, asked, jar, poor, costed, tuple(caution.text for caution in cautions))


def _cautions(line: Line, result: FormulaResult) -> tuple[Caution, ...]:
    """Above each row what its own jar asks for, above an alternative what it asks for beside that."""
    above = result.cautions.ingredients.get((line.index, 0), ())
    if not line.alternative:
        return above
    return tuple(
        ingredient
        for ingredient in result.cautions.ingredients.get((line.index, line.alternative), ())
        if ingredient not in above
    )


def _stop(result: FormulaResult, writer: PageWriter) -> str:
    """What must never meet, and stands in one list; solutions that are joined have their own place on the page."""
    table = writer.results.catalogue.incompatibilities
    lines = [line.chemical for line in result.formula.ingredients if line.chemical]
    together = (
        [meeting for meeting in meetings(lines, lines, table, result.formula.purpose) if meeting.danger]
        if table
        else []
    )
    return " ".join(STOP.format(**_meeting(meeting, writer)) for meeting in together)


def _meeting(meeting: Meeting, writer: PageWriter) -> dict[str, str]:
    sides = [", ".join(writer.short_name(chemical) for chemical in side) for side in (meeting.left, meeting.right)]
    return {"left": sides[0], "right": sides[1], "result": meeting.pair.result.rstrip(".")}


def _amount(row: BatchRow, form: str, writer: PageWriter) -> AmountView:
    return _measured(row.row.exact, row.row.measured, row.weighability, form, writer)


def _jar(row: BatchRow, writer: PageWriter) -> AmountView | None:
    if row.jar is None:
        return None
    jar = row.jar.jar
    same = jar.chemical.id == row.row.line.chemical
    form = writer.form(jar.chemical.id, jar.form.id)
    if not same:
        form = f"{writer.short_name(jar.chemical.id)}, {form}"
    assay = f", assay {writer.show.strength(jar.assay)}" if jar.assay else ""
    return _measured(row.jar.exact, row.jar.measured, row.jar.weighability, form + assay, writer)


def _measured(exact: Decimal, measured: Measured, judged: Weighability, form: str, writer: PageWriter) -> AmountView:
    figure, poor = writer.show.stepped(measured.rounded, measured.step, measured.unit), ""
    if not judged.within:
        exactly = writer.show.exactish(exact, measured.unit)
        # Below half a step the instrument would show nothing.
        figure = figure if measured.rounded else exactly
        percent, wanted = writer.show.percent, judged.tolerance
        poor = EXACTLY.format(
            exactly=exactly, error=percent(judged.error), wanted=percent(wanted.fraction), reason=wanted.reason
        )
    instrument = measured.instrument
    if measured.portions > 1:
        instrument = LOTS.format(tool=instrument, portions=measured.portions)
    return AmountView(figure, form, instrument, poor)


def _advice(judged: Weighability, unit: str, writer: PageWriter) -> str:
    if judged.within:
        return ""
    show, stock = writer.show, judged.advice
    from_size = FROM_SIZE[unit].format(size=show.exactish(judged.smallest_batch, "mL"))
    if stock is None:
        return f"{(judged.no_advice or '').capitalize()}. {from_size}"
    better = STOCK.format(
        weigh=show.stepped(stock.weigh.rounded, stock.weigh.step, "g"),
        volume=show.exactish(stock.volume, "mL"),
        strength=show.number(stock.percent),
        pour=show.stepped(stock.measure.rounded, stock.measure.step, "mL"),
        tool=stock.measure.instrument,
    )
    return f"{better} {from_size}"
