"""The demonstration data, loaded once a session on a fixed day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from reckoner.build import load_checked
from reckoner.calc.results import Results, work_out
from reckoner.records.catalogue import Catalogue

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="session")
def demo() -> Catalogue:
    """The catalogue of ``formulas/``."""
    catalogue, _ = load_checked(Path(__file__).parent.parent / "formulas", TODAY)
    return catalogue


@pytest.fixture(scope="session")
def demo_results(demo: Catalogue) -> Results:
    """Everything worked out from ``formulas/``."""
    return work_out(demo)
