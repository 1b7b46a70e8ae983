"""What a formula's page shows, in words; the template only lays it out."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.cautions import jar_cautions
from reckoner.calc.mixing.scaling import published_difference
from reckoner.calc.mixing.stand_ins import stand_ins
from reckoner.pages.formula.batch_view import BatchView, batch_view
from reckoner.pages.formula.use_view import UseView, use_view
from reckoner.pages.prices.cost_view import CostView, formula_cost
from reckoner.pages.prices.history_view import HistoryView, history_view
from reckoner.pages.process.control_view import ControlView, controls_view
from reckoner.pages.safety.accident_view import RINSE
from reckoner.pages.safety.apart_view import DisposalView, PairView, formula_disposal, never_together, pairs_view
from reckoner.pages.safety.hazard_view import HazardView, hazard_view
from reckoner.pages.safety.law_view import NORTHERN_IRELAND, LawLine, own_law
from reckoner.pages.safety.not_working_view import with_reasons
from reckoner.pages.shared.parts import UNPROVEN, Link, PageWriter, SourceView, unproven_words
from reckoner.pages.trust.dates_view import DatedView, classified, costed, dates_view, disposed
from reckoner.pages.trust.working_view import WorkingView, workings
from reckoner.records.formula import Formula
from reckoner.records.use import Keeping


@dataclass(frozen=True)
class PublishedView:
    """An old-unit amount beside the metric one."""

    name: str
    old: str
    metric: str
    difference: str


@dataclass(frozen=True)
class FormulaView:
    """The context of ``formula.md.jinja``."""

    title: str
    label: str
    bench: str
    accident: str
    rinse: str
    csv: str
    summary: str
    also: tuple[str, ...]
    aliases: tuple[str, ...]
    does_not_work: str
    unproven: str
    doubts: tuple[str, ...]
    cautions: tuple[str, ...]
    jar_cautions: tuple[tuple[str, str], ...]
    law: tuple[LawLine, ...]
    northern_ireland: str
    look_alikes: tuple[tuple[Link, str], ...]
    batches: tuple[BatchView, ...]
    too_weak: tuple[str, ...]
    makes: str
    ingredient_notes: tuple[tuple[str, str], ...]
    published_for: str
    published: tuple[PublishedView, ...]
    mixing: tuple[str, ...]
    mixing_cautions: tuple[str, ...]
    mix_temperature: str
    adjust: str
    ph: str
    use: tuple[str, ...]
    keeping: tuple[str, ...]
    keeping_cautions: tuple[str, ...]
    reuse: UseView
    controls: tuple[ControlView, ...]
    disposal: DisposalView
    never_with: str
    keep_away: tuple[PairView, ...]
    within: tuple[PairView, ...]
    notes: tuple[str, ...]
    hazards: HazardView
    cost: CostView
    history: HistoryView
    processes: tuple[Link, ...]
    part_of: tuple[Link, ...]
    source: SourceView
    old_record: str
    water: str
    workings: tuple[WorkingView, ...]
    dates: tuple[DatedView, ...]


def formula_view(result: FormulaResult, writer: PageWriter) -> FormulaView:
    """Put one formula's results into words."""
    formula, show = result.formula, writer.show
    return FormulaView(
        title=formula.name,
        label=writer.links.path(f"labels/{formula.id}"),
        bench=writer.links.path(f"bench/{formula.id}"),
        accident=writer.links.path("accident"),
        rinse=RINSE,
        csv=writer.links.file(f"data/formulas/{formula.id}.csv"),
        summary=f"{formula.purpose.capitalize()}, {formula.strength}",
        also=formula.also_published_as,
        aliases=formula.aliases,
        does_not_work=with_reasons(formula.id, writer),
        unproven=unproven(formula),
        doubts=formula.doubts,
        cautions=(*formula.cautions, *(c.text for c in result.cautions.before)),
        jar_cautions=_jar_cautions(result, writer),
        law=own_law(result.jars, writer),
        northern_ireland=NORTHERN_IRELAND,
        look_alikes=_look_alikes(formula, writer),
        batches=tuple(batch_view(batch, result, writer) for batch in result.batches),
        too_weak=writer.too_weak(result.too_weak),
        makes=show.amount(formula.makes),
        ingredient_notes=_ingredient_notes(formula, writer),
        published_for=show.amount(formula.published_for) if formula.published_for else "",
        published=_published(formula, writer),
        mixing=formula.mixing,
        mixing_cautions=tuple(c.text for c in result.cautions.mixing),
        mix_temperature=show.range(formula.mix_temperature) if formula.mix_temperature else "",
        adjust=adjustment(formula, writer),
        ph=_ph(formula, writer),
        use=_use(formula, writer),
        keeping=tuple(_keeping(keeping, writer) for keeping in formula.keeping),
        keeping_cautions=tuple(c.text for c in result.cautions.keeping),
        reuse=use_view(formula, writer),
        controls=controls_view((formula.purpose,), writer),
        disposal=formula_disposal(result, writer),
        never_with=never_together(result.never_with),
        keep_away=pairs_view(result.keep_away, writer),
        within=pairs_view(result.within, writer),
        notes=formula.notes,
        hazards=hazard_view(result, writer),
        cost=formula_cost(result, writer),
        history=history_view(writer.results.history.formulas[formula.id], "A litre", writer),
        processes=tuple(writer.process(p) for p in writer.results.in_process.get(formula.id, ())),
        part_of=tuple(writer.formula(f) for f in writer.results.part_of.get(formula.id, ())),
        source=writer.source(formula.source),
        old_record=writer.old_record("formula", formula.id),
        water=f"{formula.water} water",
        workings=workings(result, writer),
        dates=dates_view(
            (
                ("formula", formula.id, None),
                *costed(result.cost),
                *classified(part.chemical for part in result.hazards.composition.parts),
                *(("restriction", chemical, None) for chemical in dict.fromkeys(jar[0] for jar in result.jars)),
                *disposed(writer),
            ),
            writer,
        ),
    )


