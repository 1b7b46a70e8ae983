"""axe finds nothing on any kind of page, in any scheme, printed or in the frame's menu and search; nothing shifts."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from every_kind import PAGES, SCREENS, faults, with_axe
from long_run import LONG
from phone import opened

pytestmark = pytest.mark.browser
SHIFTS = """() => new Promise(done => {
  const seen = [];
  new PerformanceObserver(list => seen.push(...list.getEntries().map(one => one.value)))
    .observe({ type: 'layout-shift', buffered: true });
  setTimeout(() => done(seen), 600);
})"""

#: The one file is hundreds of pages in one: axe takes minutes over it, and is run by hand (tests/quality/measure.py).
BY_HAND = "one file"


@pytest.mark.parametrize("name", PAGES)
def test_nothing_shifts_and_no_violation_in_any_scheme_and_printed(browser: Browser, address: str, name: str) -> None:
    page = opened(browser, address + PAGES[name], still=True)
    assert page.evaluate(SHIFTS) == []
    if name != BY_HAND:
        assert {scheme: lines for scheme, lines in faults(with_axe(page), screens(name)).items() if lines} == {}


def screens(name: str) -> list[str]:
    """All schemes in the long run, else light and one of the others: they differ in colours, which few pages add to."""
    light, *others = SCREENS
    return [light, *(others if LONG else [others[list(PAGES).index(name) % len(others)]])]


@pytest.mark.parametrize("opener", ["__drawer", "__search"])
def test_no_violation_with_the_menu_or_the_search_open(browser: Browser, address: str, opener: str) -> None:
    page = with_axe(opened(browser, address, still=True))
    page.locator(f".md-header__button[for={opener}]").click()
    if opener == "__search":
        page.locator(".md-search__input").press_sequentially("sulphite")
        page.locator(".md-search-result__item").first.wait_for(timeout=20_000)
    assert {scheme: lines for scheme, lines in faults(page).items() if lines and scheme != "print"} == {}
