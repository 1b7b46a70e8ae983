"""The built pages in Chromium at the size of a phone."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
PAGES = [
    "",
    "solutions/",
    "chemicals/",
    "out-of-date/",
    "accident/",
    "law/",
    "keep-apart/",
    "safety/",
    "film-formats/",
    "about/",
    "solutions/ecn2-developer-home/",
    "solutions/bw-mq-borax/",
    "solutions/e6-colour-developer/",
    "processes/motion-picture-colour-negative-home/",
    "processes/black-and-white-reversal-cine/",
    "chemicals/sodium-carbonate/",
    "chemicals/cd-3/",
]


def opened(browser: Browser, url: str, scripts: bool = True, width: int = 390) -> Page:
    context = browser.new_context(viewport={**PHONE, "width": width}, java_script_enabled=scripts)
    page = context.new_page()
    page.goto(url, wait_until="load")
    return page


@pytest.mark.parametrize("width", [390, 320])
@pytest.mark.parametrize("path", PAGES)
def test_no_page_scrolls_sideways(browser: Browser, address: str, path: str, width: int) -> None:
    page = opened(browser, address + path, width=width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    too_wide = page.evaluate(
        "w => [...document.querySelectorAll('.md-content table, .md-content td, .md-content h1, .md-content a')]"
        ".filter(e => e.getBoundingClientRect().right > w + 0.5).map(e => e.outerHTML.slice(0, 80))",
        width,
    )
    assert too_wide == []
    page.context.close()


@pytest.mark.parametrize("path", PAGES)
def test_nothing_is_asked_of_another_host(browser: Browser, address: str, path: str) -> None:
    context = browser.new_context(viewport=PHONE)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address + path, wait_until="networkidle")
    assert [url for url in asked if not url.startswith((address, "data:", "blob:"))] == []
    context.close()


def test_weights_and_cautions_are_there_without_scripts(browser: Browser, address: str) -> None:
    page = opened(browser, address + "solutions/bw-mq-borax/", scripts=False)
    assert page.locator(".hb-weigh").first.is_visible()
    assert page.get_by_text("Indicative, by calculation").first.is_visible()
    # Metol, 2.0 g in a litre as published: 0.50 g in the first batch, 250 mL.
    assert page.locator(".hb-weigh b", has_text="0.50").first.is_visible()
    assert page.locator("details, .tabbed-set").count() == 0
    page.context.close()


def test_weights_are_large_and_batch_links_wide_enough_for_a_glove(browser: Browser, address: str) -> None:
    page = opened(browser, address + "solutions/bw-mq-borax/")
    size = page.evaluate("parseFloat(getComputedStyle(document.querySelector('.hb-weigh b')).fontSize)")
    assert size >= 24
    boxes = page.locator(".hb-jump a").evaluate_all(
        "all => all.map(a => a.getBoundingClientRect()).map(b => [b.width, b.height])"
    )
    assert boxes
    assert all(width >= 48 and height >= 48 for width, height in boxes)
    page.context.close()


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("sulphite", "Sodium sulfite"),
        ("7757-83-7", "Sodium sulfite"),
        ("D-76", "Metol"),
        ("hypo", "Sodium thiosulfate"),
    ],
)
def test_search_finds_names_numbers_and_spellings(browser: Browser, address: str, typed: str, found: str) -> None:
    page = opened(browser, address)
    page.locator("label.md-header__button[for=__search]").click()
    page.locator(".md-search__input").press_sequentially(typed)
    results = page.locator(".md-search-result__item")
    # The list is drawn anew while one types: wait until one of the first three is the page.
    first = results.filter(has_text=found).first
    first.wait_for(timeout=10_000)
    page.wait_for_function(
        "found => [...document.querySelectorAll('.md-search-result__item')].slice(0, 3)"
        ".some(item => item.innerText.includes(found))",
        arg=found,
        timeout=10_000,
    )
    page.context.close()


def test_screenshot_is_not_blank(browser: Browser, address: str, tmp_path: Path) -> None:
    page = opened(browser, address + "solutions/bw-mq-borax/")
    picture = page.screenshot(path=str(tmp_path / "page.png"))
    assert len(picture) > 10_000
    page.context.close()
