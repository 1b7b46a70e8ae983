"""The hostile handbook opened in Chromium, in every edition: nothing runs, nothing is asked for, nothing is pushed out.

Each page holds more than a hundred payloads (``payloads.py``) in each of its texts.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page

from hostile import handbook
from long_run import sampled
from payloads import PAYLOADS
from served import TYPE, Host, watch
from site_build import Site
from site_fixtures import Once

pytestmark = pytest.mark.browser

#: Called by payloads alone; whatever the page's policy has to stop is a payload too.
TRIPWIRE = """
window.fired = [];
for (const name of ['alert', 'confirm', 'prompt'])
  window[name] = () => { window.fired.push(name); };
document.addEventListener('securitypolicyviolation', e => window.fired.push(e.violatedDirective + e.blockedURI));
"""
#: After everything that can be pressed was pressed: what fired, what could, and how wide the page is.
LOOK = """async () => {
  const still = () => new Promise(done => setTimeout(done, 30));
  await still();
  for (const one of document.querySelectorAll('main details')) one.open = true;
  for (const one of document.querySelectorAll('main button, main input[type=checkbox]')) one.click();
  for (const one of document.querySelectorAll('main input')) {
    if (one.type === 'number' || one.type === 'text') one.value = '3';
    one.dispatchEvent(new Event('input', { bubbles: true }));
    one.dispatchEvent(new Event('change', { bubbles: true }));
  }
  await still();
  const live = [];
  const ours = new Set(['https:', 'http:', 'file:', 'tel:', 'mailto:']);
  for (const one of document.querySelectorAll('*'))
    for (const { name, value } of one.attributes) {
      if (name.startsWith('on') || name === 'srcdoc' || name === 'style' && value.includes('fixed')) live.push(name);
      if (['href', 'src', 'action', 'formaction', 'data', 'xlink:href'].includes(name) &&
        (!ours.has(new URL(value, document.baseURI).protocol) && !value.startsWith('data:image/') ||
         value.includes('example.invalid'))) live.push(name + '=' + value);
    }
  return { fired: window.fired, live, wide: document.documentElement.scrollWidth };
}"""
#: Elements of the search's own in its results.
OF_A_RESULT = {"a", "article", "del", "details", "div", "h1", "h2", "li", "mark", "nav", "p", "span", "summary", "ul"}


@pytest.fixture(scope="module")
def address(hostile_site: Site, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    host = Host(tmp_path_factory.mktemp("host"), hostile_site.folder)
    yield host.address
    host.stop()


@pytest.fixture(scope="module")
def hostile_folder(once: Once) -> Path:
    return once("hostile-folder", lambda folder: handbook(folder / "book", True, edition="folder")).folder


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    context.add_init_script(TRIPWIRE)
    yield context.new_page()
    context.close()


def faults(page: Page, addresses: Iterable[str], root: str) -> list[object]:
    """What is wrong with each page, opened one after the other."""
    asked, complaints = watch(page)
    page.on("dialog", lambda dialog: (complaints.append(dialog.message), dialog.dismiss()))
    page.on("popup", lambda opened: complaints.append(opened.url))
    found: list[object] = []
    for address in addresses:
        page.goto(address, wait_until="load")
        seen = page.evaluate(LOOK)
        if seen["fired"] or seen["live"] or complaints or seen["wide"] > 390:
            found.append((address.removeprefix(root), seen, list(complaints)))
        complaints.clear()
    found += [url for url in asked if not url.startswith((root, "data:", "blob:", "about:"))]
    return found


def pages_of(folder: Path, root: str) -> list[str]:
    """Addresses of the pages with a text of a record on them; the page that is not found knows only its own place."""
    found = [path for path in sorted(folder.rglob("*.html")) if path.name != "404.html"]
    names = [path.relative_to(folder).as_posix() for path in found if "alert(1)" in path.read_text("utf-8")]
    assert len(names) > 30
    return [root + quote(name) for name in names]


def test_a_hole_would_be_seen(page: Page, tmp_path: Path) -> None:
    """What each of the tests below would say of a page that lets a payload through."""
    for name, hole in {
        "runs": "<img src=x onerror=alert(1)>",
        "could": "<a href=javascript:alert(1)>x</a>",
        "asks": "<img src=http://example.invalid/x.png>",
        "wide": "<p style='width: 400px'>x</p>",
    }.items():
        (tmp_path / f"{name}.html").write_text(f"<!doctype html><main>{hole}</main>", "utf-8")
        root = tmp_path.as_uri() + "/"
        found = faults(page, [f"{root}{name}.html"], root)
        assert found, name
        assert (name == "asks") == ("http://example.invalid/x.png" in found), found
        assert found[0][1]["fired"] == (["alert"] if name == "runs" else [])  # type: ignore[index]
        page.goto("about:blank")


def test_nothing_runs_in_the_site(hostile_site: Site, address: str, page: Page) -> None:
    every = pages_of(hostile_site.folder, address)
    own = [one for one in every if "mine" in one]
    assert len(own) > 12
    assert faults(page, [*own, *sampled([one for one in every if one not in own], 4)], address) == []


def test_nothing_runs_in_the_folder(hostile_folder: Path, page: Page) -> None:
    root = hostile_folder.as_uri() + "/"
    own = [one for one in pages_of(hostile_folder, root) if "mine" in one or "index" in one]
    assert len(own) > 12
    assert faults(page, sampled(own, 2), root) == []


def test_nothing_runs_in_the_one_file(hostile_site: Site, page: Page, tmp_path: Path) -> None:
    alone = tmp_path / "handbook.html"
    alone.write_bytes((hostile_site.folder / "handbook.html").read_bytes())
    assert faults(page, [alone.as_uri()], tmp_path.as_uri()) == []
    text = page.locator("body").inner_text()
    assert "<script>alert(1)</script>" in text


@pytest.mark.parametrize("begins", ["#", "?h=", "?q=x#"])
def test_nothing_runs_out_of_an_address(begins: str, address: str, page: Page) -> None:
    """A link to a page can carry a payload too."""
    some = ["<img src=x onerror=alert(1)>", "javascript:alert(1)", "__proto__"]
    at = [f"{address}solutions/mine-a/", f"{address}bench/mine-a/"]
    assert faults(page, [f"{one}{begins}{quote(text)}" for one in at for text in some], address) == []


@pytest.mark.parametrize("edition", ["site", "folder"])
def test_what_the_search_finds_is_text(edition: str, address: str, hostile_folder: Path, page: Page) -> None:
    """Found by what was typed, or by what a link brought along; names, texts and the words that are missing."""
    asked, complaints = watch(page)
    root = address if edition == "site" else hostile_folder.as_uri() + "/"
    results = page.locator(".md-search-result__list")
    page.goto(f"{root}index.html?q={quote('fixer <img/src=x/onerror=alert(1)>')}")
    for typed in ("", "zzq", '"><img src=x onerror=alert(1)>', "__proto__ toString"):
        if typed:
            page.evaluate(TYPE, typed)
            page.wait_for_timeout(400)
        results.locator("article").first.wait_for(state="attached")
        names = set(results.evaluate("e => [...e.querySelectorAll('*')].map(one => one.localName)"))
        assert names <= OF_A_RESULT, (typed, names - OF_A_RESULT)
        assert page.evaluate(LOOK) == {"fired": [], "live": [], "wide": 390}, typed
        text = results.evaluate("e => e.textContent")
        assert ("<script>alert(1)</script>" if typed else "Missing: <img/src=x/onerror=alert(1)>") in text, typed
    assert complaints == []
    assert [url for url in asked if not url.startswith((root, "data:", "blob:", "about:"))] == []


def test_json_ld_and_title_say_what_was_written(hostile_site: Site, address: str, page: Page) -> None:
    """The browser's own parsers read back every character."""
    for name in ("mine-a", "mine-b"):
        source = hostile_site.folder.parent / "formulas" / "solutions" / "mine" / f"{name}.yml"
        written = json.loads(source.read_text("utf-8"))
        page.goto(f"{address}solutions/{name}/")
        blocks = page.locator("script[type='application/ld+json']").all_text_contents()
        (said,) = (json.loads(block) for block in blocks)
        words = " ".join(written["name"].split())
        assert said["name"] == words
        assert all(" ".join(payload.split()) in words for payload in PAYLOADS)
        assert [" ".join(text.split()) for text in written["mixing"]] == [step["text"] for step in said["step"][1:]]
        assert page.title().startswith(" ".join(words.split()))
        assert page.locator("h1").first.text_content().strip() == words  # type: ignore[union-attr]
