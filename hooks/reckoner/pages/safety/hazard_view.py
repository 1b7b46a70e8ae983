"""Hazards in words: what is in the jars, and what is left in the bath by calculation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.classify import BathHazards
from reckoner.calc.hazards.finding import Finding
from reckoner.calc.hazards.jar import jar_label
from reckoner.calc.hazards.precaution import first_steps
from reckoner.pages.safety.ph_words import ph_words, treat_words
from reckoner.pages.safety.wear import acid_words, bath_wear, codes_of, jars_breathe, wear
from reckoner.pages.shared.display import source_text
from reckoner.pages.shared.finding_words import MASS_RULES, compared_words, figure, limit_words, rule_words, value_words
from reckoner.pages.shared.parts import Link, PageWriter
from reckoner.records.chemical import Chemical
from reckoner.records.formula import Formula
from reckoner.records.hazard import Hazards

#: The symbols of the UN system in words, until a label draws them.
SYMBOLS = {
    "GHS02": "flame",
    "GHS03": "flame over circle",
    "GHS05": "corrosion",
    "GHS06": "skull and crossbones",
    "GHS07": "exclamation mark",
    "GHS08": "health hazard",
    "GHS09": "environment",
}
#: A computed result never takes a trade caution away: sensitised people react to traces.
STILL = {
    "Skin Sens. 1": "below the classification limit; it still sensitises people: gloves",
    "Resp. Sens. 1": "below the classification limit; it still sensitises people: no dust, no mist",
}
NO_CLASS = "no class, which is not the same as harmless"


@dataclass(frozen=True)
class JarView:
    """One jar: its signal word and statements, or that nobody has assessed it."""

    name: Link
    signal: str
    statements: tuple[str, ...]
    source: str
    air: tuple[str, ...] = ()


@dataclass(frozen=True)
class FindingView:
    """One class that the bath reaches, and how."""

    hazard: str
    statement: str
    why: str


@dataclass(frozen=True)
class HazardView:
    """The two views of a formula's hazards."""

    jars: tuple[JarView, ...]
    jar_wear: tuple[str, ...]
    signal: str
    symbols: str
    findings: tuple[FindingView, ...]
    still: tuple[str, ...]
    unknown: tuple[str, ...]
    wear: tuple[str, ...]
    mass: str
    old: tuple[str, ...]
    elsewhere: tuple[FindingView, ...]
    strengths: tuple[JarView, ...]
    first_steps: tuple[str, ...]
    by_ph: tuple[str, ...]
    also_named: tuple[str, ...]


def hazard_view(result: FormulaResult, writer: PageWriter) -> HazardView:
    """Put the hazards of a formula's jars and bath into words."""
    formula, bath = result.formula, result.hazards
    known = writer.results.catalogue.chemicals
    records = {jar: record for jar in result.jars if (record := known[jar[0]].hazards_of(jar[1])) is not None}
    in_jars = {c for record in records.values() for c in codes_of(record)}
    asked = _takes_acid(result, writer)
    return HazardView(
        jars=tuple(jar_view(*jar, records.get(jar), writer) for jar in result.jars),
        jar_wear=(
            *wear(in_jars),
            *acid_words(in_jars, asked),
            *jars_breathe(records, writer.results.catalogue.chemicals),
        ),
        signal=bath.label.signal or "",
        symbols=", ".join(SYMBOLS[p] for p in bath.label.pictograms),
        findings=tuple(_finding(f, writer) for f in bath.findings),
        still=_still(bath, writer),
        unknown=tuple(f"{writer.short_name(p.chemical)}, {figure(p.percent)} %" for p in bath.unknown),
        wear=bath_wear({f.h for f in bath.findings} | {c for c in in_jars if c in {"H317", "H334"}}, asked),
        old=_old(bath, writer),
        elsewhere=tuple(_finding(f, writer) for f in bath.elsewhere),
        strengths=_strengths(formula, writer),
        first_steps=tuple(statement(code, writer) for code in first_steps(in_jars | {f.h for f in bath.findings})),
        by_ph=ph_words(result, writer),
        also_named=tuple(
            f"{_names(f, writer)}, {value_words(f, writer.short_name)}: from {limit_words(f)} it is named"
            f" ({rule_words(f)})"
            for f in bath.also_named
        ),
        mass=f"{figure(bath.composition.mass)} g a litre: {MASS_RULES[bath.composition.mass_rule]}",
    )


