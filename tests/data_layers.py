"""Where data files lie: the demonstration's own, and the library's below them."""

from __future__ import annotations

from pathlib import Path

OWN = Path(__file__).parent.parent / "formulas"
LIBRARY = OWN / "library"


def below_its_layer(path: Path) -> Path:
    """The place of a data file seen from the folder of its layer, which tells its kind."""
    return path.relative_to(LIBRARY if path.is_relative_to(LIBRARY) else OWN)
