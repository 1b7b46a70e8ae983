"""What the handbook does not know, said in one place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.unknowns import unknowns
from reckoner.pages.shared.parts import UNPROVEN, Link, PageWriter


@dataclass(frozen=True)
class Gap:
    """One kind of gap.

    Attributes:
        lines: what has it, each with a remark where there is one.
    """

    title: str
    anchor: str
    meaning: str
    lines: tuple[tuple[Link, str], ...]


@dataclass(frozen=True)
class UnknownView:
    """The context of ``unknown.md.jinja``."""

    title: str
    summary: str
    from_memory: str
    values: str
    sources: str
    gaps: tuple[Gap, ...]


def unknown_view(writer: PageWriter) -> UnknownView:
    """Every kind of gap that there is; a kind without any is left out."""
    gaps_known, formulas = unknowns(writer.results), writer.results.catalogue.formulas
    sure = writer.results.rests_on.by_certainty
    gaps = (
        _gap(
            "Chemicals not assessed",
            "Nobody has looked up their hazards for these pages. Treat them as hazardous.",
            ((writer.chemical(i), "") for i in gaps_known.not_assessed),
        ),
        _gap(
            "Formulas with doubts",
            "Their doubts are written on their pages.",
            ((writer.formula(i), " ".join(formulas[i].doubts)) for i in gaps_known.doubtful),
        ),
        _gap(
            "Formulas from memory",
            f"{UNPROVEN.capitalize()}.",
            ((writer.formula(i), "") for i in gaps_known.unproven),
        ),
        _gap(
            "No price",
            "Nothing in force is for sale that converts to what a formula asks; such a cost is incomplete.",
            ((writer.chemical(i), "") for i in gaps_known.unpriced),
        ),
        _gap(
            "Working baths without a capacity",
            "How much film or paper a litre does is not recorded.",
            ((writer.formula(i), "") for i in gaps_known.no_capacity),
        ),
        _gap(
            "No keeping time",
            "How long it keeps is not recorded as a time.",
            ((writer.formula(i), "") for i in gaps_known.no_keeping),
        ),
        _gap(
            "Working baths without a pH",
            "The pH of the finished bath is not recorded, so the rules on extreme pH cannot be asked.",
            ((writer.formula(i), "") for i in gaps_known.no_ph),
        ),
        _gap(
            "Processes with steps without a time",
            "Their total time is longer than it says by these steps.",
            ((writer.process(i), f"{count} steps" if count > 1 else "1 step") for i, count in gaps_known.untimed),
        ),
    )
    return UnknownView(
        title="What this handbook does not know",
        summary="Gaps and doubts in the data, counted",
        from_memory=str(sure.get("from memory", 0)),
        values=str(sum(sure.values())),
        sources=writer.links.path("sources"),
        gaps=tuple(gap for gap in gaps if gap.lines),
    )


def _gap(title: str, meaning: str, lines: Iterable[tuple[Link, str]]) -> Gap:
    ordered = tuple(sorted(lines, key=lambda line: line[0].text.lower()))
    return Gap(f"{title}: {len(ordered)}", title.lower().replace(" ", "-"), meaning, ordered)
