"""Sites built by MkDocs, each once a run, whatever number of processes share the run."""

from __future__ import annotations

import fcntl
import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from hostile import handbook
from site_build import FIXED_DAY, Site, build_here, build_site, project

#: Builds a named site into an empty folder, or takes the one that another process of the run has built.
Once = Callable[[str, Callable[[Path], Site]], Site]


@pytest.fixture(scope="session")
def once(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Once:
    """The builder of shared sites; what asks for it is no part of the quick run."""
    own = tmp_path_factory.getbasetemp()
    shared = own if worker_id == "master" else own.parent

    def built(name: str, build: Callable[[Path], Site]) -> Site:
        place, note = shared / name, shared / f"{name}.json"
        with (shared / f"{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not note.exists():
                shutil.rmtree(place, ignore_errors=True)
                place.mkdir()
                site = build(place)
                assert site.exit_code == 0, site.log
                note.write_text(json.dumps([str(site.folder), site.log]), "utf-8")
        folder, log = json.loads(note.read_text("utf-8"))
        return Site(Path(folder), log, 0)

    return built


@pytest.fixture(scope="session")
def site(once: Once) -> Site:
    """The demonstration handbook built on the fixed day, as a user builds it."""
    return once("demo", lambda folder: build_site(folder / "site"))


@pytest.fixture(scope="session")
def hostile_site(once: Once) -> Site:
    """A small handbook with every payload in every text."""
    return once("hostile", lambda folder: handbook(folder / "book", True))


@pytest.fixture(scope="session")
def plain_site(once: Once) -> Site:
    """The same handbook in plain words."""
    return once("plain", lambda folder: handbook(folder / "book", False))


@pytest.fixture(scope="session")
def small_site(once: Once) -> Site:
    """The smallest valid handbook, which stands beside its site."""
    return once("small", lambda folder: build_here(folder / "project" / "site", root=project(folder / "project")))


@pytest.fixture
def fixed_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """Today is the day of the built site."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", FIXED_DAY)