def jar_view(chemical_id: str, form_id: str, record: Hazards | None, writer: PageWriter) -> JarView:
    """One jar's classification, with its form where the chemical has more than one."""
    name = writer.chemical(chemical_id)
    if len(writer.results.catalogue.chemicals[chemical_id].forms) > 1:
        name = Link(writer.named(chemical_id, form_id), name.href)
    if record is None:
        return JarView(name, "not assessed", (), "")
    chemical = writer.results.catalogue.chemicals[chemical_id]
    form = chemical.form(form_id)
    assert form is not None, "checks refuse unknown forms"
    label = jar_label(chemical, form, record)
    signal = label.signal or (NO_CLASS if record.not_classified else "")
    statements = tuple(_stated(code, record, writer) for code in label.statements)
    if chemical.strong and form.strength is not None and "H314" not in label.statements:
        statements = (*statements, treat_words(chemical.strong))
        signal = signal or NO_CLASS
    return JarView(name, signal, statements, _origin(chemical, record, writer), exposure_view(record, writer))


def _takes_acid(result: FormulaResult, writer: PageWriter) -> bool:
    """Whether a formula's own list or last adjustment asks for an acid."""
    known, adjust = writer.results.catalogue.chemicals, result.formula.adjust
    listed = (known[item.chemical] for item in result.formula.items if item.chemical)
    acids = (chemical.role == "acid" or chemical.strong == "acid" for chemical in listed)
    return any(acids) or (adjust is not None and any("acid" in liquid for liquid in adjust.using))


def chemical_jars(chemical: Chemical, writer: PageWriter) -> tuple[JarView, ...]:
    """Every classification of a chemical, for its own page."""
    jars = []
    for record in chemical.hazards:
        forms = record.forms if record.limits else record.forms[:1]
        jars += [replace(jar_view(chemical.id, form, record, writer), air=()) for form in forms]
    return tuple(dict.fromkeys(jars))


def chemical_air(chemical: Chemical, writer: PageWriter) -> tuple[str, ...]:
    """Limits of the air of a chemical, each once."""
    return tuple(dict.fromkeys(line for record in chemical.hazards for line in exposure_view(record, writer)))


def chemical_first_steps(chemical: Chemical, writer: PageWriter) -> tuple[str, ...]:
    """What to do after an accident with a chemical, at the gravest of its records."""
    codes = {code for record in chemical.hazards for code in codes_of(record)}
    return tuple(statement(code, writer) for code in first_steps(codes))


def statement(code: str, writer: PageWriter) -> str:
    """A code with its text."""
    phrases = writer.results.catalogue.phrases
    return f"{code} {(phrases.text(code) if phrases else None) or '(text not recorded)'}"


def _stated(code: str, record: Hazards, writer: PageWriter) -> str:
    """A jar's statement, with the organ or route that its entry names."""
    named = ", ".join(entry.effect for entry in record.classes if entry.h == code and entry.effect)
    return f"{statement(code, writer)}{f' Organ or route: {named}.' if named else ''}"


def _strengths(formula: Formula, writer: PageWriter) -> tuple[JarView, ...]:
    """The same solution at its other strengths: what it is diluted to, and what it is diluted from."""
    results = writer.results
    diluted = [i for i in results.part_of.get(formula.id, ()) if formula.id in results.formulas[i].formula.of]
    strengths = []
    for formula_id in (*formula.of, *diluted):
        result = results.formulas[formula_id]
        bath = result.hazards
        words = bath.label.signal or ("not assessed" if bath.unknown else NO_CLASS)
        parts = result.formula.dilution
        strength = (
            f"diluted {writer.show.dilution(parts)}" if parts and formula.id in result.formula.of else "undiluted"
        )
        statements = tuple(statement(code, writer) for code in bath.label.statements)
        statements = (*statements, *ph_words(result, writer))
        strengths.append(JarView(writer.formula(formula_id), words, statements, strength))
    return tuple(strengths)


