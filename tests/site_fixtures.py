"""Fixtures that need a whole built site, once a run."""

from __future__ import annotations

import fcntl
from pathlib import Path

import pytest

from hostile import handbook
from site_build import FIXED_DAY, Site, build_site


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Site:
    """The demonstration handbook built on the fixed day; the processes of one run share it."""
    own = tmp_path_factory.getbasetemp()
    shared = own if worker_id == "master" else own.parent
    with (shared / "site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        log = shared / "site.log"
        if not log.exists():
            built = build_site(shared / "site" / "site")
            assert built.exit_code == 0, built.log
            log.write_text(built.log, "utf-8")
    return Site(Path(shared / "site" / "site"), log.read_text("utf-8"), 0)


@pytest.fixture(scope="session")
def hostile_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """A small handbook with every payload in every text."""
    return handbook(tmp_path_factory.mktemp("hostile") / "book", True)


@pytest.fixture(scope="session")
def plain_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The same handbook in plain words."""
    return handbook(tmp_path_factory.mktemp("plain") / "book", False)


@pytest.fixture
def fixed_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """Today is the day of the built site."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", FIXED_DAY)
