"""What a formula's page shows, in words; the template only lays it out."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.instruments import Measured
from reckoner.calc.results import Batch, BatchRow, FormulaResult
from reckoner.calc.scaling import published_difference
from reckoner.calc.substitution import stand_ins
from reckoner.calc.weighability import Weighability
from reckoner.pages.apart_view import DisposalView, PairView, disposal_view, pairs_view
from reckoner.pages.hazard_view import HazardView, hazard_view
from reckoner.pages.parts import UNPROVEN, CostView, Link, Shower, SourceView
from reckoner.pages.working_view import WorkingView, workings
from reckoner.records.formula import FilmCapacity, Formula, Keeping


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
    """

    number: str
    name: Link
    kind: str
    asked: AmountView
    jar: AmountView | None
    advice: str
    costed: str


@dataclass(frozen=True)
class BatchView:
    """One batch size."""

    anchor: str
    title: str
    start: str
    start_note: str
    rows: tuple[RowView, ...]
    make_up: str


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
    summary: str
    also: tuple[str, ...]
    aliases: tuple[str, ...]
    purpose: str
    strength: str
    unproven: str
    doubts: tuple[str, ...]
    cautions: tuple[str, ...]
    look_alikes: tuple[tuple[Link, str], ...]
    batches: tuple[BatchView, ...]
    makes: str
    ingredient_notes: tuple[tuple[str, str], ...]
    published_for: str
    published: tuple[PublishedView, ...]
    mixing: tuple[str, ...]
    mix_temperature: str
    adjust: str
    ph: str
    use: tuple[str, ...]
    keeping: tuple[str, ...]
    capacity: tuple[str, ...]
    disposal: DisposalView
    keep_away: tuple[PairView, ...]
    within: tuple[PairView, ...]
    notes: tuple[str, ...]
    hazards: HazardView
    cost: CostView
    processes: tuple[Link, ...]
    part_of: tuple[Link, ...]
    source: SourceView
    old_record: str
    water: str
    workings: tuple[WorkingView, ...]


def formula_view(result: FormulaResult, shower: Shower) -> FormulaView:
    """Put one formula's results into words."""
    formula, show = result.formula, shower.show
    return FormulaView(
        title=formula.name,
        label=shower.links.path(f"labels/{formula.id}"),
        summary=f"{formula.purpose.capitalize()}, {formula.strength}",
        also=formula.also_published_as,
        aliases=formula.aliases,
        purpose=formula.purpose,
        strength=formula.strength,
        unproven=_unproven(formula, shower),
        doubts=formula.doubts,
        cautions=formula.cautions,
        look_alikes=_look_alikes(formula, shower),
        batches=tuple(_batch(batch, formula, shower) for batch in result.batches),
        makes=show.amount(formula.makes),
        ingredient_notes=_ingredient_notes(formula, shower),
        published_for=show.amount(formula.published_for) if formula.published_for else "",
        published=_published(formula, shower),
        mixing=formula.mixing,
        mix_temperature=show.range(formula.mix_temperature) if formula.mix_temperature else "",
        adjust=_adjust(formula, shower),
        ph=_ph(formula, shower),
        use=_use(formula, shower),
        keeping=tuple(_keeping(keeping, shower) for keeping in formula.keeping),
        capacity=tuple(_capacity(capacity, shower) for capacity in formula.capacity),
        disposal=disposal_view(formula.disposal, formula.disposal_note or "", shower),
        keep_away=pairs_view(result.keep_away, shower),
        within=pairs_view(result.within, shower),
        notes=formula.notes,
        hazards=hazard_view(result.hazards, shower),
        cost=shower.cost(result.cost),
        processes=tuple(shower.process(p) for p in shower.results.in_process.get(formula.id, ())),
        part_of=tuple(shower.formula(f) for f in shower.results.part_of.get(formula.id, ())),
        source=shower.source(formula.source),
        old_record=shower.old_record("formula", formula.id),
        water=f"{formula.water} water",
        workings=workings(result, shower),
    )


