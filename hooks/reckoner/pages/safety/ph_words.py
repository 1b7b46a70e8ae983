"""What is said of a bath that its pH makes corrosive, or that nobody states a pH of."""

from __future__ import annotations

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.extreme_ph import ACID_PH, BASE_PH, OwnLimit, extreme_ph, unstated
from reckoner.pages.shared.finding_words import NOT_STATED, figure
from reckoner.pages.shared.parts import PageWriter
from reckoner.records.chemical import Strong

#: What is said of a bath or jar that a limit of its own leaves without a class.
TREAT: dict[Strong, str] = {
    "acid": "pH below 2: treat as corrosive",
    "alkali": "pH above 11.5: treat as corrosive",
}

#: Of an acid or alkali that is not strong at 1 %: a bath rich in it can pass the limits of pH all the same.
UNSTATED = "pH not stated"
END = {"acid": f"pH {ACID_PH} or less", "alkali": f"pH {BASE_PH} or more"}


def ph_words(result: FormulaResult, writer: PageWriter) -> tuple[str, ...]:
    """Sentences for a page: no pH and why, and the class by its own limit, which takes nothing away."""
    reason = result.formula.ph_not_stated
    first = _by_ph(result, writer)
    sentences = [f"{first}.{f' {reason}' if reason else ''}"] if first else []
    if result.hazards.own_limit:
        sentences.append(_by_own_limit(result.hazards.own_limit, writer))
    return tuple(sentences)


def ph_on_label(result: FormulaResult, writer: PageWriter) -> tuple[str, ...]:
    """The same in one line: first why it is corrosive, then what its share alone would come to."""
    extreme = _extreme(result)
    words = (f"{extreme}." if extreme and result.hazards.own_limit else "", *ph_words(result, writer))
    return tuple(filter(None, (" ".join(filter(None, words)),)))


def corrosive_words(result: FormulaResult, writer: PageWriter) -> str:
    """One line before work: that the mixed bath is corrosive and why; nothing where it is not, nor its pH missed."""
    first = _by_ph(result, writer)
    if "H314" not in result.hazards.label.statements:
        return f"{first}." if first else ""
    shares = [named for finding in result.hazards.findings if finding.h == "H314" for named in finding.chemicals]
    names = ", ".join(dict.fromkeys(writer.short_name(chemical) for chemical in shares))
    why = (first if result.hazards.ph_missing else _extreme(result)) or f"By its share of {names}"
    return f"The mixed bath is corrosive: Danger, H314. {why}."


def _by_ph(result: FormulaResult, writer: PageWriter) -> str:
    """That no pH is stated of a bath that it decides about; empty where one is, or none is asked for."""
    bath = result.hazards
    if bath.ph_missing:
        names = ", ".join(writer.short_name(chemical) for chemical in bath.ph_missing)
        return f"{NOT_STATED}: {names}"
    chemicals = writer.results.catalogue.chemicals
    carriers = unstated(bath.composition, result.formula.acidity, chemicals)
    if not carriers:
        return ""
    ends = " or ".join(END[role] for role in END if any(chemicals[carrier].role == role for carrier in carriers))
    return f"{UNSTATED}: {', '.join(map(writer.short_name, carriers))}. Measure it: {ends} would be corrosive"


def _extreme(result: FormulaResult) -> str:
    """The stated pH, where it makes the bath corrosive."""
    ph = result.formula.acidity
    if ph is None or not any(extreme_ph(ph)):
        return ""
    return f"Corrosive by its pH, {figure(ph.low)}{f' to {figure(ph.high)}' if ph.high != ph.low else ''}"


def _by_own_limit(own: OwnLimit, writer: PageWriter) -> str:
    """What the share of a bath's only corrosive would come to, were it not for the pH."""
    name, share = writer.short_name(own.share.substance.chemical), own.share
    limit = f"{figure(share.percent)} % against {figure(share.limit)} %"
    if any(finding.h == "H314" for finding in own.findings):
        return f"The share of {name} alone ({limit}) corrodes too."
    classes = ", ".join(f"{finding.hazard} {finding.h}" for finding in own.findings) or "no class"
    return f"The share of {name} alone ({limit} for corrosion) would give {classes}: the pH decides."


def treat_words(strong: Strong | None) -> str:
    """What stands beside the class of a jar that its own limit keeps below corrosive."""
    return f"{TREAT[strong]}." if strong else ""
