"""Where the folders lie that come with the engine and hold no Python: in a clone at their own places, else beside it.

A wheel lays each beside this package, under a name that nothing else has (``pyproject.toml``).
"""

from __future__ import annotations

from pathlib import Path

_BESIDE = Path(__file__).resolve().parents[1]


def _folder(installed: str, in_clone: str) -> Path:
    return folder if (folder := _BESIDE / installed).is_dir() else (_BESIDE / in_clone).resolve()


def library_folder() -> Path:
    """The folder of chemicals, cautions, formulas and processes that every handbook may be built over."""
    return _folder("handbook_library", "../formulas/library")


def theme_folder() -> Path:
    """Templates, styles and scripts that lie over Material's."""
    return _folder("handbook_theme", "theme")


def schema_folder() -> Path:
    """JSON Schemas, for an editor."""
    return _folder("handbook_schema", "schema")
