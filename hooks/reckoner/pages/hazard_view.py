"""Hazards in words: what is in the jars, and what is left in the bath by calculation."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reckoner.calc.hazards.classify import BathHazards
from reckoner.calc.hazards.composition import Part
from reckoner.calc.hazards.finding import Finding, figure
from reckoner.calc.hazards.jar import jar_label
from reckoner.calc.hazards.precaution import first_steps
from reckoner.pages.display import source_text
from reckoner.pages.parts import Link, Shower
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
#: What to wear and do, by statement; common practice after the precautionary statements P261 to P284.
WEAR: tuple[tuple[tuple[str, ...], str], ...] = (
    (("H314", "H318", "H319"), "Splash goggles."),
    (("H314", "H315", "H317", "H310", "H311", "H312"), "Nitrile gloves, and an apron."),
    (
        ("H330", "H331", "H332", "H334", "H335"),
        "No dust or mist: weigh out of the draught, with a dust mask and open air.",
    ),
    (("H300", "H301", "H302"), "No food, drink or kitchen vessels near it; wash hands."),
    (
        ("H340", "H341", "H350", "H351", "H360", "H361"),
        "Ask a doctor before working with it when pregnant; no dust on skin.",
    ),
    (("H272",), "Keep it off paper, sawdust, alcohol and every organic thing."),
    (("H400", "H410", "H411", "H412"), "Not down a drain or into the ground: see disposal."),
    (("EUH031", "EUH032"), "No acid near it: toxic gas."),
)


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


def hazard_view(formula: Formula, bath: BathHazards, shower: Shower) -> HazardView:
    """Put a bath's hazards into words."""
    jars = tuple(view for part in bath.composition.parts for view in part_jars(part, shower))
    in_jars = {c for part in bath.composition.parts if part.hazards for c in _codes(part.hazards)}
    return HazardView(
        jars=jars,
        jar_wear=_wear(in_jars),
        signal=bath.label.signal or "",
        symbols=", ".join(SYMBOLS[p] for p in bath.label.pictograms),
        findings=tuple(_finding(f, shower) for f in bath.findings),
        still=_still(bath, shower),
        unknown=tuple(f"{shower.short_name(p.chemical)}, {figure(p.percent)} %" for p in bath.unknown),
        wear=_wear({f.h for f in bath.findings} | {c for c in in_jars if c in {"H317", "H334"}}),
        old=_old(bath, shower),
        elsewhere=tuple(_finding(f, shower) for f in bath.elsewhere),
        strengths=_strengths(formula, shower),
        first_steps=tuple(statement(code, shower) for code in first_steps(in_jars | {f.h for f in bath.findings})),
        mass=f"{figure(bath.composition.mass)} g a litre: {bath.composition.mass_rule}",
    )


def part_jars(part: Part, shower: Shower) -> tuple[JarView, ...]:
    """The jars that one part of a bath comes in: solutions of different strength may carry different labels."""
    return tuple(dict.fromkeys(jar_view(part.chemical, form, part.hazards, shower) for form in part.forms))


def jar_view(chemical_id: str, form_id: str, record: Hazards | None, shower: Shower) -> JarView:
    """One jar's classification."""
    name = shower.chemical(chemical_id)
    if record is None:
        return JarView(name, "not assessed", (), "")
    chemical = shower.results.catalogue.chemicals[chemical_id]
    form = chemical.form(form_id)
    assert form is not None, "checks refuse unknown forms"
    label = jar_label(chemical, form, record)
    if form.strength is not None and record.limits:
        name = Link(f"{name.text}, {shower.form(chemical_id, form_id)}", name.href)
    signal = label.signal or ("no class" if record.not_classified else "")
    statements = tuple(statement(code, shower) for code in label.statements)
    return JarView(name, signal, statements, _origin(record, shower), exposure_view(record, shower))


def chemical_jars(chemical: Chemical, shower: Shower) -> tuple[JarView, ...]:
    """Every classification of a chemical, for its own page."""
    found = []
    for record in chemical.hazards:
        forms = record.forms if record.limits else record.forms[:1]
        found += [replace(jar_view(chemical.id, form, record, shower), air=()) for form in forms]
    return tuple(dict.fromkeys(found))


def chemical_air(chemical: Chemical, shower: Shower) -> tuple[str, ...]:
    """Limits of the air of a chemical, each once."""
    return tuple(dict.fromkeys(line for record in chemical.hazards for line in exposure_view(record, shower)))


