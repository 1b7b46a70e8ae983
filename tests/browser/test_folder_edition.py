"""The folder edition, opened from a disk: no server, no outside request, search included."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from served import search, watch
from site_build import ROOT, Site, build_here
from site_fixtures import Once

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def folder(once: Once) -> Site:
    return once("a folder", lambda folder: build_here(folder / "hand book", edition="folder"))


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()


def test_it_works_from_a_disk(folder: Site, page: Page) -> None:
    """Home, a link, search, a found page: and only files of the folder are asked for."""
    asked, complaints = watch(page)
    home = (folder.folder / "index.html").as_uri()
    page.goto(home)
    page.get_by_role("link", name="Colour developer for still negative film").first.click()
    page.wait_for_url("**/solutions/c41-developer.html")
    search(page, "sulphite", "Sodium sulfite")
    page.locator(".md-search-result__item", has_text="Sodium sulfite").first.locator("a").first.click()
    page.wait_for_url("**/chemicals/sodium-sulfite.html*")
    assert page.locator("h1", has_text="Sodium sulfite").is_visible()
    assert complaints == []
    below = home.removesuffix("index.html")
    assert [url for url in asked if not url.startswith((below, "data:", "about:"))] == []


def test_every_link_is_a_file(folder: Site) -> None:
    """No address ends at a folder, which a browser would list instead of showing a page."""

    missing = set()
    for path in folder.folder.rglob("*.html"):
        if path.name == "404.html":
            continue
        for href in re.findall(r"""<(?:a|link)\b[^>]*?href=["']?([^"'\s>]+)""", path.read_text("utf-8")):
            target = href.split("#")[0]
            if target and ":" not in target and not (path.parent / target).resolve().is_file():
                missing.add((path.name, href))
    assert sorted(missing) == []


def test_it_has_nothing_that_needs_a_server(folder: Site) -> None:
    assert not (folder.folder / "sw.js").exists()
    assert not (folder.folder / "handbook.webmanifest").exists()
    assert (folder.folder / "handbook.html").is_file()
    assert "manifest" not in (folder.folder / "index.html").read_text("utf-8")


def test_an_unknown_edition_is_refused(tmp_path: Path) -> None:
    built = build_here(tmp_path / "site", edition="pamphlet", root=ROOT)
    assert built.exit_code == 1
    assert "HANDBOOK_EDITION is no edition: pamphlet (write site or folder)" in built.log
    assert "Traceback" not in built.log
