"""Bottle labels: what stands on them. Text that does not fit makes a bigger label."""

from __future__ import annotations

from dataclasses import dataclass, replace
from urllib.parse import urljoin

import segno
from markupsafe import Markup

from reckoner.calc.bath import FormulaResult
from reckoner.calc.film.capacity import doing
from reckoner.calc.hazards.classify import BathHazards
from reckoner.calc.hazards.precaution import precautions
from reckoner.pages.formula.label_fit import Words, fitting
from reckoner.pages.safety.apart_view import never_with_in_short
from reckoner.pages.safety.hazard_view import statement
from reckoner.pages.safety.not_working_view import in_short
from reckoner.pages.safety.ph_words import ph_on_label
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.trust.own_change_view import milder_on_label, own_weights
from reckoner.rounding import down

TALLY_MOST = 20
HOME_LABEL = "Home label, not a supplier's label. By calculation, indicative."
#: A label without hazard words reads as an all-clear unless it says what it does not say.
NO_CLASS = "No class reached by calculation, which is not the same as harmless. Still:"

#: How a caution of the formula's own begins that holds as long as the bottle stands.
FORBIDS = ("Never ", "Do not ", "No ")


@dataclass(frozen=True)
class LabelView:
    """The context of ``label.md.jinja``."""

    title: str
    summary: str
    size: str
    width: int
    height: int
    copies: tuple[int, ...]
    name: str
    strength: str
    does_not_work: str
    own_weights: str
    milder: str
    pictograms: tuple[str, ...]
    signal: str
    statements: tuple[str, ...]
    by_ph: tuple[str, ...]
    named: str
    no_class: str
    cautions: tuple[str, ...]
    precautions: tuple[str, ...]
    contents: str
    last: str
    unknown: str
    steps: tuple[str, ...]
    lines: tuple[tuple[str, str], ...]
    tally: tuple[bool, ...]
    qr: Markup
    address: str
    back: str
    accident: str


#: What is written on by hand where no bottle tells it.
BLANK = (("Mixed on", ""), ("by", ""), ("Discard by", ""))


def bottle_label(bottle_id: str, writer: PageWriter) -> LabelView:
    """The label of a bottle on the shelf, filled in: its days, batch and volume, and the rolls it has done."""
    state = writer.results.bottles[bottle_id]
    bottle, show = state.bottle, writer.show
    discard = show.day(state.ends.day) if state.ends else ""
    mixed = f"{show.day(bottle.mixed)}, {show.amount(bottle.volume)}"
    lines = (("Mixed on", mixed), ("Batch", bottle.batch or ""), ("Discard by", discard))
    view = label_view(writer.results.formulas[bottle.formula], writer)
    room = down(state.could.cautious) if state.could else 0
    filled = replace(
        view,
        title=f"Label: bottle {bottle_id}",
        copies=(0,),
        lines=lines,
        tally=_boxes(room, down(state.rolls)),
        back=writer.links.to("bottle", bottle_id),
    )
    return fitted(filled)


def label_view(result: FormulaResult, writer: PageWriter) -> LabelView:
    """The label of one formula at the smallest size that holds it."""
    formula, bath = result.formula, result.hazards
    label = bath.label
    statements = tuple(_statement(code, result, writer) for code in label.statements)
    advice = tuple(statement(code, writer) for code in precautions(label.statements))
    by_ph = ph_on_label(result, writer)
    named = ", ".join(dict.fromkeys(writer.short_name(f.chemicals[0]) for f in bath.also_named))
    no_class = NO_CLASS if not statements and not bath.unknown else ""
    own = (text for text in formula.cautions if text.startswith(FORBIDS))
    trade = (caution.text for caution in result.cautions.label)
    cautions = tuple(filter(None, (*trade, *own, never_with_in_short(result, writer))))
    unknown = ", ".join(writer.short_name(part.chemical) for part in bath.unknown)
    own_page = Links("index.md", writer.links.directories).to("formula", formula.id)
    address = urljoin(writer.site_url, own_page) if writer.site_url else ""
    contents = ", ".join(_contents(bath, writer))
    dated = _dated(bath, writer)
    tally = _tally(result)
    steps = _steps(result, writer)
    faulty = in_short(formula.id, writer)
    view = LabelView(
        title=f"Labels: {formula.name}",
        summary="Bottle labels to print",
        size="",
        width=0,
        height=0,
        copies=(),
        name=formula.name,
        strength=formula.strength,
        does_not_work=faulty,
        own_weights=own_weights(formula.id, writer),
        milder=milder_on_label((substance.chemical for substance in bath.composition.substances), writer),
        pictograms=label.pictograms,
        signal=label.signal or "",
        statements=statements,
        by_ph=by_ph,
        named=named,
        no_class=no_class,
        cautions=cautions,
        precautions=advice,
        contents=contents,
        last=f"{HOME_LABEL} {dated}".strip(),
        unknown=unknown,
        steps=steps,
        lines=BLANK,
        tally=tally,
        qr=_qr(address),
        address=address,
        back=writer.links.to("formula", formula.id),
        accident=writer.links.path("accident"),
    )
    return fitted(view)


