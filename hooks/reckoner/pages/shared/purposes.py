"""Purposes of formulas as headings, in the order one works."""

from __future__ import annotations

from typing import get_args

from reckoner.records.formula import Purpose

#: In the order one works.
PURPOSES: tuple[str, ...] = get_args(Purpose)
PURPOSE_TITLES = {
    "colour prebath": "Rem-jet prebaths",
    "reversal": "Reversal baths",
    "bleach": "Bleaches",
    "bleach-fix": "Bleach-fixes",
    "final rinse": "Final rinses and stabilisers",
    "stop bath": "Stop baths",
    "clearing bath": "Clearing baths",
}
#: What else a purpose is called by who searches for it.
OTHER_NAMES: dict[str, tuple[str, ...]] = {
    "paper developer": ("print developer", "print developers"),
    "film developer": ("negative developer",),
}


def purpose_title(purpose: str) -> str:
    """The plural of a purpose as a heading."""
    return PURPOSE_TITLES.get(purpose, purpose.capitalize() + "s")


def slug(purpose: str) -> str:
    """A purpose in an address."""
    return purpose.replace(" ", "-")