def _unproven(formula: Formula, shower: Shower) -> str:
    if formula.proven_on is not None or (formula.source.certainty == "published" and not formula.doubts):
        return ""
    opening = "Common practice" if formula.source.certainty == "common practice" else "From memory"
    return f"{opening}: {UNPROVEN}" if formula.source.certainty != "published" else f"Doubts recorded: {UNPROVEN}"


def _look_alikes(formula: Formula, shower: Shower) -> tuple[tuple[Link, str], ...]:
    chemicals = dict.fromkeys(i.chemical for i in formula.ingredients if i.chemical)
    named = ((shower.chemical(c), shower.not_the_same(c)) for c in chemicals)
    return tuple((name, alike) for name, alike in named if alike)


def _ingredient_notes(formula: Formula, shower: Shower) -> tuple[tuple[str, str], ...]:
    """Remarks of the source on single ingredients: their figures are for what the formula makes, not for a batch."""
    found = []
    for ingredient in formula.ingredients:
        for item in (ingredient, *ingredient.alternatives):
            if item.note:
                named = shower.chemical(item.chemical) if item.chemical else shower.formula(item.formula or "")
                found.append((named.text, item.note))
        for jar, amount in stand_ins(ingredient, shower.results.catalogue.chemicals):
            name = f"{shower.short_name(jar.chemical.id)}, {shower.form(jar.chemical.id, jar.form.id)}".rstrip(", ")
            text = f"the formula accepts {shower.show.exactish(amount, jar.unit)} {name} instead, mole for mole"
            found.append((shower.short_name(ingredient.chemical or ""), text))
    return tuple(found)


def _batch(batch: Batch, formula: Formula, shower: Shower) -> BatchView:
    show, table = shower.show, batch.table
    title = show.amount(table.volume)
    start = ""
    if table.start_water is not None and table.start_measured is not None:
        start = show.stepped(table.start_measured.rounded, table.start_measured.step, "mL")
    warm = f" at {show.range(formula.start_temperature)}" if formula.start_temperature and start else ""
    solvent = f"{formula.water} water"
    if formula.make_up_with is not None and formula.make_up_with.chemical:
        solvent = shower.short_name(formula.make_up_with.chemical)
    return BatchView(
        anchor="make-" + title.replace("\u00a0", "-").lower(),
        title=title,
        start=start,
        start_note=f"{formula.water} water{warm}" if start else "",
        rows=tuple(_row(row, shower) for row in batch.rows),
        make_up="" if formula.dilution else f"{solvent} to make {title}",
    )


def _row(row: BatchRow, shower: Shower) -> RowView:
    line, kind = row.row.line, ""
    if line.alternative:
        kind = "or instead"
    elif line.optional:
        kind = "optional, not in the cost"
    if line.chemical and line.form:
        name = shower.chemical(line.chemical)
        form = shower.form(line.chemical, line.form)
    else:
        name, form = shower.formula(line.formula or ""), ""
    asked = _amount(row, form, shower)
    costed = "the cost uses this one" if line.alternative and row.costed else ""
    number = "" if line.alternative else str(line.index + 1)
    jar = _jar(row, shower)
    # Where the jar holds another form, that is what lies on the balance and what the advice is about.
    judged, measured = (row.jar.weighability, row.jar.measured) if row.jar else (row.weighability, row.row.measured)
    advice = _advice(judged, measured.unit, shower)
    poor = f"{(jar or asked).poor}. {advice}" if advice else ""
    return RowView(number, name, kind, asked, jar, poor, costed)


def _amount(row: BatchRow, form: str, shower: Shower) -> AmountView:
    return _measured(row.row.exact, row.row.measured, row.weighability, form, shower)


def _jar(row: BatchRow, shower: Shower) -> AmountView | None:
    if row.jar is None:
        return None
    jar = row.jar.jar
    same = jar.chemical.id == row.row.line.chemical
    form = shower.form(jar.chemical.id, jar.form.id)
    if not same:
        form = f"{shower.short_name(jar.chemical.id)}, {form}"
    assay = f", assay {shower.show.strength(jar.assay)}" if jar.assay else ""
    return _measured(row.jar.exact, row.jar.measured, row.jar.weighability, form + assay, shower)


