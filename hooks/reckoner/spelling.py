"""Suggestions for misspelt ids: helpful, but never across the table of look-alikes alone.

``sodium-sulfide`` must not become ``sodium-sulfite`` because the letters are close: they are different chemicals, and
one of them gives off hydrogen sulfide.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

from reckoner.problems import closest
from reckoner.records.catalogue import Catalogue

#: sulfite and sulfide are 0.86 alike, sodium and potassium 0.53.
WORD_LIKENESS = 0.75
#: More ids than this that begin alike are no hint.
MOST = 3


#: Where the ids of chemicals stand, the library's too.
_SEE = "write the id of a chemical, as the page Chemicals lists them"
#: A shorter word stands in too many names.
_WORD = 4

#: Where an id of each kind is found, for those whose spelling is like nothing known.
WHERE = {
    "formula": "a formula in formulas/solutions",
    "process": "a process in formulas/processes",
    "film format": "a format in formulas/film_formats.yml",
    "kit": "a kit, concentrate or lab in formulas/kits",
    "supplier": "a supplier, the name of its folder in formulas/prices",
}


def id_hint(word: str, known: Iterable[str], kind: str) -> str:
    """What to write instead of an unknown id."""
    names = sorted(known)
    guess, begun = closest(word, names), _begun_alike(word, names)
    meant = [guess] if guess and guess not in begun else begun
    quoted = " or ".join(f"'{name}'" for name in meant)
    return f"did you mean {quoted}?" if meant else f"write the id of {WHERE[kind]}"


def _begun_alike(word: str, known: Iterable[str]) -> list[str]:
    """Longer ids that begin like a word, misspelt or not; nothing where too many do to be read.

    >>> _begun_alike("brackenmor", ["brackenmoor-darkroom-stores", "quellhain-laborbedarf"])
    ['brackenmoor-darkroom-stores']
    """
    length = word.count("-") + 1
    begins = {name: "-".join(name.split("-")[:length]) for name in known if name.count("-") >= length}
    alike = get_close_matches(word, sorted(set(begins.values())), n=1, cutoff=WORD_LIKENESS)
    names = [name for name, begin in begins.items() if begin in alike or name.startswith(word)]
    return names if len(names) <= MOST else []


def known_names(kind: str, catalogue: Catalogue) -> list[str] | None:
    """The ids of a kind, those of files with faults too; None where the table that holds them has faults itself."""
    if kind != "film format":
        return catalogue.ids(kind)
    if catalogue.film_formats is None and ("film_formats", "") in catalogue.file_of:
        return None
    return list(catalogue.films)


def unknown_name(kind: str, name: str, catalogue: Catalogue) -> str:
    """What is wrong with a name and what to write instead, or nothing where it is known."""
    known = known_names(kind, catalogue)
    if known is None or name in known:
        return ""
    return renamed(kind, name, catalogue) or f"unknown {kind} '{name}' ({id_hint(name, known, kind)})"


def unknown_chemical(name: str, catalogue: Catalogue) -> str:
    """The same of a chemical, or nothing where it is known."""
    if ("chemical", name) in catalogue.file_of:
        return ""
    return renamed("chemical", name, catalogue) or f"unknown chemical '{name}' ({chemical_hint(name, catalogue)})"


def renamed(kind: str, name: str, catalogue: Catalogue) -> str:
    """That a record had this id once, and what it is named now; nothing where none had."""
    for now, record in catalogue.renamable(kind).items():
        if name in record.formerly:
            return f"{kind} '{name}' is named '{now}' now (write {now})"
    return ""


def chemical_hint(word: str, catalogue: Catalogue) -> str:
    """What to write instead of an unknown chemical: one suggestion, or all its look-alikes with a warning."""
    named = catalogue.called(word)
    if len(named) == 1:
        return f"'{word}' is a name of '{named[0]}', if that is what the jar holds"
    household = _household(word, catalogue)
    if household and not named:
        return household
    if catalogue.look_alikes is None and ("look_alikes", "") in catalogue.file_of:
        return f"{_SEE}; nothing is suggested while look_alikes.yml has faults"
    guess = closest(word, (known for known in catalogue.ids("chemical") if _same_words(word, known)))
    if guess is None:
        return _named_alike(word, catalogue) or f"{_SEE}, or describe it in a file in formulas/chemicals"
    alike = _alike(guess, catalogue)
    if alike:
        names = ", ".join(sorted({guess, *alike}))
        return f"names that look alike are different chemicals: {names}; read the jar and write the right one"
    return f"did you mean '{guess}'?"


def _same_words(word: str, known: str) -> bool:
    """Whether each word of two ids is at most a slip away: potassium is no misspelt sodium."""
    left, right = word.split("-"), known.split("-")
    if len(left) != len(right):
        return word.replace("-", "") == known.replace("-", "")
    return all(SequenceMatcher(None, a, b).ratio() >= WORD_LIKENESS for a, b in zip(left, right, strict=True))


def _household(word: str, catalogue: Catalogue) -> str:
    """A name from the grocer's with the condition under which it is the same thing; nothing where it is none."""
    wanted = word.replace("-", " ").lower()
    hints = [
        _sold_as(word, chemical.id, article.only_if)
        for chemical in catalogue.known_chemicals.values()
        for article in chemical.household
        if article.name.lower().replace("-", " ") == wanted
    ]
    return "; or ".join(hints)


def _named_alike(word: str, catalogue: Catalogue) -> str:
    """Chemicals with a name that has a word in it: from the grocer's with its condition, else by synonym."""
    wanted = f" {word.replace('-', ' ').lower()} "
    sold, named = [], []
    for chemical in catalogue.known_chemicals.values():
        names = (name for name in chemical.synonyms if wanted in f" {name.lower()} ")
        articles = [article for article in chemical.household if wanted in f" {article.name.lower()} "]
        sold += [_sold_as(article.name, chemical.id, article.only_if) for article in articles[:1]]
        named += [f"'{name}' is a name of '{chemical.id}', if that is what the jar holds" for name in list(names)[:1]]
    hints = sold or named
    return f"{'; or '.join(hints)}; or {_SEE}" if len(word) >= _WORD and 0 < len(hints) <= MOST else ""


def _sold_as(name: str, chemical_id: str, only_if: str) -> str:
    return f"'{name}' is sold as '{chemical_id}' only if: {only_if.rstrip('.')}"


def _alike(chemical_id: str, catalogue: Catalogue) -> set[str]:
    if catalogue.look_alikes is None:
        return set()
    look_alikes = {other for group in catalogue.look_alikes.others(chemical_id) for other in group.chemicals}
    return look_alikes - {chemical_id}
