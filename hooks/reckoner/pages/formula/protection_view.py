"""How to protect oneself before a formula is mixed: cautions, the law, and jars that are easily taken for others."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.cautions import jar_cautions
from reckoner.pages.safety.accident_view import RINSE
from reckoner.pages.safety.apart_view import bath_never_together
from reckoner.pages.safety.law_view import NORTHERN_IRELAND, LawLine, own_law
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.trust.own_change_view import milder_jars
from reckoner.records.formula import Formula


@dataclass(frozen=True)
class Protection:
    """What to know before the first jar is opened.

    Attributes:
        accident: address of the page on accidents.
        jar_cautions: cautions of the chemicals' own pages with the names of the jars.
        law: restrictions, with the sentence on Northern Ireland that stands below them.
        look_alikes: chemicals with those that they are taken for.
    """

    accident: str
    rinse: str
    cautions: tuple[str, ...]
    never_with: str
    jar_cautions: tuple[tuple[str, str], ...]
    law: tuple[LawLine, ...]
    northern_ireland: str
    look_alikes: tuple[tuple[Link, str], ...]


def protection(result: FormulaResult, writer: PageWriter) -> Protection:
    """Put the dangers of the jars into words; those of the bath are a ``HazardView``."""
    before = (caution.text for caution in result.cautions.before)
    inside = (substance.chemical for substance in result.hazards.composition.substances)
    return Protection(
        accident=writer.links.path("accident"),
        rinse=RINSE,
        cautions=(*result.formula.cautions, *before, *milder_jars(inside, writer)),
        never_with=bath_never_together(result, writer),
        jar_cautions=_jar_cautions(result, writer),
        law=own_law(result.jars, writer),
        northern_ireland=NORTHERN_IRELAND,
        look_alikes=_look_alikes(result.formula, writer),
    )


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
