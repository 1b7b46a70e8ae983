"""Fixtures shared by all tests, and which of them the quick run leaves out."""

from __future__ import annotations

import sys
from collections.abc import Iterator

import pytest
from hypothesis import settings

from long_run import LONG
from site_build import BUILD_EVENT

pytest_plugins = ["demo_fixtures", "site_fixtures"]

# The same examples in every run, however slow the machine, so that a failure repeats.
settings.register_profile(
    "handbook", database=None, deadline=None, derandomize=True, max_examples=1000 if LONG else 100
)
settings.load_profile("handbook")

#: Whatever asks for a fixture is marked so; whatever is marked is no part of ``tests/run quick``.
MARKED_BY_FIXTURE = {"browser": "browser", "once": "process"}
APART = ("browser", "process", "sweep")
#: What takes a second and more.
APART_EVENTS = {"subprocess.Popen", "os.fork", "os.posix_spawn", BUILD_EVENT}
#: The running test, if the quick run has it too.
_quick: list[pytest.Item] = []


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--quick", action="store_true", help=f"leave out tests marked {', '.join(APART)}")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    for item in items:
        for fixture, mark in MARKED_BY_FIXTURE.items():
            if fixture in getattr(item, "fixturenames", ()):
                item.add_marker(mark)
    if config.getoption("--quick"):
        config.hook.pytest_deselected(items=[item for item in items if apart(item)])
        items[:] = [item for item in items if not apart(item)]


def apart(item: pytest.Item) -> bool:
    """Whether the quick run leaves a test out."""
    return any(item.get_closest_marker(mark) for mark in APART)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    if not apart(item):
        _quick.append(item)
    try:
        return (yield)
    finally:
        _quick.clear()


def _no_process_unmarked(event: str, _: tuple[object, ...]) -> None:
    """A test that starts a process or builds a site fails in every run until it is marked, so that quick stays so."""
    if event in APART_EVENTS and _quick:
        raise RuntimeError(f"{event} in {_quick[-1].nodeid} (write @pytest.mark.process above it)")


sys.addaudithook(_no_process_unmarked)
