"""Where a handbook's data lie: found through the ``mkdocs.yml`` of the folder one stands in, or of one above."""

from __future__ import annotations

from pathlib import Path

from reckoner.loading.files import read_content
from reckoner.loading.source import parse_yaml

CONFIGURATION, USUAL = "mkdocs.yml", "formulas"


def data_of(folder: Path) -> Path:
    """The data of a handbook's folder; a folder without ``mkdocs.yml`` is the data itself."""
    folder = folder.resolve()
    return folder / _named(folder / CONFIGURATION) if (folder / CONFIGURATION).is_file() else folder


def data_around(place: Path) -> Path | None:
    """The data of the handbook in which a place lies; None where there is none."""
    place = place.resolve()
    around = (folder for folder in (place, *place.parents) if (folder / CONFIGURATION).is_file())
    handbook = next(around, None)
    return None if handbook is None else data_of(handbook)


def _named(configuration: Path) -> str:
    """``extra.data``, there or in a file that it inherits; what MkDocs cannot read it says itself."""
    read: set[Path] = set()
    while configuration not in read:
        read.add(configuration)
        text = read_content(configuration, configuration.name)
        tree = parse_yaml(text, configuration.name).tree if isinstance(text, str) else None
        if not isinstance(tree, dict):
            break
        extra, inherited = tree.get("extra"), tree.get("INHERIT")
        named = extra.get("data") if isinstance(extra, dict) else None
        if isinstance(named, str) and named.strip():
            return named
        if not isinstance(inherited, str):
            break
        configuration = (configuration.parent / inherited).resolve()
    return USUAL
