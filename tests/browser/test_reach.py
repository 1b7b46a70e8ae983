"""Keys reach every control, tables stay tables, nothing moves where that is not wanted."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from every_kind import PAGES
from phone import opened

pytestmark = pytest.mark.browser
#: What has the focus: where it is, and whether it is seen.
FOCUSED = """() => {
  const at = document.activeElement, box = at.getBoundingClientRect();
  return [at.outerHTML.slice(0, 90), box.right > 0 && box.left < innerWidth && at.checkVisibility({
    visibilityProperty: true })];
}"""
CONTROLS = "a[href], button, input:not(.md-toggle), select, textarea, [tabindex='0'], [role=button]"


def press(page: Page, key: str) -> None:
    page.keyboard.press(key)
    page.wait_for_timeout(50)


def test_the_menu_opens_and_closes_by_keys(browser: Browser, address: str) -> None:
    page = opened(browser, address)
    menu = page.get_by_role("button", name="Menu")
    link = page.locator(".md-nav--primary").get_by_role("link", name="Price changes")
    for key in ("Enter", " "):
        menu.focus()
        press(page, key)
        assert menu.get_attribute("aria-expanded") == "true"
        page.wait_for_timeout(400)
        assert link.is_visible()
        press(page, "Escape")
        page.wait_for_timeout(400)
        assert menu.get_attribute("aria-expanded") == "false"
        assert not link.is_visible()


def test_the_search_opens_by_keys(browser: Browser, address: str) -> None:
    page = opened(browser, address)
    page.get_by_role("button", name="Search", exact=True).focus()
    press(page, " ")
    page.locator(".md-search__input:focus").wait_for(timeout=5_000)
    page.keyboard.type("sulphite")
    page.locator(".md-search-result__item").first.wait_for(timeout=20_000)


@pytest.mark.parametrize("name", ["home", "process", "bench sheet", "shelf"])
def test_tab_goes_only_where_one_sees_it(browser: Browser, address: str, name: str) -> None:
    page = opened(browser, address + PAGES[name])
    places = []
    for _ in range(40):
        press(page, "Tab")
        where, seen = page.evaluate(FOCUSED)
        places.append(where)
        # At the end of the search's result list nothing is drawn, and the page is not left either.
        assert seen or "md-search" in where, where
    assert len(set(places)) > 5


@pytest.mark.parametrize("name", ["bench sheet", "process", "plan", "shelf"])
def test_what_can_be_tapped_can_be_reached(browser: Browser, address: str, name: str) -> None:
    """Whatever shows a hand or has a role of its own takes the focus."""
    page = opened(browser, address + PAGES[name])
    deaf = page.evaluate(
        "controls => [...document.querySelectorAll('main :is([role=button], [role=checkbox], button, label)')]"
        # The menu's title shuts it again, as Escape does.
        ".filter(e => !e.matches('.md-nav__title') && e.checkVisibility() && !e.matches(controls)"
        " && !e.querySelector('input') && e.tabIndex < 0"
        " && !(e.control && e.control.checkVisibility())).map(e => e.outerHTML.slice(0, 90))",
        CONTROLS,
    )
    assert deaf == []


@pytest.mark.parametrize("name", ["formula", "choose", "kit or own", "hazard codes", "film formats", "plan", "shelf"])
def test_tables_are_read_as_tables(browser: Browser, address: str, name: str) -> None:
    """As the browser tells a screen reader, at a phone's width: rows, and a heading to every column."""
    page = opened(browser, address + PAGES[name])
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    session = page.context.new_cdp_session(page)
    roles = [node["role"]["value"] for node in session.send("Accessibility.getFullAXTree")["nodes"]]
    tables, rows = page.locator("main table").count(), page.locator("main tr").count()
    assert roles.count("table") == tables
    assert roles.count("row") == rows


@pytest.mark.parametrize("name", ["home", "process", "bench sheet"])
def test_nothing_moves_where_motion_is_not_wanted(browser: Browser, address: str, name: str) -> None:
    page = opened(browser, address + PAGES[name], still=True)
    moving = page.evaluate(
        "[...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e);"
        " return /[1-9]/.test(s.transitionDuration) || s.animationName !== 'none' || s.scrollBehavior === 'smooth'; })"
        ".map(e => e.outerHTML.slice(0, 80))"
    )
    assert moving == []
