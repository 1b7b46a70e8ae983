"""What the law restricts: beside a chemical, on the page of a formula that asks for it, and all on one page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.hazards.cautions import JarId
from reckoner.pages.shared.display import source_text
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.pages.trust.dates_view import DatedView, dates_view
from reckoner.records.chemical import Chemical
from reckoner.records.restriction import Restriction

#: Said beside every list of restrictions; from memory of the Windsor Framework, annex 2.
NORTHERN_IRELAND = (
    "Northern Ireland: the European Union's rules on explosives precursors and on chemicals (REACH, CLP) apply there, "
    "beside those of the United Kingdom (Windsor Framework, annex 2, from memory). Check current law."
)


@dataclass(frozen=True)
class RestrictionView:
    """What the law of a place allows."""

    where: str
    kind: str
    forms: tuple[str, ...]
    text: str
    source: str


@dataclass(frozen=True)
class LawLine:
    """The restrictions of one chemical; of other laws than the owner's only that there are some, where so asked."""

    name: Link
    restrictions: tuple[RestrictionView, ...]
    elsewhere: str = ""


@dataclass(frozen=True)
class LawView:
    """The context of ``law.md.jinja``; ``places`` are what one searches it by."""

    title: str
    summary: str
    yours: str
    northern_ireland: str
    lines: tuple[LawLine, ...]
    places: tuple[str, ...]
    dates: tuple[DatedView, ...]


def restrictions_view(
    restrictions: Iterable[Restriction], chemical: Chemical, writer: PageWriter
) -> tuple[RestrictionView, ...]:
    """Restrictions, those of the owner's own law first."""
    law = writer.results.catalogue.settings.law
    return tuple(
        RestrictionView(
            restriction.where,
            restriction.kind,
            tuple(writer.form(chemical.id, form) for form in restriction.forms),
            restriction.text,
            f"{source_text(restriction.source)}, checked {writer.show.day(restriction.source.checked)}",
        )
        for restriction in sorted(
            restrictions, key=lambda restriction: (restriction.where not in law, restriction.where, restriction.kind)
        )
    )


def law_of(jars: Iterable[JarId], writer: PageWriter) -> tuple[LawLine, ...]:
    """What restricts the jars of a formula: their own forms, and how they travel left out."""
    forms: dict[str, set[str]] = {}
    for chemical_id, form in jars:
        forms.setdefault(chemical_id, set()).add(form)
    lines = []
    for chemical_id, used_forms in forms.items():
        chemical = writer.results.catalogue.chemicals[chemical_id]
        binding = [
            restriction
            for restriction in chemical.restrictions
            if restriction.kind != "transport" and (not restriction.forms or used_forms & set(restriction.forms))
        ]
        if binding:
            lines.append(LawLine(writer.chemical(chemical_id), restrictions_view(binding, chemical, writer)))
    return tuple(lines)


def own_law(jars: Iterable[JarId], writer: PageWriter) -> tuple[LawLine, ...]:
    """The same for the page one works from: the owner's law in full, others by name; all in full where none is set."""
    law = writer.results.catalogue.settings.law
    return tuple(
        LawLine(
            line.name,
            tuple(restriction for restriction in line.restrictions if not law or restriction.where in law),
            "; ".join(
                f"{restriction.where}: {restriction.kind}"
                for restriction in line.restrictions
                if law and restriction.where not in law
            ),
        )
        for line in law_of(jars, writer)
    )


def law_view(writer: PageWriter) -> LawView:
    """Every restriction of the handbook."""
    catalogue = writer.results.catalogue
    chemicals = sorted(catalogue.chemicals.values(), key=lambda chemical: chemical.name.lower())
    lines = law_of(((chemical.id, form.id) for chemical in chemicals for form in chemical.forms), writer)
    places = {restriction.where for line in lines for restriction in line.restrictions}
    return LawView(
        title="What the law restricts",
        summary="Who may buy and use what, your own law first",
        yours=", ".join(catalogue.settings.law),
        northern_ireland=NORTHERN_IRELAND,
        lines=lines,
        places=(*catalogue.settings.law, *sorted(places), "Northern Ireland", "Great Britain"),
        dates=dates_view((("restriction", chemical.id, None) for chemical in chemicals), writer),
    )
