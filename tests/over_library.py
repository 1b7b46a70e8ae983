"""Handbooks over a library: the one that comes with the engine, or the small one of the cases of bad input."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

from bad_input import VALID
from reckoner.audience import PERSONAL
from reckoner.build import Built, build
from small import SETTINGS

TODAY = date(2026, 11, 25)
#: What of the small handbook is no library's.
_OWNERS = ("prices", "settings.yml", "exchange_rates.yml")


def lay(folder: Path, files: dict[str, str], chosen: str = "{everything: yes}", settings: str = SETTINGS) -> Path:
    """A data folder of one's own, with what it chooses of the library."""
    data = folder / "formulas"
    for name, text in {"settings.yml": f"{settings}library: {chosen}\n", **files}.items():
        (data / name).parent.mkdir(parents=True, exist_ok=True)
        (data / name).write_text(text, "utf-8")
    return data


def small_library(folder: Path, edits: dict[str, tuple[str, str]] | None = None) -> None:
    """The handbook of the cases as a library inside a folder of one's own; ``edits``: file to old and new text."""
    library = folder / "formulas" / "library"
    shutil.copytree(VALID, library, ignore=shutil.ignore_patterns(*_OWNERS))
    for name, (old, new) in (edits or {}).items():
        text = (library / name).read_text("utf-8")
        assert old in text, f"{old!r} is not in {name}"
        (library / name).write_text(text.replace(old, new, 1), "utf-8")


def built(data: Path, today: date = TODAY, audience: str = PERSONAL) -> Built:
    """Everything made of a data folder."""
    return build(data, today, audience=audience)


def page(made: Built, path: str) -> str:
    """The Markdown of one page."""
    return next(page.markdown for page in made.pages if page.path == path)
