"""Texts about dangers against the classes that are recorded: stricter with a source, never milder."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from reckoner.calc.hazards.cautions import on_jars, recorded
from reckoner.calc.hazards.claims import Claim, claims, sourced
from reckoner.calc.mixing.rollup import WATER
from reckoner.calc.results import Results
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue
from reckoner.records.caution import Caution
from reckoner.records.chemical import Chemical

#: Between two names of one list.
_LISTED = re.compile(r"\s*(?:,|,? and|,? or)\s*")
#: Statements of one subject: all that are recorded at any strength, and those that each of its jars carries.
Recorded = frozenset[str]


@dataclass(frozen=True)
class Subject:
    """What a text may be about.

    Attributes:
        name: as a message says it.
        most: statements that bear strict words out.
        least: statements of which words must not make less.
    """

    name: str
    most: Recorded
    least: Recorded


@dataclass(frozen=True)
class Wordings:
    """The texts of a handbook with the subjects that they are about."""

    results: Results

    @property
    def catalogue(self) -> Catalogue:
        """All records."""
        return self.results.catalogue

    @cached_property
    def subjects(self) -> Mapping[str, Subject]:
        """Every assessed chemical."""
        known = self.catalogue.chemicals.values()
        return {chemical.id: self._subject(chemical) for chemical in known if chemical.hazards}

    def _subject(self, chemical: Chemical) -> Subject:
        jars = [frozenset(on_jars([(chemical.id, form.id)], self.catalogue)) for form in chemical.forms]
        return Subject(chemical.id, frozenset(recorded([chemical.id], self.catalogue)), frozenset.intersection(*jars))

    @cached_property
    def names(self) -> Mapping[str, str]:
        """Names in small letters, to ids; those of three letters are formulas and old abbreviations."""
        names: dict[str, str] = {}
        for chemical in self.catalogue.chemicals.values():
            # Water stands in texts as "water life" and "add to water".
            for name in (
                ()
                if chemical.id == WATER
                else (chemical.id.replace("-", " "), chemical.name.partition(" (")[0], *chemical.synonyms)
            ):
                if len(name) > 3:
                    names.setdefault(name.lower(), chemical.id)
        return names

    @cached_property
    def _named(self) -> re.Pattern[str]:
        longest_first = sorted(map(re.escape, self.names), key=len, reverse=True)
        return re.compile(rf"\b(?:{'|'.join(longest_first) or '(?!)'})\b", re.IGNORECASE)

    def named_in(self, clause: str) -> tuple[Subject, ...] | None:
        """The chemicals that a clause names last, in one list; None where it names none.

        One that nobody has assessed is left out: nothing is known that words could contradict.
        """
        matches = list(self._named.finditer(clause))
        listed = matches[-1:]
        for earlier, later in zip(matches[-2::-1], matches[::-1], strict=False):
            if not _LISTED.fullmatch(clause[earlier.end() : later.start()]):
                break
            listed.append(earlier)
        ids = dict.fromkeys(self.names[match[0].lower()] for match in listed)
        return tuple(self.subjects[i] for i in ids if i in self.subjects) if ids else None

    def faults(self, text: str, owner: Subject | None) -> Iterator[str]:
        """What is wrong with the words of a text; said of its owner, if it has one, where no chemical is named."""
        for claim in claims(text):
            named = self.named_in(claim.clause)
            for subject in named if named is not None else (owner,) if owner else ():
                fault = _fault(claim, subject, text)
                if fault:
                    yield fault

    def texts(self) -> Iterator[tuple[Location, str, Subject | None]]:
        """Every text in which the author words a danger, its place, and what it is about."""
        for texts in (self._of_chemicals(), self._of_baths(), self._of_tables()):
            yield from (text for text in texts if not self.catalogue.judged_with_library(text[0]))

    def _of_chemicals(self) -> Iterator[tuple[Location, str, Subject | None]]:
        for chemical in self.catalogue.chemicals.values():
            if chemical.id in self.subjects:
                for key in ("cautions", "storage"):
                    for index, text in enumerate(getattr(chemical, key)):
                        place = self.catalogue.place("chemical", chemical.id, key, index)
                        yield place, text, self.subjects[chemical.id]

    def _of_baths(self) -> Iterator[tuple[Location, str, Subject | None]]:
        for result in self.results.formulas.values():
            formula, bath = result.formula, result.hazards
            if bath.unknown:
                continue
            most = self._most(substance.chemical for substance in bath.composition.substances)
            subject = Subject(formula.id, most | set(bath.label.statements), frozenset(bath.label.statements))
            for key in ("cautions", "mixing", "doubts", "notes"):
                for index, text in enumerate(getattr(formula, key)):
                    yield self.catalogue.place("formula", formula.id, key, index), text, subject
        for process in self.catalogue.processes.values():
            baths = [self.results.formulas[bath.formula] for step in process.steps for bath in step.baths]
            inside = (substance.chemical for result in baths for substance in result.hazards.composition.substances)
            subject = Subject(process.id, self._most(inside), frozenset())
            for index, text in enumerate(process.cautions):
                yield self.catalogue.place("process", process.id, "cautions", index), text, subject

    def _most(self, chemicals: Iterable[str]) -> Recorded:
        return frozenset(recorded(chemicals, self.catalogue))

    def _of_tables(self) -> Iterator[tuple[Location, str, Subject | None]]:
        cautions = self.catalogue.cautions.cautions if self.catalogue.cautions else ()
        for index, caution in enumerate(cautions):
            place = self.catalogue.place("cautions", "", "cautions", index, "text")
            if caution.citation is None:
                yield from ((place, caution.text, subject) for subject in self._about(caution))
        groups = self.catalogue.look_alikes.groups if self.catalogue.look_alikes else ()
        for index, group in enumerate(groups):
            place = self.catalogue.place("look_alikes", "", "groups", index, "why")
            # Most of what is said is about things that stand in no catalogue.
            yield place, group.why, None

    def _about(self, caution: Caution) -> Iterator[Subject]:
        """Its statements together, and each chemical that it names by itself, its group or its role."""
        if caution.statements:
            yield Subject("statements:", frozenset(caution.statements), frozenset(caution.statements))
        table, named = self.catalogue.incompatibilities, set(caution.chemicals)
        for group in caution.groups if table else ():
            named |= set(table.group(group).chemicals) if table else set()
        named |= {chemical.id for chemical in self.catalogue.chemicals.values() if chemical.role in caution.roles}
        yield from (self.subjects[i] for i in sorted(named) if i in self.subjects)


def _fault(claim: Claim, subject: Subject, text: str) -> str | None:
    graver = claim.graver(subject.least)
    if graver is not None:
        return f"'{claim.words}' makes less of {subject.name}, whose record says {graver} (word it as the record does)"
    if claim.grounded(subject.most) or sourced(text):
        return None
    message = f"'{claim.words}' has no ground in {subject.name}: no {claim.wanted}"
    return f"{message} (record the class, or say in the text whose word it is)"


def worded_otherwise(results: Results) -> tuple[Problem, ...]:
    """Texts that say less than the record, or more without naming whose word it is."""
    wordings = Wordings(results)
    problems = {
        Problem(place, fault, Severity.WARNING)
        for place, text, subject in wordings.texts()
        for fault in wordings.faults(text, subject)
    }
    return tuple(sorted(problems))
