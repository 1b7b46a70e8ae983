"""What people ask for when they mean one of the pages that are no record: words that search finds them by."""

from __future__ import annotations

BATH_WORDS = (
    "developers",
    "fixers",
    "bleaches",
    "stop baths",
    "toners",
    "stock solutions",
    "formulas",
    "recipes",
    "colour developer",
)
SIGN_WORDS = (
    "bleach dead",
    "bleach exhausted",
    "fixer exhausted",
    "fixer dead",
    "developer dead",
    "developer exhausted",
    "is my fixer still good",
    "clip test",
    "clearing time",
    "drop test",
    "leader test",
    "iodide test",
    "specific gravity",
    "hydrometer",
    "pH meter",
    "control strip",
    "residual hypo",
    "residual silver",
)
KIT_WORDS = ("is it worth it", "ready-made kit")
APART_WORDS = ("acid and bleach", "what must not meet", "incompatible chemicals", "cyanide", "chlorine")
FILM_WORDS = ("super 8", "double 8", "16 mm", "35 mm", "135-36", "120", "sheet film", "area of film")
SHELF_WORDS = ("what can I mix", "mix now", "bottles", "packs", "stock at hand", "discard dates")