def _contents(bath: BathHazards, writer: PageWriter) -> tuple[str, ...]:
    """What stands behind "Contains": everything with a class or a gas of its own, the most of it first.

    A bath below every limit, and one that the pH alone makes corrosive, still holds them. Where nothing has a class,
    everything that was looked at is named.
    """
    known = sorted((s for s in bath.composition.substances if s.hazards), key=lambda substance: -substance.percent)
    classed = [
        substance for substance in known if substance.hazards and (substance.hazards.classes or substance.hazards.euh)
    ]
    return tuple(dict.fromkeys(writer.short_name(substance.chemical) for substance in classed or known))


def _dated(bath: BathHazards, writer: PageWriter) -> str:
    """The day of the oldest hazard record behind the label."""
    days = [substance.hazards.source.checked for substance in bath.composition.substances if substance.hazards]
    return f"Hazard data of {writer.show.day(min(days))}." if days else ""


def _statement(code: str, result: FormulaResult, writer: PageWriter) -> str:
    if code != "EUH208":
        return statement(code, writer)
    named = sorted({part for f in result.hazards.findings if f.h == code for part in f.chemicals})
    names = ", ".join(writer.short_name(part) for part in named)
    return f"EUH208 Contains {names}. May produce an allergic reaction."


def _tally(result: FormulaResult) -> tuple[bool, ...]:
    """One box for each roll that a litre does by the most cautious figure."""
    does = doing(result.formula)
    return _boxes(down(does.cautious) if does else 0)


def _boxes(rolls: int, done: int = 0) -> tuple[bool, ...]:
    """A box for each roll; true where it is done."""
    return tuple(number < done for number in range(min(rolls, TALLY_MOST)))


def _steps(result: FormulaResult, writer: PageWriter) -> tuple[str, ...]:
    steps = []
    for process_id in writer.results.in_process.get(result.formula.id, ()):
        process = writer.results.catalogue.processes[process_id]
        for number, step in enumerate(process.steps, 1):
            if any(bath.formula == result.formula.id for bath in step.baths):
                steps.append(f"Step {number} of {process.name}")
    return tuple(steps[:1])


def fitted(view: LabelView) -> LabelView:
    """At the smallest size that holds it. Brief words leave out the codes of precautions, never a word of them."""
    brief = replace(view, precautions=tuple(text.partition(" ")[2] for text in view.precautions))
    size, shortened = fitting(_words(view), _words(brief))
    return replace(
        brief if shortened else view,
        size=f"{size.width}x{size.height}",
        width=size.width,
        height=size.height,
        copies=view.copies or tuple(range(size.count)),
    )


def _words(view: LabelView) -> Words:
    """What ``label.md.jinja`` writes, paragraph by paragraph."""
    paragraphs = (
        (" · ".join((view.strength, *view.steps)), False),
        (view.does_not_work, True),
        (view.own_weights, False),
        (view.milder, False),
        (" ".join(view.statements), False),
        *((line, True) for line in view.by_ph),
        (f"Contains {view.named}, which also sensitise people." if view.named else "", False),
        (" ".join((view.no_class, *view.cautions)), False),
        (" ".join(view.precautions), False),
        (f"Contains {view.contents}." if view.contents else "", False),
        (f"Not assessed: {view.unknown}." if view.unknown else "", True),
        (view.last, False),
    )
    return Words(
        name=view.name,
        paragraphs=tuple((text, bold) for text, bold in paragraphs if text.strip()),
        pictograms=len(view.pictograms),
        signal=view.signal,
        ruled=tuple(f"{line} {written}" for line, written in view.lines),
        tally=len(view.tally),
        code=bool(view.address),
    )


def _qr(address: str) -> Markup:
    if not address:
        return Markup("")
    code = segno.make(address, error="m", micro=False)
    return Markup(code.svg_inline(border=2, omitsize=True))
