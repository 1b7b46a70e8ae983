"""The layers of a handbook: the library that comes with the engine, and over it the owner's own files."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from reckoner.loading import kinds
from reckoner.loading.files import LIBRARY, DataFile, read_folder
from reckoner.problems import Problem
from reckoner.shipped import library_folder

#: Settings with this key stand over the library; it is looked for as text, so that a fault elsewhere in them does not
#: take the library away and call every name in it unknown.
_OVER_LIBRARY = re.compile(r"^library:", re.MULTILINE)


def read_layers(folder: Path, shown_as: str) -> tuple[list[DataFile], list[Problem]]:
    """Read a handbook's own files and, where its settings say ``library:``, those of the library.

    A ``library`` folder among the own files is read in place of the one that comes with the engine.

    Args:
        folder: the ``formulas`` folder.
        shown_as: how messages name it, as ``formulas``.
    """
    own, problems = read_folder(folder, shown_as)
    if not any(file.kind is kinds.SETTINGS and _OVER_LIBRARY.search(file.text or "") for file in own):
        return own, problems
    inside = folder / LIBRARY
    place, name = (inside, f"{shown_as}/{LIBRARY}") if inside.is_dir() else (library_folder(), LIBRARY)
    shipped, faults = read_folder(place, name)
    return [*own, *(replace(file, layer=LIBRARY) for file in shipped)], problems + faults