def chemical_first_steps(chemical: Chemical, shower: Shower) -> tuple[str, ...]:
    """What to do after an accident with a chemical, at the gravest of its records."""
    codes = {code for record in chemical.hazards for code in _codes(record)}
    return tuple(statement(code, shower) for code in first_steps(codes))


def statement(code: str, shower: Shower) -> str:
    """A code with its text."""
    phrases = shower.results.catalogue.phrases
    return f"{code} {(phrases.text(code) if phrases else None) or '(text not recorded)'}"


def _strengths(formula: Formula, shower: Shower) -> tuple[JarView, ...]:
    """The same solution at its other strengths: what it is diluted to, and what it is diluted from."""
    results = shower.results
    diluted = [i for i in results.part_of.get(formula.id, ()) if formula.id in results.formulas[i].formula.of]
    found = []
    for other in (*formula.of, *diluted):
        result = results.formulas[other]
        bath = result.hazards
        words = bath.label.signal or ("not assessed" if bath.unknown else "no class reached")
        parts = result.formula.dilution
        strength = (
            f"diluted {shower.show.dilution(parts)}" if parts and formula.id in result.formula.of else "undiluted"
        )
        statements = tuple(statement(code, shower) for code in bath.label.statements)
        found.append(JarView(shower.formula(other), words, statements, strength))
    return tuple(found)


def exposure_view(record: Hazards, shower: Shower) -> tuple[str, ...]:
    """Limits of the air, those of the owner's own law first."""
    law = shower.results.catalogue.settings.law
    limits = sorted(record.exposure, key=lambda one: (one.where not in law, one.where, one.over))
    return tuple(
        f"{one.where}: {one.limit} over {one.over}{f', {one.of}' if one.of else ''}"
        f" ({source_text(one.source)}, checked {shower.show.day(one.source.checked)})"
        for one in limits
    )


def _codes(record: Hazards) -> tuple[str, ...]:
    return (*(c.h for c in record.classes), *record.euh)


def _origin(record: Hazards, shower: Shower) -> str:
    words = {
        "harmonised": "harmonised",
        "self-classification": "as suppliers usually classify it, not harmonised",
        "read across": "read across from a related substance",
    }
    checked = shower.show.day(record.source.checked)
    note = f" {record.note}" if record.note else ""
    law = shower.results.catalogue.settings.law
    other = "" if not law or record.jurisdiction in law else " (another law than yours)"
    return f"{words[record.status]}; {record.jurisdiction}{other}, {record.edition}, checked {checked}.{note}"


def _finding(finding: Finding, shower: Shower) -> FindingView:
    names = ", ".join(shower.short_name(part) for part in finding.parts)
    share = finding.share
    for part in finding.parts:
        share = share.replace(part, shower.short_name(part))
    by = f" from {names}" if names else ""
    why = f"{finding.rule}: {share} against {finding.limit}{by}"
    if finding.h == "EUH208":
        return FindingView("", f"EUH208 Contains {names}. May produce an allergic reaction.", why)
    hazard = finding.hazard if finding.hazard != finding.h else ""
    return FindingView(hazard, statement(finding.h, shower), why)


def _still(bath: BathHazards, shower: Shower) -> tuple[str, ...]:
    classified = {name for f in bath.findings if f.h in {"H317", "H334"} for name in f.parts}
    found = []
    for part in bath.composition.parts:
        if part.hazards is None or part.chemical in classified:
            continue
        for entry in part.hazards.classes:
            kind = "Resp. Sens. 1" if entry.h == "H334" else "Skin Sens. 1" if entry.h == "H317" else ""
            if kind:
                found.append(f"{shower.short_name(part.chemical)}, {figure(part.percent)} %: {STILL[kind]}")
    return tuple(found)


def _old(bath: BathHazards, shower: Shower) -> tuple[str, ...]:
    """Classifications past their limit: the regulation is changed about once a year."""
    found = ((part.chemical, shower.old_record("hazard record", part.chemical)) for part in bath.composition.parts)
    return tuple(f"{shower.short_name(chemical)}: {old}" for chemical, old in found if old)


def _wear(codes: set[str]) -> tuple[str, ...]:
    stems = {code if code.startswith("EUH") else code[:4] for code in codes}
    return tuple(text for statements, text in WEAR if stems & set(statements))
