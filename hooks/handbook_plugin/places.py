"""Where the folders are that belong to the engine and hold no Python: beside it, in a clone as in an installation."""

from __future__ import annotations

from pathlib import Path

_BESIDE = Path(__file__).resolve().parents[1]


def _folder(installed: str, in_clone: str) -> Path:
    """A wheel lays each folder beside this package under a name that nothing else has (``setup.py``)."""
    return folder if (folder := _BESIDE / installed).is_dir() else (_BESIDE / in_clone).resolve()


#: Templates, styles and scripts that lie over Material's.
THEME = _folder("handbook_theme", "theme")
#: JSON Schemas, for an editor.
SCHEMA = _folder("handbook_schema", "schema")
