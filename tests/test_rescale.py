"""Lists at volumes that the settings do not name: the same cases stand for Python and for the browser."""

from __future__ import annotations

import json
from typing import Any

import pytest

from reckoner.calc.results import Results
from reckoner.pages.formula.bench_view import bench_view
from reckoner.pages.formula.rescale_data import rescale_data
from rescaled import CASES, at_volumes, lists, writer_of


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['formula']} {case['typed']}")
def test_lists_of_the_shared_cases(demo_results: Results, case: dict[str, Any]) -> None:
    worked = at_volumes(demo_results, [case["formula"]], [case["typed"]])
    assert lists(worked, case["formula"]) == [{k: case[k] for k in ("volume", "start", "rows")}]


def test_the_data_block_holds_exact_figures(demo_results: Results) -> None:
    writer = writer_of(demo_results)
    text = rescale_data(demo_results.formulas["ecn2-developer-home"], writer)
    rows = json.loads(text)["rows"]
    assert [row["perLitre"] for row in rows[:3]] == ["1.500000000", "1.000000000", "2.000000000"]
    # Carbonate as monohydrate for anhydrous: 124.00 / 105.99 g/mol, to all the digits that the build uses.
    assert rows[4]["jar"]["factor"].startswith("1.169")
    assert len(rows[4]["jar"]["factor"]) == 29


def test_a_sheet_has_every_batch_size_with_its_cautions_and_look_alikes(demo_results: Results) -> None:
    result = demo_results.formulas["ecn2-developer-home"]
    view = bench_view(result, writer_of(demo_results))
    assert [one.volume for one in view.batches] == ["250", "500", "600", "1000", "2000", "5000"]
    last = view.batches[0].rows[-1]
    assert last.line.name.text == "CD-3"
    assert last.not_the_same == "not CD-2, CD-4"
    assert any("before the jar is opened" in caution for caution in last.line.cautions)
    assert any("nitrile gloves" in line.lower() for line in view.protect)
    assert view.steps == result.formula.mixing