def unproven(formula: Formula) -> str:
    """That nobody has compared or proved it, or nothing."""
    if formula.proven_on is not None or (formula.source.certainty == "published" and not formula.doubts):
        return ""
    certainty = formula.source.certainty
    return unproven_words(certainty) if certainty != "published" else f"Doubts recorded: {UNPROVEN}"


def _jar_cautions(result: FormulaResult, writer: PageWriter) -> tuple[tuple[str, str], ...]:
    """The cautions of the chemicals' own pages, each once, with the jars that they are about."""
    jars_by_text: dict[str, list[str]] = {}
    for chemical in dict.fromkeys(chemical for chemical, _ in result.jars):
        jars = [jar for jar in result.jars if jar[0] == chemical]
        for text in jar_cautions(chemical, jars, writer.results.catalogue):
            jars_by_text.setdefault(text, []).append(writer.short_name(chemical))
    return tuple((text, ", ".join(names)) for text, names in jars_by_text.items())


def _look_alikes(formula: Formula, writer: PageWriter) -> tuple[tuple[Link, str], ...]:
    chemicals = dict.fromkeys(i.chemical for i in formula.ingredients if i.chemical)
    named = ((writer.chemical(c), writer.not_the_same(c)) for c in chemicals)
    return tuple((name, alike) for name, alike in named if alike)


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
                f"{sign}{writer.show.percent(abs(difference) / 100)}",
            )
        )
    return tuple(differing)


def adjustment(formula: Formula, writer: PageWriter) -> str:
    """The last adjustment of the pH, which has no amount."""
    if formula.adjust is None:
        return ""
    liquids = " or ".join(formula.adjust.using)
    aim = writer.show.range(formula.adjust.to_ph)
    return f"Last, to pH {aim} with {liquids}, drop by drop, in goggles and gloves; not costed."


def _ph(formula: Formula, writer: PageWriter) -> str:
    ph = formula.ph
    if ph is None:
        return ""
    tolerance = f" {ph.tolerance}" if ph.tolerance else ""
    at = f" at {writer.show.range(ph.at)}" if ph.at else ""
    return f"{writer.show.range(ph.value)}{tolerance}{at} ({ph.certainty})"


def _use(formula: Formula, writer: PageWriter) -> tuple[str, ...]:
    use = formula.use
    if use is None:
        return ()
    lines = []
    if use.temperature:
        lines.append(f"Temperature: {writer.show.range(use.temperature)} ({use.certainty})")
    if use.time:
        lines.append(f"Time: {writer.show.range(use.time)} ({use.certainty})")
    return (*lines, use.note) if use.note else tuple(lines)


def _keeping(keeping: Keeping, writer: PageWriter) -> str:
    words = [writer.show.range(keeping.time)] if keeping.time else []
    words += [keeping.note] if keeping.note else []
    return f"{keeping.state.capitalize()}: {'; '.join(words)} ({keeping.certainty})"
