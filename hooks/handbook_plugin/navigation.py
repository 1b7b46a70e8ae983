"""The navigation: the one of a handbook that writes none, and any of them without pages that are not there."""

from __future__ import annotations

from typing import Any

#: Pages that are handwritten stand in it too, each where its name is taken.
DEFAULT: list[dict[str, Any]] = [
    {"Home": "index.md"},
    {"Start here": "start.md"},
    {"Processes": "processes/index.md"},
    {"Formulas": "solutions/index.md"},
    {"Chemicals": "chemicals/index.md"},
    {"Shelf": "shelf.md"},
    {"Plans": "plans/index.md"},
    {
        "Safety": [
            {"Accident, what to do": "accident.md"},
            {"Before the first litre": "safety.md"},
            {"Club bench rules": "bench-rules.md"},
            {"What to keep apart": "keep-apart.md"},
            {"What the law restricts": "law.md"},
            {"The screen in the darkroom": "darkroom-screen.md"},
        ]
    },
    {"Tests and signs": "tests-and-signs.md"},
    {"Hazard codes": "hazard-codes.md"},
    {"Buy a kit or mix it?": "kit-or-own.md"},
    {"Film formats": "film-formats.md"},
    {"Out of date": "out-of-date.md"},
    {"Price changes": "price-changes.md"},
    {
        "Your formulas": [
            {"How to write a formula": "how-to-write.md"},
            {"From a spreadsheet": "from-a-spreadsheet.md"},
        ]
    },
    {
        "How far to trust it": [
            {"How the figures are worked out": "worked-out.md"},
            {"Sources": "sources.md"},
            {"What this handbook does not know": "not-known.md"},
        ]
    },
    {"About": "about.md"},
    {"Changes": "changelog.md"},
]


def usual(generated: set[str], handwritten: list[str]) -> list[Any]:
    """The default navigation of these pages; handwritten ones that it does not know come last, in their order."""
    known = set(paths(DEFAULT))
    there = without(DEFAULT, known - generated - set(handwritten))
    own = [path for path in handwritten if path not in known]
    return [*there, *([{"Own pages": own}] if own else [])]


def without(nav: Any, left_out: set[str]) -> Any:
    """The navigation without some pages, and without headings under which nothing is left."""
    if isinstance(nav, dict):
        below_by_title = {title: without(below, left_out) for title, below in nav.items()}
        return {title: below for title, below in below_by_title.items() if below} or None
    if isinstance(nav, list):
        return [entry for entry in (without(below, left_out) for below in nav) if entry]
    return None if nav in left_out else nav


def paths(nav: Any) -> list[str]:
    """The paths of the pages in a navigation."""
    if isinstance(nav, str):
        return [nav]
    children = nav.values() if isinstance(nav, dict) else nav
    return [path for child in children for path in paths(child)]
