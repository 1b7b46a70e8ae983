"""The site on a phone: kept after one visit, renewed on a tap, whole at every moment."""

from __future__ import annotations

import gzip
import json
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from served import BELOW, Host, kept, search, watch
from site_build import FIXED_DAY, Site, build_here
from site_fixtures import Once

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
NEXT_DAY = str(int(FIXED_DAY) + 24 * 3600)
OLD, NEW = "25 Nov 2026", "26 Nov 2026"


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE)
    yield context
    context.close()


@pytest.fixture
def demo_host(site: Site, tmp_path: Path) -> Iterator[Host]:
    host = Host(tmp_path, site.folder)
    yield host
    host.stop()


@pytest.fixture(scope="module")
def builds(small_site: Site, once: Once) -> tuple[Path, Path]:
    """A small handbook built on two days."""
    root = small_site.folder.parent
    next_day = once("next day", lambda folder: build_here(folder / "site", root=root, day=NEXT_DAY))
    return small_site.folder, next_day.folder


@pytest.fixture
def host(builds: tuple[Path, Path], tmp_path: Path) -> Iterator[Host]:
    host = Host(tmp_path, builds[0])
    yield host
    host.stop()


def stores(page: Page) -> list[str]:
    return [str(name) for name in page.evaluate("caches.keys()")]


def built_on(page: Page, address: str, day: str) -> bool:
    """Whether the home page and the list of old things, told apart, are both of one build."""
    return all(
        day in page.goto(address + path).text()  # type: ignore[union-attr]
        for path in ("", "out-of-date/")
    )


def test_everything_works_with_the_server_gone(context: BrowserContext, demo_host: Host) -> None:
    """One visit to the home page; then pages never seen, addresses as people type them, files, search."""
    page = context.new_page()
    page.goto(demo_host.address, wait_until="load")
    kept(page)
    demo_host.stop()
    asked, complaints = watch(page)
    here = demo_host.address
    for path in ("solutions/ecn2-developer/", "labels/bw-mq-borax/", "kit-or-own/", "data/handbook.json"):
        answer = page.goto(here + path)
        assert answer is not None and answer.ok, path
    page.goto(here + "chemicals/cd-4")
    assert page.url == here + "chemicals/cd-4/"
    assert page.locator("h1", has_text="CD-4").is_visible()
    page.goto(here + "handbook.html")
    page.get_by_role("link", name="Colour developer for still negative film").first.click()
    page.goto(here)
    search(page, "sulphite", "Sodium sulfite")
    page.locator(".md-search-result__item", has_text="Sodium sulfite").first.locator("a").first.click()
    page.wait_for_url("**/chemicals/sodium-sulfite/**")
    assert page.locator("h1", has_text="Sodium sulfite").is_visible()
    assert complaints == []
    assert [url for url in asked if not url.startswith((here, "data:", "blob:"))] == []
    gone = page.goto(here + "solutions/never-written/")
    assert gone is not None and gone.status == 404
    page.get_by_role("link", name="Home").click()
    assert page.url == here


def test_the_first_visit_is_small(context: BrowserContext, demo_host: Host, site: Site) -> None:
    """What is asked for before the page has loaded and its search is ready, gzip, at most 90 kB."""
    page = context.new_page()
    page.add_init_script("navigator.serviceWorker.register = () => new Promise(() => {})")
    asked, complaints = watch(page)
    page.goto(demo_host.address, wait_until="networkidle")
    files = {urlsplit(url).path.removeprefix(f"/{BELOW}/") or "index.html" for url in asked}
    assert "search/search_index.json" in files
    sizes = {path: len(gzip.compress((site.folder / path).read_bytes(), 9)) for path in files}
    assert sum(sizes.values()) <= 90_000, sizes
    assert complaints == []


def test_the_store_is_small_and_holds_every_page(context: BrowserContext, demo_host: Host, site: Site) -> None:
    page = context.new_page()
    page.goto(demo_host.address, wait_until="load")
    kept(page)
    size = page.evaluate(
        "async () => { let sum = 0; for (const name of await caches.keys()) { const store = await caches.open(name);"
        "for (const one of await store.matchAll()) sum += (await one.arrayBuffer()).byteLength; } return sum; }"
    )
    assert 500_000 < size <= 4_000_000
    script = (site.folder / "sw.js").read_text("utf-8")
    listed = json.JSONDecoder().raw_decode(script[script.index('{"build":') :])[0]
    pages = {path.relative_to(site.folder).as_posix() for path in site.folder.rglob("*.html")} - {"404.html"}
    assert pages - set(listed["pages"]) == set()
    assert sum(length for _, _, length in listed["files"]) == size


