"""The built pages in Chromium at the size of a phone."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize

from phone import opened
from site_build import Site

pytestmark = pytest.mark.browser
PHONE: ViewportSize = {"width": 390, "height": 844}
PAGES = [
    "",
    "solutions/",
    "chemicals/",
    "out-of-date/",
    "accident/",
    "law/",
    "keep-apart/",
    "safety/",
    "start/",
    "bench-rules/",
    "worked-out/",
    "sources/",
    "not-known/",
    "film-formats/",
    "about/",
    "solutions/ecn2-developer-home/",
    "solutions/bw-mq-borax/",
    "solutions/e6-colour-developer/",
    "processes/motion-picture-colour-negative/",
    "processes/motion-picture-colour-negative-home/",
    "processes/still-colour-negative/",
    "processes/colour-reversal/",
    "processes/black-and-white-negative/",
    "processes/black-and-white-reversal-cine/",
    "chemicals/sodium-carbonate/",
    "chemicals/cd-3/",
    "plans/",
    "plans/club-year/",
    "plans/first-litre/",
    "plans/small-backlog/",
    "kit-or-own/",
    "price-changes/",
]
#: A label of each size; the site's header and scripts are not on them.
LABELS = ["labels/ecn2-stop/", "labels/bleach-dichromate/", "labels/bw-caustic-contrast-working/"]

#: What must end where the screen does.
PARTS = ".md-content table, .md-content td, .md-content h1, .md-content a, .hb-label, .hb-label *"


@pytest.mark.parametrize("path", [*PAGES, *LABELS])
def test_no_page_scrolls_sideways_or_asks_another_host(browser: Browser, address: str, path: str) -> None:
    page = opened(browser, address + path, width=320)
    no_wider(page, 320)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.set_viewport_size(PHONE)
    page.goto(address + path, wait_until="networkidle")
    assert asked
    assert [url for url in asked if not url.startswith((address, "data:", "blob:"))] == []
    no_wider(page, 390)


def test_no_table_of_other_temperatures_scrolls_sideways(browser: Browser, address: str, site: Site) -> None:
    """Beside a time stands a remark of a sentence: it wraps on every page that has one."""
    pages = sorted((site.folder / "solutions").glob("*/index.html"))
    tables = [file.parent.name for file in pages if "<strong>Other temperatures</strong>" in file.read_text("utf-8")]
    assert "c41-developer" in tables
    page = opened(browser, address, width=320)
    for name in tables:
        page.goto(f"{address}solutions/{name}/")
        for width in (320, 390):
            page.set_viewport_size({"width": width, "height": 844})
            no_wider(page, width)


def no_wider(page: Page, width: int) -> None:
    """Nothing of a page stands beyond its right edge."""
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    too_wide = page.evaluate(
        "([parts, w]) => [...document.querySelectorAll(parts)]"
        ".filter(e => e.getBoundingClientRect().right > w + 0.5).map(e => e.outerHTML.slice(0, 80))",
        [PARTS, width],
    )
    assert too_wide == []


def test_weights_and_cautions_are_there_without_scripts(browser: Browser, address: str) -> None:
    page = opened(browser, address + "solutions/bw-mq-borax/", scripts=False)
    assert page.locator(".hb-weigh").first.is_visible()
    assert page.get_by_text("Indicative, by calculation").first.is_visible()
    # Metol, 2.0 g in a litre as published: 0.50 g in the first batch, 250 mL.
    assert page.locator(".hb-weigh b", has_text="0.50").first.is_visible()
    assert page.locator("details, .tabbed-set").count() == 0


def test_times_and_temperatures_are_large_and_nothing_is_closed(browser: Browser, address: str) -> None:
    page = opened(browser, address + "processes/motion-picture-colour-negative-home/", scripts=False)
    sizes = page.locator(".hb-figures b:first-child").evaluate_all(
        "all => all.map(b => parseFloat(getComputedStyle(b).fontSize))"
    )
    # Nine steps have a time and ten a temperature.
    assert len(sizes) == 19
    assert min(sizes) >= 26
    assert page.get_by_text("Film without:").is_visible()
    assert page.locator("details, .tabbed-set").count() == 0


def test_weights_are_large_and_batch_links_wide_enough_for_a_glove(browser: Browser, address: str) -> None:
    page = opened(browser, address + "solutions/bw-mq-borax/")
    size = page.evaluate("parseFloat(getComputedStyle(document.querySelector('.hb-weigh b')).fontSize)")
    assert size >= 24
    boxes = page.locator(".hb-jump a").evaluate_all(
        "all => all.map(a => a.getBoundingClientRect()).map(b => [b.width, b.height])"
    )
    assert boxes
    assert all(width >= 48 and height >= 48 for width, height in boxes)


@pytest.mark.parametrize("label", LABELS)
def test_a_label_on_a_screen_hides_nothing(browser: Browser, address: str, label: str) -> None:
    page = opened(browser, address + label, width=320)
    cut = page.evaluate(
        "[...document.querySelectorAll('.hb-label')].filter(e => e.scrollHeight > e.clientHeight).length"
    )
    assert page.locator(".hb-label").count() >= 1
    assert cut == 0


def test_home_begins_with_buttons_to_what_is_done_most(browser: Browser, address: str) -> None:
    page = opened(browser, address)
    buttons = page.locator(".hb-jump a")
    assert buttons.all_inner_texts() == [
        "Bottles",
        "Processes",
        "Plans",
        "Formulas",
        "Chemicals",
        "Shelf",
        "Buy a kit or mix it?",
        "Price changes",
        "Keep apart",
    ]
    plans = buttons.nth(2)
    assert plans.bounding_box()["y"] < PHONE["height"] * 3 / 4  # type: ignore[index]
    plans.click()
    assert page.locator("h2#plans").bounding_box()["y"] < PHONE["height"] / 2  # type: ignore[index]
    for href in buttons.evaluate_all("all => all.map(a => a.href)"):
        answer = page.goto(href)
        assert answer is None or answer.ok, href


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
    page.locator(".md-header__button[for=__search]").click()
    page.locator(".md-search__input").press_sequentially(typed)
    # The list is drawn anew while one types: wait until one of the first three is the page.
    page.locator(".md-search-result__item:nth-child(-n+3)").filter(has_text=found).first.wait_for(timeout=10_000)


def test_screenshot_is_not_blank(browser: Browser, address: str, tmp_path: Path) -> None:
    page = opened(browser, address + "solutions/bw-mq-borax/")
    picture = page.screenshot(path=str(tmp_path / "page.png"))
    assert len(picture) > 10_000
