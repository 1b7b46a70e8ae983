"""Where the library that comes with the engine lies: in a clone beside the demonstration, else inside the package."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

#: Where a package holds what a clone has in its own folders.
_LIBRARY_PACKAGE = "handbook_library"


def library_folder() -> Path:
    """The folder of chemicals, cautions, formulas and processes that every handbook may be built over."""
    in_clone = Path(__file__).parents[2] / "formulas" / "library"
    return in_clone if in_clone.is_dir() else Path(str(files(_LIBRARY_PACKAGE)))
