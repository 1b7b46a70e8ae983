"""What is said of a bath that its pH makes corrosive, or that nobody states a pH of."""

from __future__ import annotations

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.extreme_ph import NOT_STATED, OwnLimit
from reckoner.pages.shared.finding_words import figure
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.chemical import Strong

#: What is said of a bath or jar that a limit of its own leaves without a class.
TREAT: dict[Strong, str] = {
    "acid": "pH below 2: treat as corrosive",
    "alkali": "pH above 11.5: treat as corrosive",
}


def ph_words(result: FormulaResult, writer: PageWriter) -> tuple[str, ...]:
    """Sentences for page and label: no pH, and the class by its own limit, which never stands alone."""
    bath, reason = result.hazards, result.formula.ph_not_stated
    sentences = []
    if bath.ph_missing:
        names = ", ".join(writer.short_name(chemical) for chemical in bath.ph_missing)
        sentences.append(f"{NOT_STATED}: {names}.{f' {reason}' if reason else ''}")
    if bath.own_limit:
        sentences.append(own_limit_words(bath.own_limit, writer))
    return tuple(sentences)


def own_limit_words(own: OwnLimit, writer: PageWriter) -> str:
    """The class of a bath by the limits of its only corrosive, and how to treat it all the same."""
    name, share = writer.short_name(own.share.substance.chemical), own.share
    classes = ", ".join(f"{finding.hazard} {finding.h}" for finding in own.findings) or "no class"
    limit = f"{figure(share.percent)} % against {figure(share.limit)} %"
    return f"By the limits of {name} alone ({limit} for corrosion): {classes}. {TREAT[own.strong]}."


def treat_words(strong: Strong | None) -> str:
    """What stands beside the class of a jar that its own limit keeps below corrosive."""
    return f"{TREAT[strong]}." if strong else ""
