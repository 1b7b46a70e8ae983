"""Nothing moves on a page that is read long after its build: what has passed is said before the page is painted."""

from __future__ import annotations

import time

import pytest
from playwright.sync_api import Browser, Page, Route

from every_kind import PAGES
from long_run import sampled
from phone import opened
from site_build import SITE_DAY

pytestmark = pytest.mark.browser
#: Shift of the layout without a tap, by each entry of the browser (Layout Instability, W3C community group report).
SHIFTS = """() => new Promise(done => {
  const seen = [];
  new PerformanceObserver(list => seen.push(...list.getEntries().map(one => one.value)))
    .observe({ type: 'layout-shift', buffered: true });
  setTimeout(() => done(seen), 600);
})"""
DATED = ("shelf", "out of date", "home", "formula", "bottle", "process", "safety", "accident", "chemical", "law")
#: A year and a day, and five years, after the site was built.
LATER = ("2027-11-26", "2031-11-25")


def slowly(route: Route) -> None:
    """A phone far from the mast: a script at the foot of a page comes long after the page was painted."""
    time.sleep(0.3)
    route.continue_()


#: Each page once, each day for a part of them; the long run has every page on every day.
CASES = sampled(((name, day) for day in (SITE_DAY, *LATER) for name in DATED), every=3)


@pytest.mark.parametrize(("name", "day"), CASES)
def test_nothing_shifts_years_after_the_build(browser: Browser, address: str, name: str, day: str) -> None:
    page = opened(browser, "about:blank", still=True, day=day)
    page.route("**/assets/*.js", slowly)
    page.goto(address + PAGES[name], wait_until="load")
    assert page.evaluate(SHIFTS) == []
    assert (page.locator(".hb-aged, .hb-count:not([hidden])").count() > 0) == (day != SITE_DAY)


def pending(browser: Browser, address: str, path: str) -> Page:
    """A page on a phone that has counted a film through a bottle."""
    page = opened(browser, address + PAGES["safety"], still=True, day=SITE_DAY)
    film = '[{"day":"2026-11-25","format":"135-36","at":1,"built":0}]'
    page.evaluate("film => localStorage.setItem('handbook.film.mq-borax-2026-10', film)", film)
    page.route("**/assets/*.js", slowly)
    page.goto(address + path, wait_until="load")
    return page


@pytest.mark.parametrize("name", ["home", "shelf", "bottle"])
def test_nothing_shifts_for_film_counted_on_the_phone(browser: Browser, address: str, name: str) -> None:
    page = pending(browser, address, PAGES[name])
    assert page.evaluate(SHIFTS) == []
    said = page.locator("main").inner_text()
    assert ("As of the build: film" if name == "bottle" else "film counted on this phone") in said
