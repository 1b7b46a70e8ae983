"""Rules about a handbook over the library: what is chosen exists, and no danger of the library is lost in silence."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from reckoner.problems import Problem, Severity
from reckoner.records.acute import STATEMENTS
from reckoner.records.catalogue import Catalogue
from reckoner.records.chemical import Chemical
from reckoner.records.hazard import ClassCode, Classification, Hazards
from reckoner.spelling import unknown_name

#: The gravest first within a kind of danger.
_ORDER = {code: number for number, code in enumerate(get_args(ClassCode))}
#: Classes that are one kind of danger under two names, the graver before the other.
_SAME_DANGER = {"Skin Irrit.": "Skin Corr.", "Eye Irrit.": "Eye Dam."}


def chosen_names(catalogue: Catalogue) -> Iterator[Problem]:
    """Formulas and processes that the settings choose are there."""
    chosen = catalogue.settings.library
    for kind, key in (("process", "processes"), ("formula", "formulas")):
        for index, name in enumerate(getattr(chosen, key) if chosen else ()):
            if message := unknown_name(kind, name, catalogue):
                yield Problem(catalogue.place("settings", "", "library", key, index), message)


def same_as_library(catalogue: Catalogue) -> Iterator[Problem]:
    """A whole record of the owner says something else than the library's, or need not be there."""
    kinds = {"chemical": catalogue.chemicals, "formula": catalogue.formulas, "process": catalogue.processes}
    for (kind, record_id), over in catalogue.overridden.items():
        if over.whole and kinds[kind].get(record_id) == over.library:
            message = f"this is the library's {kind} {record_id}, word for word"
            advice = "take the file out: then the library's newer records reach you"
            yield Problem(catalogue.place(kind, record_id), f"{message} ({advice})", Severity.WARNING)


def milder_hazards(catalogue: Catalogue) -> Iterator[Problem]:
    """An owner's record of a chemical is as strict as the library's, or says why it is not."""
    for (kind, record_id), over in catalogue.overridden.items():
        chemical, library = catalogue.chemicals.get(record_id), over.library
        if kind != "chemical" or chemical is None or not isinstance(library, Chemical):
            continue
        milder = [*dict.fromkeys(text for text, _ in _milder(chemical, library))]
        if milder and not chemical.milder_because:
            at = catalogue.place(kind, record_id, next(iter(_milder(chemical, library)))[1])
            advice = "keep it, or write milder_because: with the reason, which stands on the page"
            yield Problem(at, f"milder than the library's record: {'; '.join(milder)} ({advice})")
        elif chemical.milder_because and not milder:
            at = catalogue.place(kind, record_id, "milder_because")
            yield Problem(at, "nothing here is milder than the library's record (leave milder_because: out)")


def _milder(own: Chemical, library: Chemical) -> Iterator[tuple[str, str]]:
    """What of the library's dangers is weaker or gone, and the key to look at."""
    if library.strong and own.strong != library.strong:
        yield f"no strong: {library.strong}", "strong"
    for text in library.cautions:
        if text not in own.cautions:
            yield f"no caution '{text}'", "cautions"
    if own.keep_apart and not library.keep_apart:
        yield "keep_apart: none known", "keep_apart"
    if any(restriction not in own.restrictions for restriction in library.restrictions):
        yield "a restriction is gone or changed", "restrictions"
    for form in library.forms:
        theirs, ours = library.hazards_of(form.id), own.hazards_of(form.id)
        if theirs is not None and own.form(form.id) is not None:
            yield from ((f"{text} for {form.id}", "hazards") for text in _weaker(ours, theirs))


def _weaker(ours: Hazards | None, theirs: Hazards) -> Iterator[str]:
    if ours is None:
        yield "not assessed"
        return
    held = [_kind_of_danger(entry, ours) for entry in ours.classes]
    for entry in theirs.classes:
        danger, order = _kind_of_danger(entry, theirs)
        if not any(danger == other and rank <= order for other, rank in held):
            yield f"no {entry.hazard} {entry.h}"
    for code in theirs.euh:
        if code not in ours.euh:
            yield f"no {code}"
    for limit in theirs.limits:
        same = (other for other in ours.limits if (other.hazard, other.h) == (limit.hazard, limit.h))
        if not any(other.start.percent <= limit.start.percent for other in same):
            yield f"no limit of {limit.start.percent} % for {limit.h}"
    for factor in ("m_acute", "m_chronic"):
        if getattr(ours, factor) < getattr(theirs, factor):
            yield f"a smaller {factor}"
    for value in theirs.acute:
        if not any(other.way == value.way and other.value.number <= value.value.number for other in ours.acute):
            yield f"no figure of acute toxicity {value.way} as low"
    if theirs.boron and not ours.boron:
        yield "not counted with boron compounds"
    if any(exposure not in ours.exposure for exposure in theirs.exposure):
        yield "a workplace exposure limit is gone or changed"


def _kind_of_danger(entry: Classification, record: Hazards) -> tuple[str, int]:
    """What a class is about, with the way in or the statement where these differ, and its rank: smaller is graver."""
    name = entry.hazard.rpartition(" ")[0] or entry.hazard
    danger = _SAME_DANGER.get(name, name)
    if name == "Acute Tox.":
        ways = [way for way, statements in STATEMENTS.items() if entry.h in statements]
        danger = f"{name} {record.inhaled(entry) if len(ways) > 1 else ways[0]}"
    elif entry.hazard == "STOT SE 3":
        danger = f"{name} {entry.h}"
    return danger, _ORDER[entry.hazard]
