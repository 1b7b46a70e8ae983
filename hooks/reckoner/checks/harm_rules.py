"""Formulas that could hurt somebody although every key of them is in order. They are warned of: a book may be right."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reckoner.calc.hazards.incompatible import meetings
from reckoner.problems import Problem, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.records.formula import DRAINED, Formula

#: Chemicals that need a way of disposal of their own (common practice), and what its key says.
OF_THEIR_OWN = {
    "potassium-ferricyanide": "ferricyanide",
    "potassium-dichromate": "hexavalent chromium",
    "formaldehyde": "formaldehyde",
    "sodium-sulfide": "sulfide",
}
#: Purposes whose bath takes up silver.
SILVER = frozenset({"fixer", "bleach-fix"})
#: The word in a sentence that does not deny it; a safelight is a thing.
_SAFE = re.compile(r"\bsafe(?:ly|r|st)?\b", re.IGNORECASE)
_DENIED = re.compile(r"\b(?:no|not|never|nothing|none|cannot)\b|n['’]t\b", re.IGNORECASE)
_SENTENCE = re.compile(r"[^.;:!?]+")


def dangerous_mixtures(catalogue: Catalogue) -> Iterator[Problem]:
    """Chemicals of one weighing list that must never meet; solutions joined at use are judged on the pages."""
    table = catalogue.incompatibilities
    if table is None:
        return
    for formula in catalogue.formulas.values():
        lines = [line.chemical for line in formula.ingredients if line.chemical]
        for meeting in meetings(lines, lines, table, formula.purpose):
            if meeting.danger:
                first, second = ", ".join(meeting.left), ", ".join(meeting.right)
                last = max(lines.index(name) for name in (*meeting.left, *meeting.right))
                message = (
                    f"{first} and {second} in one bath: {meeting.pair.result.rstrip('.')} (look at the book again)"
                )
                place = catalogue.place("formula", formula.id, "ingredients", last, "chemical")
                yield Problem(place, message, Severity.WARNING)


def kept_apart(catalogue: Catalogue) -> Iterator[Problem]:
    """Each chemical stands in a pair of the table or says that none is known, and not both: one source of truth."""
    table = catalogue.incompatibilities
    if table is None:
        return
    paired = table.paired()
    for chemical in catalogue.chemicals.values():
        place = catalogue.place("chemical", chemical.id, "keep_apart")
        if chemical.id in paired and chemical.keep_apart:
            message = f"none known, but a pair of incompatibilities.yml names {chemical.id} (leave keep_apart out)"
            yield Problem(place, message)
        elif chemical.id not in paired and not chemical.keep_apart and not catalogue.judged_with_library(place):
            message = (
                f"no pair of incompatibilities.yml names {chemical.id}: what must it not meet? (put it into a group"
            )
            yield Problem(place, f"{message} of a pair there, or write keep_apart: none known)", Severity.WARNING)


def plain_disposal(catalogue: Catalogue) -> Iterator[Problem]:
    """What is not poured away as any bath is, and says it is."""
    for formula in catalogue.formulas.values():
        wanted, why = _disposal(formula)
        if wanted:
            message = f"disposal is {formula.disposal}, but {why} (write {wanted})"
            yield Problem(catalogue.place("formula", formula.id, "disposal"), message, Severity.WARNING)


def _disposal(formula: Formula) -> tuple[str, str]:
    if formula.disposal in DRAINED:
        for line in formula.ingredients:
            if line.chemical in OF_THEIR_OWN:
                return OF_THEIR_OWN[line.chemical], f"there is {line.chemical} in it"
    takes_silver = formula.disposal == "general" and formula.purpose in SILVER
    return ("silver-bearing", f"a {formula.purpose} takes up silver") if takes_silver else ("", "")


def called_safe(catalogue: Catalogue) -> Iterator[Problem]:
    """Nothing is called safe: not a mixture, not a way to get rid of it."""
    for formula in catalogue.formulas.values():
        for key, texts in _texts(formula):
            for index, text in enumerate(texts):
                if any(_SAFE.search(part) and not _DENIED.search(part) for part in _SENTENCE.findall(text)):
                    path = (key, index) if key != "disposal_note" else (key,)
                    message = "it is called safe (say what the danger is, and what to do against it)"
                    yield Problem(catalogue.place("formula", formula.id, *path), message, Severity.WARNING)


def _texts(formula: Formula) -> Iterator[tuple[str, tuple[str, ...]]]:
    for key in ("mixing", "cautions", "doubts", "notes"):
        yield key, getattr(formula, key)
    yield "disposal_note", (formula.disposal_note,) if formula.disposal_note else ()
