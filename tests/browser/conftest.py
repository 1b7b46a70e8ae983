"""The built site on a port of its own, and Chromium."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from threading import Thread

import pytest
from playwright.sync_api import Browser, sync_playwright

from phone import others
from served import server
from site_build import Site


@pytest.fixture(scope="session")
def address(site: Site) -> Iterator[str]:
    serving = server(site.folder)
    thread = Thread(target=serving.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{serving.server_port}/"
    serving.shutdown()
    thread.join()
    serving.server_close()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert chromium, "Chromium is missing: the browser tests must run (apt-get install chromium)"
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(
            executable_path=chromium, args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        )
        yield started
        started.close()


@pytest.fixture(autouse=True)
def shut(request: pytest.FixtureRequest) -> Iterator[None]:
    """Pages that a test leaves open go on running their scripts, and slow down every test behind it."""
    yield
    if "browser" in request.fixturenames:
        for context in others(request.getfixturevalue("browser")):
            context.close()
