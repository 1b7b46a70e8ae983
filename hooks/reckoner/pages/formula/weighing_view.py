"""The weighing tables of a formula's page, with what its source says of single ingredients."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.calc.mixing.scaling import published_difference
from reckoner.calc.mixing.stand_ins import stand_ins
from reckoner.pages.formula.batch_view import BatchView, batch_view
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.formula import Formula
from reckoner.units import Proportion


@dataclass(frozen=True)
class PublishedView:
    """An old-unit amount beside the metric one."""

    name: str
    old: str
    metric: str
    difference: str


@dataclass(frozen=True)
class Weighing:
    """A list for each batch size.

    Attributes:
        too_weak: jars that cannot reach the strength.
        notes: ingredients with remarks on them, whose figures are for ``makes``.
        published: amounts in old units, for ``published_for``.
    """

    batches: tuple[BatchView, ...]
    too_weak: tuple[str, ...]
    notes: tuple[tuple[str, str], ...]
    makes: str
    published: tuple[PublishedView, ...]
    published_for: str


def weighing(result: FormulaResult, writer: PageWriter) -> Weighing:
    """Put what is weighed into words."""
    formula, show = result.formula, writer.show
    return Weighing(
        batches=tuple(batch_view(batch, result, writer) for batch in result.batches),
        too_weak=writer.too_weak(result.too_weak),
        notes=_ingredient_notes(formula, writer),
        makes=show.amount(formula.makes),
        published=_published(formula, writer),
        published_for=show.amount(formula.published_for) if formula.published_for else "",
    )


def _ingredient_notes(formula: Formula, writer: PageWriter) -> tuple[tuple[str, str], ...]:
    """Remarks of the source on single ingredients: their figures are for what the formula makes, not for a batch."""
    notes = []
    for index, ingredient in enumerate(formula.ingredients):
        for item in (ingredient, *ingredient.alternatives):
            if item.note:
                named = writer.chemical(item.chemical) if item.chemical else writer.formula(item.formula or "")
                notes.append((named.text, item.note))
        for jar, amount in stand_ins(
            writer.results.formulas[formula.id].listed, index, writer.results.catalogue.chemicals
        ):
            name = writer.named(jar.chemical.id, jar.form.id)
            text = f"the formula accepts {writer.show.exactish(amount, jar.unit)} {name} instead, mole for mole"
            notes.append((writer.short_name(ingredient.chemical or ""), text))
    return tuple(notes)


def _published(formula: Formula, writer: PageWriter) -> tuple[PublishedView, ...]:
    differing = []
    for ingredient in formula.ingredients:
        difference = published_difference(formula, ingredient)
        if difference is None or ingredient.as_published is None:
            continue
        name = writer.short_name(ingredient.chemical) if ingredient.chemical else (ingredient.formula or "")
        sign = "+" if difference > 0 else "−" if difference < 0 else ""
        differing.append(
            PublishedView(
                name,
                writer.show.published(ingredient.as_published),
                f"{writer.show.amount(ingredient.amount)} in {writer.show.amount(formula.makes)}",
                f"{sign}{writer.show.percent(Proportion(abs(difference) / 100))}",
            )
        )
    return tuple(differing)
