"""Film counted on the phone: the same cases stand for Python and for the browser (browser/test_count.py)."""

from __future__ import annotations

from typing import Any

import pytest

from counted import CASES, counted
from reckoner.calc.results import Results


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['volume']} {' '.join(case['counted'])}")
def test_figures_of_the_shared_cases(demo_results: Results, case: dict[str, Any]) -> None:
    assert counted(demo_results, case).says == case["says"]