def _measured(exact: Decimal, measured: Measured, judged: Weighability, form: str, shower: Shower) -> AmountView:
    figure, poor = shower.show.stepped(measured.rounded, measured.step, measured.unit), ""
    if not judged.within:
        exactly = shower.show.exactish(exact, measured.unit)
        # Below half a step the instrument would show nothing.
        figure = figure if measured.rounded else exactly
        wanted = f"{shower.show.percent(judged.tolerance.fraction)} wanted ({judged.tolerance.reason})"
        poor = f"Exactly {exactly}: ±{shower.show.percent(judged.error)} on this instrument; {wanted}"
    instrument = measured.instrument
    if measured.portions > 1:
        instrument += f", in {measured.portions} lots"
    return AmountView(figure, form, instrument, poor)


def _advice(judged: Weighability, unit: str, shower: Shower) -> str:
    if judged.within:
        return ""
    show, stock = shower.show, judged.advice
    verb = "Measurable" if unit == "mL" else "Weighable"
    from_size = f"{verb} from a batch of {show.exactish(judged.smallest_batch, 'mL')} up."
    if stock is None:
        return f"{(judged.no_advice or '').capitalize()}. {from_size}"
    weigh = show.stepped(stock.weigh.rounded, stock.weigh.step, "g")
    volume = show.exactish(stock.volume, "mL")
    pour = show.stepped(stock.measure.rounded, stock.measure.step, "mL")
    strength = show.number(stock.percent)
    return (
        f"Better as a stock solution: {weigh} made up to {volume} is {strength} % w/v; measure {pour} of it "
        f"({stock.measure.instrument}) in place of that much water. {from_size}"
    )


def _published(formula: Formula, shower: Shower) -> tuple[PublishedView, ...]:
    found = []
    for ingredient in formula.ingredients:
        difference = published_difference(formula, ingredient)
        if difference is None or ingredient.as_published is None:
            continue
        name = shower.short_name(ingredient.chemical) if ingredient.chemical else (ingredient.formula or "")
        sign = "+" if difference > 0 else "−" if difference < 0 else ""
        found.append(
            PublishedView(
                name,
                shower.show.published(ingredient.as_published),
                f"{shower.show.amount(ingredient.amount)} in {shower.show.amount(formula.makes)}",
                f"{sign}{shower.show.percent(abs(difference) / 100)}",
            )
        )
    return tuple(found)


def _adjust(formula: Formula, shower: Shower) -> str:
    if formula.adjust is None:
        return ""
    liquids = " or ".join(formula.adjust.using)
    aim = shower.show.range(formula.adjust.to_ph)
    return f"Last, to pH {aim} with {liquids}, drop by drop, in goggles and gloves; not costed."


def _ph(formula: Formula, shower: Shower) -> str:
    ph = formula.ph
    if ph is None:
        return ""
    tolerance = f" {ph.tolerance}" if ph.tolerance else ""
    at = f" at {shower.show.range(ph.at)}" if ph.at else ""
    return f"{shower.show.range(ph.value)}{tolerance}{at} ({ph.certainty})"


def _use(formula: Formula, shower: Shower) -> tuple[str, ...]:
    use = formula.use
    if use is None:
        return ()
    found = []
    if use.temperature:
        found.append(f"Temperature: {shower.show.range(use.temperature)} ({use.certainty})")
    if use.time:
        found.append(f"Time: {shower.show.range(use.time)} ({use.certainty})")
    return (*found, use.note) if use.note else tuple(found)


def _keeping(keeping: Keeping, shower: Shower) -> str:
    words = [shower.show.range(keeping.time)] if keeping.time else []
    words += [keeping.note] if keeping.note else []
    return f"{keeping.state.capitalize()}: {'; '.join(words)} ({keeping.certainty})"


def _capacity(capacity: FilmCapacity, shower: Shower) -> str:
    how = f", {capacity.how}" if capacity.how else ""
    return f"{shower.show.range(capacity.does)} for each {shower.show.amount(capacity.per)}{how} ({capacity.certainty})"
