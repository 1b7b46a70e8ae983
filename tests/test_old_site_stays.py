"""Whatever is wrong, the last good site stays byte for byte, and the build says where and exits 1."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from bad_input import VALID, Case, cases
from long_run import sampled
from reckoner.editions.site_swap import Swap
from site_build import FIXED_DAY, ROOT, build_here, build_site, project, tree

pytestmark = pytest.mark.process

#: Every case that is an error; the rest of the cases are warnings and notes, with which a build goes through.
FAULTS = [case for case in cases() if case.exit_code == 1]
#: A case of each road by which a fault is found.
ROADS = {
    "unknown-key",
    "tab-indentation",
    "broken-yaml",
    "wrong-encoding",
    "deep-nesting",
    "link-loop",
    "unknown-chemical",
    "decimal-comma",
    "cycle",
    "same-id-twice",
    "csv-quote-open",
    "several-at-once",
    "settings-missing",
}
#: What each fault says is tested without a build (test_bad_input.py): here one road each, and some of the rest.
BUILT = [case for case in FAULTS if case.name in ROADS] + sampled([c for c in FAULTS if c.name not in ROADS], 6)
#: These run as a user runs them, in a process of their own.
BY_ITSELF = sampled([case for case in FAULTS if case.name in ROADS], 4)
LATER = str(int(FIXED_DAY) + 300 * 24 * 3600)


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A project with a good site in it; every test leaves the site as it found it."""
    root = project(tmp_path_factory.mktemp("stays") / "project")
    built = build_here(root / "site", root=root)
    assert built.exit_code == 0, built.log
    before = tree(root / "site")
    assert len(before) > 20
    yield root
    assert tree(root / "site") == before


def mended(good: Path) -> None:
    shutil.rmtree(good / "formulas")
    shutil.copytree(VALID, good / "formulas")


def spoiled(good: Path, case: Case) -> None:
    shutil.rmtree(good / "formulas")
    case.make(good / "formulas")


def refused(good: Path, exit_code: int, log: str, problems: list[str]) -> None:
    assert exit_code == 1
    assert "the last site stays as it was\n" + "\n".join(problems) in log
    assert "Traceback" not in log
    assert sorted(path.name for path in good.glob(".site*")) == []


@pytest.mark.parametrize("case", BUILT, ids=lambda case: case.name)
def test_a_fault_leaves_the_old_site(good: Path, case: Case) -> None:
    """``mkdocs build`` as a command of this process, so that every fault can be tried."""
    before = tree(good / "site")
    spoiled(good, case)
    built = build_here(good / "site", root=good)
    refused(good, built.exit_code, built.log, case.problems)
    assert tree(good / "site") == before


@pytest.mark.parametrize("case", BY_ITSELF, ids=lambda case: case.name)
def test_a_fault_leaves_the_old_site_as_a_user_builds(good: Path, case: Case) -> None:
    before = tree(good / "site")
    spoiled(good, case)
    built = build_site(good / "site", root=good)
    refused(good, built.exit_code, built.log, case.problems)
    assert tree(good / "site") == before


def test_every_road_is_tried() -> None:
    assert ROADS - {case.name for case in FAULTS} == set()


def test_a_failing_template_leaves_the_old_site(good: Path, tmp_path: Path) -> None:
    hooks = tmp_path / "hooks"
    shutil.copytree(ROOT / "hooks", hooks, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    template = hooks / "reckoner" / "pages" / "formula" / "chemical.md.jinja"
    template.write_text(template.read_text("utf-8").replace("{{ page.use }}", "{{ page.usage }}"), "utf-8")
    root = project(tmp_path / "project", hooks)
    shutil.copytree(good / "site", root / "site")
    before = tree(root / "site")
    built = build_site(root / "site", root=root)
    assert built.exit_code == 1
    assert "hooks/reckoner/pages/formula/chemical.md.jinja:4:1: the template fails:" in built.log
    assert "usage" in built.log
    assert "Traceback" not in built.log
    assert tree(root / "site") == before
    assert sorted(path.name for path in root.glob(".site*")) == []


@pytest.mark.parametrize("quiet", [(), ("-q",)])
def test_a_strict_build_of_something_checked_tomorrow_leaves_the_old_site(good: Path, quiet: tuple[str, ...]) -> None:
    """A warning: the plain build goes through (test_bad_input.py), the strict one does not, quiet or not."""
    case = next(case for case in cases() if case.name == "checked-tomorrow")
    before = tree(good / "site")
    spoiled(good, case)
    built = build_here(good / "site", "--strict", *quiet, root=good)
    assert built.exit_code == 1
    assert case.problems[0].removesuffix(" [warning]") in built.log
    assert "Traceback" not in built.log
    assert tree(good / "site") == before
    assert sorted(path.name for path in good.glob(".site*")) == []


def test_an_unreadable_day_leaves_the_old_site(good: Path) -> None:
    mended(good)
    before = tree(good / "site")
    built = build_here(good / "site", root=good, day="tomorrow")
    assert built.exit_code == 1
    assert "SOURCE_DATE_EPOCH is no whole number of seconds" in built.log
    assert "Traceback" not in built.log
    assert tree(good / "site") == before


def test_a_strict_build_with_old_prices_leaves_the_old_site(good: Path) -> None:
    """Ten months on, prices and rates are past their limits: a warning, and a failure where it is strict."""
    mended(good)
    before = tree(good / "site")
    built = build_here(good / "site", "--strict", root=good, day=LATER)
    assert built.exit_code == 1
    assert "formulas/prices/one/2026-11-01.yml:1:1: price list one of 2026-11-01 is out of date" in built.log
    assert "exchange rate GBP to EUR" in built.log
    assert "Traceback" not in built.log
    assert tree(good / "site") == before
    assert sorted(path.name for path in good.glob(".site*")) == []


def test_the_same_build_without_strict_warns_and_goes_through(good: Path, tmp_path: Path) -> None:
    mended(good)
    built = build_here(tmp_path / "site", root=good, day=LATER)
    assert built.exit_code == 0
    assert "is out of date" in built.log
    assert "out of date since" in built.page("out-of-date")
    assert "Out of date: check before you rely on these prices" in built.page("solutions/fixer")


def test_an_interrupted_build_is_mended_by_the_next(tmp_path: Path) -> None:
    """Killed between the two renames, the old site waits beside its place; the next build puts it back first."""
    swap = Swap(tmp_path / "site")
    swap.before.mkdir()
    (swap.before / "index.html").write_text("old")
    swap.beside.mkdir()
    swap.begin()
    assert (tmp_path / "site" / "index.html").read_text() == "old"
    assert not swap.beside.exists()
