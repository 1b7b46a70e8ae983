"""What people ask for when they mean a page that no record names; the search finds the page by it."""

from __future__ import annotations

BATH_WORDS = (
    "developers",
    "formulas",
    "recipes",
)
PROCESS_WORDS = ("developing times", "development times", "temperature", "schedule")
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
KIT_WORDS = ("kit or own", "is it worth it", "ready-made kit")
ACCIDENT_WORDS = (
    "emergency",
    "first aid",
    "accident",
    "poison centre",
    "poisoning",
    "splash in the eye",
    "eye",
    "swallowed",
    "breathed in",
    "burn",
    "spill",
    "spilled",
    "fire",
)
APART_WORDS = ("acid and bleach", "what must not meet", "incompatible chemicals", "cyanide", "chlorine")
LAW_WORDS = ("law", "restrictions", "licence", "explosives precursor", "may I buy", "poisons act", "reach")
FILM_WORDS = ("super 8", "double 8", "16 mm", "35 mm", "135-36", "120", "sheet film", "area of film")
SHELF_WORDS = ("what can I mix", "mix now", "bottles", "packs", "stock at hand", "discard dates")
