"""Fixtures that need a whole built site, once a session."""

from __future__ import annotations

import pytest

from hostile import handbook
from site_build import Site, build_site


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The demonstration handbook built on the fixed day."""
    built = build_site(tmp_path_factory.mktemp("site") / "site")
    assert built.exit_code == 0, built.log
    return built


@pytest.fixture(scope="session")
def hostile_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """A small handbook with every payload in every text."""
    return handbook(tmp_path_factory.mktemp("hostile") / "book", True)


@pytest.fixture(scope="session")
def plain_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The same handbook in plain words."""
    return handbook(tmp_path_factory.mktemp("plain") / "book", False)
