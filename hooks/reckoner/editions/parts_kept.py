"""What of the handbook the single file holds, and what it leaves to the other editions."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache


@dataclass(frozen=True)
class LeftOut:
    """Something that the single file does without.

    Attributes:
        pages: pattern of the pages' paths, as ``solutions/x``.
        section: id of the heading whose section goes, with all below it; empty where the whole page goes.
        named_as: how the file names it; empty where the same stands elsewhere in the file.
        element: only elements of this name go, in the section or in a list of this style.
    """

    pages: str
    section: str
    named_as: str
    element: str = ""

    def holds(self, path: str, section: str, element: str) -> bool:
        """Whether a page, a section of it, or some elements of a section are meant."""
        return self.section == section and self.element == element and re.fullmatch(self.pages, path) is not None


LEFT_OUT: tuple[LeftOut, ...] = (
    LeftOut(r"(bottles/)?labels/.*", "", "labels to print"),
    LeftOut(r"solutions/.+", "hb-other", "batches other than the owner's first, its half and its double"),
    LeftOut(r"how-to-write", "", "how to write a formula"),
    LeftOut(r"choose/.*", "", "formulas of one purpose side by side"),
    LeftOut(r"(solutions|processes)/.+", "tests", ""),
    LeftOut(r"chemicals/.+", "restrictions", ""),
    LeftOut(r"(solutions|chemicals)/.+", "keep-it-away-from", "pairs to keep apart, beside the page of all of them"),
    LeftOut(r"solutions/.+", "used-in", "where a formula is used"),
    LeftOut(r"processes/.+", "baths-and-complete-sets", "complete sets from packs"),
    LeftOut(r"processes/.+", "published-and-at-home", "published schedules set beside those at home"),
    LeftOut(r"shelf", "what-a-process-lacks", "what a process lacks"),
    LeftOut(r"about", "", ""),
    LeftOut(r"processes/.+", "films-and-tanks", "films and tanks"),
    LeftOut(r"bench/.*", "", "bench sheets, whose tables stand with each formula"),
    LeftOut(r"plans/.*", "", "plans and what to buy"),
    LeftOut(r"price-changes", "", "price changes"),
    LeftOut(r"kit-or-own", "", "kits and labs set against mixing"),
    LeftOut(r"film-formats", "", "film formats"),
    LeftOut(r"hazard-codes", "", "the list of hazard codes, which are written out where they stand"),
    LeftOut(r"worked-out", "", "each rule with an example"),
    LeftOut(r"sources", "", "the list of sources"),
    LeftOut(r"chemicals/.+", "source", "where a chemical's figures are from"),
    LeftOut(r"not-known", "", "what is not known, or known from memory only"),
    LeftOut(r"from-a-spreadsheet", "", "how to bring a table over"),
    LeftOut(r"changelog|(solutions|chemicals|processes)/index", "", ""),
    LeftOut(r"solutions/.+", "cost", "prices of single ingredients, now and before"),
    LeftOut(r"processes/.+", "cost-of-a-set", "prices of single baths"),
    LeftOut(r"chemicals/.+", "in-files", ""),
    LeftOut(r"chemicals/.+", "offers", "offers of the suppliers"),
    LeftOut(r"chemicals/.+", "where-it-is-used", "where a chemical is used"),
    LeftOut(r"solutions/.+", "how-these-figures-were-worked-out", "how each figure was worked out"),
    LeftOut(r"solutions/.+", "in-the-mixed-bath", "the rule and the share behind each hazard of a bath", element="dd"),
    LeftOut(r"solutions/.+", "in-the-mixed-bath", "", element="small"),
    LeftOut(r"(solutions|processes|chemicals)/.+", "last-checked", "until when each fact is good"),
    LeftOut(r"solutions/.+", "at-its-other-strengths", ""),
    LeftOut(r"solutions/.+", "in-the-jars-while-weighing", "", element="small"),
    LeftOut(r"(solutions|processes|chemicals)/.+", "hb-pairs", "", element="small"),
)


#: Order of the file, by the beginning of a path; what is in none comes last, by path.
ORDER = ("index", "safety", "keep-apart", "processes/", "solutions/", "chemicals/", "shelf", "bottles/")


def place(path: str) -> tuple[int, str]:
    """Where a page stands in the file."""
    return next((rank for rank, start in enumerate(ORDER) if path.startswith(start)), len(ORDER)), path


@cache
def keeps(path: str, section: str = "", element: str = "") -> bool:
    """Whether the single file holds a page, a section of a page that it holds, or elements of such a section.

    >>> keeps("solutions/a", "weigh"), keeps("solutions/a", "cost"), keeps("labels/a")
    (True, False, False)
    """
    return not any(rule.holds(path, section, element) for rule in LEFT_OUT)


#: Elements of which a rule may drop single ones.
SOME = frozenset(rule.element for rule in LEFT_OUT if rule.element)


def left_out() -> tuple[str, ...]:
    """What the file's reader is told."""
    return tuple(rule.named_as for rule in LEFT_OUT if rule.named_as)
