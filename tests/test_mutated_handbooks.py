"""However a handbook is spoiled, it is built as far as that reaches or refused at the place; never a traceback.

The same mutants in every run; ``LONG=1`` tries more of them, and those of ``long_mutations.py``.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings

import long_mutations
from depending import Depending, differing
from long_run import LONG
from mutant_outcome import Workbench
from mutations import MUTATIONS, Mutant, mutants
from small_handbooks import FULL, PLAIN, handbook

#: Few handbooks, since each is made by trying; few mutants of each family, since the long run has many.
HANDBOOKS, EACH = 8, 30 if LONG else 10


@pytest.fixture(scope="module")
def workbench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    yield Workbench(tmp_path_factory.mktemp("mutants"))


@pytest.mark.sweep
@pytest.mark.parametrize("family", MUTATIONS)
def test_a_spoiled_handbook_is_built_or_refused_at_the_place(family: str, workbench: Workbench) -> None:
    named: list[str] = []

    @settings(max_examples=EACH)
    @given(mutants(family, HANDBOOKS))
    def spoil(mutant: Mutant) -> None:
        outcome = workbench.outcome(mutant)
        assert not outcome.faults, outcome.said
        assert outcome.named != "elsewhere", outcome.said
        named.append(outcome.named)

    spoil()
    # The messages that stand in the right file and not at the change are counted in the long run: one in a hundred.
    assert named.count("file") <= 2


def test_the_handbooks_are_of_all_sorts() -> None:
    files = [set(handbook(number).files) for number in range(HANDBOOKS)]
    assert len(set(map(frozenset, files))) == HANDBOOKS
    everywhere = set.intersection(*files)
    for name in ("shelf.yml", "plans/mine.yml", "prices/two/2026-11-02.csv", "kits/mine.yml", "film_formats.yml"):
        assert name not in everywhere
        assert any(name in some for some in files)


def test_what_a_figure_rests_on_is_told_from_the_words() -> None:
    depending = handbook(FULL).depending
    assert "chemicals/sodium-thiosulfate.yml" in depending.figures_of("formulas", "fixer-half")
    assert "prices/one/2026-11-01.yml" in depending.figures_of("processes", "fixing")
    assert "solutions/mine/mine-a.yml" not in depending.figures_of("formulas", "fixer-half")
    assert "plans/mine.yml" not in depending.figures_of("formulas", "mine-a")
    assert "solutions/fixers/fixer-half.yml" in depending.rest_on(["solutions/fixers/fixer.yml"])
    assert "chemicals/water.yml" not in depending.rest_on(["solutions/fixers/fixer.yml"])


def test_a_figure_that_differs_is_found() -> None:
    before = handbook(PLAIN).figures
    first, *rest = before["formulas"]
    after = {**before, "currency": "GBP", "formulas": [{**first, "name": "x"}, *rest[1:]]}
    assert differing(before, before) == set()
    assert ("formulas", first["id"]) in differing(before, after)
    assert ("all", "currency") in differing(before, after)
    assert Depending({}).figures_of("formulas", "none") >= {"settings.yml"}


if LONG:

    @pytest.mark.process
    @pytest.mark.sweep
    def test_ten_thousand_and_a_hundred_built_by_mkdocs(tmp_path: Path) -> None:
        assert long_mutations.main([]) == 0
