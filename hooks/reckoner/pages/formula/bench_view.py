"""The bench sheet of a formula: what one reads at arm's length while weighing, every batch size in sequence."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import Batch, FormulaResult
from reckoner.calc.mixing.working import plain
from reckoner.pages.formula.batch_view import BatchView, RowView, batch_view
from reckoner.pages.formula.head_view import unproven
from reckoner.pages.formula.mixing_view import adjustment
from reckoner.pages.formula.rescale_data import rescale_data
from reckoner.pages.safety.apart_view import bath_never_together
from reckoner.pages.safety.hazard_view import hazard_view
from reckoner.pages.safety.not_working_view import with_reasons
from reckoner.pages.safety.ph_words import corrosive_words
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.trust.own_change_view import milder_jars, own_weights


@dataclass(frozen=True)
class BenchRow:
    """A line of the list with the names that its jar is easily taken for."""

    line: RowView
    not_the_same: str


@dataclass(frozen=True)
class BenchBatch:
    """One batch size; ``volume`` is in mL, as the script names it."""

    batch: BatchView
    volume: str
    rows: tuple[BenchRow, ...]


@dataclass(frozen=True)
class BenchView:
    """The context of ``bench.md.jinja``.

    Attributes:
        corrosive: that the mixed bath is corrosive, and why.
        protect: what to wear and know before the first jar is opened.
        steps: of mixing, in the words of the formula.
        after: what to know when it goes into the bottle.
        data: for the script that scales the list to another volume.
    """

    title: str
    summary: str
    name: str
    strength: str
    formula: str
    accident: str
    home: str
    does_not_work: str
    own_weights: str
    corrosive: str
    unproven: str
    protect: tuple[str, ...]
    unknown: tuple[str, ...]
    too_weak: tuple[str, ...]
    batches: tuple[BenchBatch, ...]
    mix_temperature: str
    steps: tuple[str, ...]
    step_cautions: tuple[str, ...]
    adjust: str
    after: tuple[str, ...]
    data: str


def bench_view(result: FormulaResult, writer: PageWriter) -> BenchView:
    """Put one formula's bench sheet into words."""
    formula, show = result.formula, writer.show
    hazards = hazard_view(result, writer)
    return BenchView(
        title=f"At the bench: {formula.name}",
        summary="Bench sheet",
        name=formula.name,
        strength=f"{formula.purpose.capitalize()}, {formula.strength}",
        formula=writer.links.to("formula", formula.id),
        accident=writer.links.path("accident"),
        home=writer.links.path(""),
        does_not_work=with_reasons(formula.id, writer),
        own_weights=own_weights(formula.id, writer),
        corrosive=corrosive_words(result, writer),
        unproven=unproven(formula),
        protect=_protect(result, hazards.jar_wear, writer),
        unknown=hazards.unknown,
        too_weak=writer.too_weak(result.too_weak),
        batches=tuple(_batch(batch, result, writer) for batch in result.batches),
        mix_temperature=show.range(formula.mix_temperature) if formula.mix_temperature else "",
        steps=formula.mixing,
        step_cautions=tuple(c.text for c in result.cautions.mixing),
        adjust=adjustment(formula, writer),
        after=tuple(c.text for c in result.cautions.keeping),
        data=rescale_data(result, writer),
    )


def _protect(result: FormulaResult, wear: tuple[str, ...], writer: PageWriter) -> tuple[str, ...]:
    """What to wear, what to beware of and what the bath must never meet, each once."""
    before = (caution.text for caution in result.cautions.before)
    milder = milder_jars((substance.chemical for substance in result.hazards.composition.substances), writer)
    lines = (*wear, *result.formula.cautions, *before, *milder, bath_never_together(result, writer))
    return tuple(line for line in dict.fromkeys(lines) if line)


def _batch(batch: Batch, result: FormulaResult, writer: PageWriter) -> BenchBatch:
    view = batch_view(batch, result, writer)
    chemicals = (row.row.line.chemical for row in batch.rows)
    alike = (writer.not_the_same(chemical) if chemical else "" for chemical in chemicals)
    rows = tuple(BenchRow(line, names) for line, names in zip(view.rows, alike, strict=True))
    return BenchBatch(view, plain(batch.table.volume.base), rows)
