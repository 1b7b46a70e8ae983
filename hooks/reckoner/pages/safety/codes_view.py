"""What the H, EUH and P codes say, and which chemicals and baths carry them."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.pages.shared.parts import Link, PageWriter, SourceView


@dataclass(frozen=True)
class CodeLine:
    """One code with its text, and what carries it."""

    code: str
    text: str
    chemicals: tuple[Link, ...]
    baths: tuple[Link, ...]


@dataclass(frozen=True)
class CodesView:
    """The context of ``codes.md.jinja``."""

    title: str
    summary: str
    edition: str
    hazards: tuple[CodeLine, ...]
    advice: tuple[CodeLine, ...]
    source: SourceView | None

    @property
    def names(self) -> tuple[str, ...]:
        """Every code, so that it is found by the one that stands on a jar."""
        return tuple(line.code for line in (*self.hazards, *self.advice))


def codes_view(writer: PageWriter) -> CodesView:
    """Every phrase of the table, with the chemicals and baths that carry it."""
    results, phrases = writer.results, writer.results.catalogue.phrases
    chemicals: dict[str, set[str]] = {}
    for chemical in results.catalogue.chemicals.values():
        for record in chemical.hazards:
            for code in (*(class_.h for class_ in record.classes), *record.euh):
                chemicals.setdefault(code, set()).add(chemical.id)
    baths: dict[str, set[str]] = {}
    for formula_id, result in results.formulas.items():
        for code in result.hazards.label.statements:
            baths.setdefault(code, set()).add(formula_id)
    lines = [
        CodeLine(
            phrase.code,
            phrase.text,
            tuple(writer.chemical(i) for i in sorted(chemicals.get(phrase.code, ()))),
            tuple(writer.formula(i) for i in sorted(baths.get(phrase.code, ()))),
        )
        for phrase in (phrases.phrases if phrases else ())
    ]
    return CodesView(
        title="Hazard codes",
        summary="What the H, EUH and P codes on a jar say",
        edition=phrases.edition if phrases else "",
        hazards=tuple(line for line in lines if not line.code.startswith("P")),
        advice=tuple(line for line in lines if line.code.startswith("P")),
        source=writer.source(phrases.source) if phrases else None,
    )