def exposure_view(record: Hazards, writer: PageWriter) -> tuple[str, ...]:
    """Limits of the air, those of the owner's own law first."""
    law = writer.results.catalogue.settings.law
    limits = sorted(record.exposure, key=lambda limit: (limit.where not in law, limit.where, limit.over))
    return tuple(
        f"{limit.where}: {limit.limit} over {limit.over}{f', {limit.of}' if limit.of else ''}"
        f" ({source_text(limit.source)}, checked {writer.show.day(limit.source.checked)})"
        for limit in limits
    )


def _origin(chemical: Chemical, record: Hazards, writer: PageWriter) -> str:
    note = f" {record.note}" if record.note else ""
    origin = _own_word(chemical, record, writer) or _recorded_in(record, writer)
    return " ".join((origin, *_decided(record))) + note


def _own_word(chemical: Chemical, record: Hazards, writer: PageWriter) -> str:
    """Whose word a record is that the owner made milder: no longer that of the law or list which it names."""
    key = "chemical", chemical.id
    over, changes = writer.results.catalogue.overridden.get(key), writer.results.own_changes.get(key)
    known = over.library.hazards if over and isinstance(over.library, Chemical) else ()
    if not changes or not changes.milder or record in known:
        return ""
    here = f"{source_text(changes.here)}, {writer.show.day(changes.here.checked)}"
    return f"the word of this handbook's owner, milder than the library's record: {here}."


def _recorded_in(record: Hazards, writer: PageWriter) -> str:
    words = {
        "harmonised": "harmonised",
        "self-classification": "as suppliers usually classify it, not harmonised",
        "read across": "read across from a related substance",
    }
    checked = writer.show.day(record.source.checked)
    law = writer.results.catalogue.settings.law
    other = "" if not law or record.jurisdiction in law else " (another law than yours)"
    entry = f", index {record.index}" if record.index else ""
    against = f", compared with {record.checked_against}" if record.checked_against else ""
    return f"{words[record.status]}; {record.jurisdiction}{other}{entry}, {record.edition}{against}, checked {checked}."


def _decided(record: Hazards) -> Iterator[str]:
    """What goes beyond the entry, and what is read across or is not, each with whose word it is."""
    for entry in record.beyond:
        yield f"{entry.h} goes beyond the entry: {entry.why.rstrip('.')} ({entry.certainty})."
    across = record.read_across
    if across is not None:
        carried = "taken over from" if across.carried else "not taken over from"
        yield f"Classes {carried} {across.of}: {across.why.rstrip('.')} ({across.certainty})."
        yield "That is a decision of this handbook; the supplier's sheet decides for the jar."


def _finding(finding: Finding, writer: PageWriter) -> FindingView:
    names = _names(finding, writer)
    by = f" from {names}" if names and finding.compared.limit is not None else ""
    why = f"{rule_words(finding)}: {compared_words(finding, writer.short_name)}{by}"
    if finding.h == "EUH208":
        return FindingView("", f"EUH208 Contains {names}. May produce an allergic reaction.", why)
    hazard = finding.hazard if finding.hazard != finding.h else ""
    return FindingView(hazard, statement(finding.h, writer), why)


def _names(finding: Finding, writer: PageWriter) -> str:
    return ", ".join(writer.short_name(chemical) for chemical in finding.chemicals)


def _still(bath: BathHazards, writer: PageWriter) -> tuple[str, ...]:
    classified = {name for f in bath.findings if f.h in {"H317", "H334"} for name in f.chemicals}
    named = []
    for substance in bath.composition.substances:
        if substance.hazards is None or substance.chemical in classified:
            continue
        for entry in substance.hazards.classes:
            kind = "Resp. Sens. 1" if entry.h == "H334" else "Skin Sens. 1" if entry.h == "H317" else ""
            if kind:
                named.append(f"{writer.short_name(substance.chemical)}, {figure(substance.percent)} %: {STILL[kind]}")
    return tuple(named)


def _old(bath: BathHazards, writer: PageWriter) -> tuple[str, ...]:
    """Classifications out of date: the regulation is changed about once a year."""
    ages = (
        (substance.chemical, writer.old_record("hazard record", substance.chemical))
        for substance in bath.composition.substances
    )
    return tuple(f"{writer.short_name(chemical)}: {old}" for chemical, old in ages if old)