def test_a_kept_page_is_the_built_page(context: BrowserContext, demo_host: Host, site: Site) -> None:
    page = context.new_page()
    page.goto(demo_host.address, wait_until="load")
    kept(page)
    demo_host.stop()
    for path in ("solutions/ecn2-developer/index.html", "data/plan-first-litre.csv", "handbook.html"):
        got = page.evaluate("async url => await (await fetch(url)).text()", demo_host.address + path)
        assert got == (site.folder / path).read_bytes().decode("utf-8"), path


def test_a_new_build_is_offered_with_its_day_and_taken_on_a_tap(
    context: BrowserContext, host: Host, builds: tuple[Path, Path]
) -> None:
    page = context.new_page()
    page.goto(host.address, wait_until="load")
    kept(page)
    host.put(builds[1])
    page.goto(host.address)
    offer = page.get_by_role("button", name=f"Handbook of {NEW}: take it")
    offer.wait_for(timeout=30_000)
    assert len(stores(page)) == 2
    assert built_on(page, host.address, OLD)
    offer.wait_for(timeout=30_000)
    with page.expect_navigation(wait_until="load"):
        offer.click()
    host.stop()
    assert built_on(page, host.address, NEW)
    assert offer.count() == 0
    assert len(stores(page)) == 1


def test_another_open_page_changes_with_it(context: BrowserContext, host: Host, builds: tuple[Path, Path]) -> None:
    first = context.new_page()
    first.goto(host.address, wait_until="load")
    kept(first)
    other = context.new_page()
    other.goto(host.address + "out-of-date/", wait_until="load")
    host.put(builds[1])
    first.goto(host.address)
    offer = first.get_by_role("button", name=f"Handbook of {NEW}: take it")
    offer.wait_for(timeout=30_000)
    with other.expect_navigation(wait_until="load"):
        offer.click()
    assert NEW in other.content()


def test_a_failed_install_leaves_the_old_build_working(
    context: BrowserContext, host: Host, builds: tuple[Path, Path]
) -> None:
    """An upload half done: the new worker's list names a pack that is not there yet."""
    page = context.new_page()
    page.goto(host.address, wait_until="load")
    kept(page)
    host.put(builds[1])
    old = {path.name for path in (builds[0] / "offline").iterdir()}
    missing = next(path for path in sorted((host.place / "offline").iterdir()) if path.name not in old)
    missing.unlink()
    page.goto(host.address)
    state = page.evaluate(
        "async () => { const r = await navigator.serviceWorker.getRegistration(); "
        "try { await r.update(); } catch (e) {}"
        "const w = r.installing; if (w) await new Promise(done => { w.onstatechange = () => done(); });"
        "return [Boolean(r.installing), Boolean(r.waiting), Boolean(r.active)]; }"
    )
    assert state == [False, False, True]
    assert page.locator(".hb-newer").count() == 0
    assert len(stores(page)) == 1
    assert built_on(page, host.address, OLD)
    # The upload goes on; then the network is lost.
    host.put(builds[1])
    page.goto(host.address)
    page.get_by_role("button", name=f"Handbook of {NEW}: take it").wait_for(timeout=30_000)
    host.stop()
    assert built_on(page, host.address, OLD)


def test_a_file_of_another_build_is_refused(context: BrowserContext, host: Host, builds: tuple[Path, Path]) -> None:
    """A list of one build and files of the other: nothing is kept."""
    style = host.place / "assets" / "handbook.css"
    host.put(builds[1])
    style.write_text(style.read_text("utf-8") + "\n/* edited on the host */\n", "utf-8")
    page = context.new_page()
    page.goto(host.address, wait_until="load")
    # Asked a second time, the browser tells of the same attempt, if it has not ended already.
    ended = page.evaluate(
        "async () => { const r = await navigator.serviceWorker.register('sw.js'); const w = r.installing || r.waiting;"
        "if (w) while (w.state === 'installing') await new Promise(done => { w.onstatechange = () => done(); });"
        "return w ? w.state : 'redundant'; }"
    )
    assert ended == "redundant"
    for _ in range(50):
        if not stores(page):
            break
        page.wait_for_timeout(100)
    assert stores(page) == []
    assert page.evaluate("navigator.serviceWorker.controller") is None


def test_the_site_can_be_installed(context: BrowserContext, demo_host: Host) -> None:
    """The manifest's members and icons are there, and the browser finds no fault with it."""
    page = context.new_page()
    page.goto(demo_host.address + "chemicals/", wait_until="load")
    session = context.new_cdp_session(page)
    manifest = session.send("Page.getAppManifest")
    assert manifest["errors"] == []
    assert manifest["url"] == demo_host.address + "handbook.webmanifest"
    members = json.loads(manifest["data"])
    assert {"name", "short_name", "start_url", "scope", "display", "icons", "id"} <= set(members)
    for icon in members["icons"]:
        answer = context.request.get(demo_host.address + icon["src"])
        assert answer.ok, icon
    kept(page)
    faults = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    # A test's window is a private one, from which nothing is installed.
    assert [fault["errorId"] for fault in faults if fault["errorId"] != "in-incognito"] == []
