"""A page grows old in the reader's browser: dates that have passed since the build become a warning on top."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, Route

from phone import opened

pytestmark = pytest.mark.browser
FORMULA = "solutions/ecn2-developer-home/"


def read_on(browser: Browser, url: str, day: str, scripts: bool = True) -> Page:
    """A page opened on a day to come."""
    return opened(browser, url, scripts=scripts, day=day)


def test_on_the_day_of_the_build_nothing_is_added(browser: Browser, address: str) -> None:
    page = read_on(browser, address + FORMULA, "2026-11-25")
    assert page.locator(".hb-aged").count() == 0
    assert page.locator(".hb-dates li").count() > 3


def test_two_years_later_prices_hazards_and_disposal_are_old(browser: Browser, address: str) -> None:
    page = read_on(browser, address + FORMULA, "2028-11-25")
    said = page.locator(".hb-aged").inner_text()
    for words in ("Out of date since this page was built", "Price list", "Hazard record", "Hazard phrases", "Disposal"):
        assert words in said
    assert "Formula" not in said
    assert page.locator("h1 + .hb-aged").count() == 1


@pytest.mark.parametrize(("day", "old"), [("2027-11-25", False), ("2027-11-26", True)])
def test_the_last_good_day_is_still_good(browser: Browser, address: str, day: str, old: bool) -> None:
    """Checked on 2026-11-25 with a limit of one year, 365 days."""
    page = read_on(browser, address + "chemicals/hydroquinone/", day)
    assert ("Hazard record" in (page.locator(".hb-aged").all_inner_texts() or [""])[0]) == old


def test_home_counts_what_has_passed(browser: Browser, address: str) -> None:
    page = read_on(browser, address, "2026-11-25")
    assert not page.locator(".hb-count").is_visible()
    page = read_on(browser, address, "2031-01-01")
    assert int(page.locator(".hb-count span").inner_text()) > 200


def test_the_list_holds_everything_that_home_counts(browser: Browser, address: str) -> None:
    """Home's number and the list it leads to are one, in a year's time and in five."""
    for day in ("2027-03-01", "2028-01-01", "2031-01-01"):
        home = int(read_on(browser, address, day).locator(".hb-count span").inner_text())
        page = read_on(browser, address + "out-of-date/", day)
        assert page.locator(".hb-aged li").count() == home
        assert page.locator(".hb-aged li a").count() > 0
        assert page.locator(".hb-passed:visible").count() == home
        assert "bottle is past its limit" not in page.locator(".md-content").inner_text().lower()


def test_without_scripts_the_list_says_as_of_when_it_speaks(browser: Browser, address: str) -> None:
    page = read_on(browser, address + "out-of-date/", "2028-01-01", scripts=False)
    said = page.locator(".md-content").inner_text()
    assert "As of 25 Nov 2026" in said.replace("\u00a0", " ")
    assert page.locator(".hb-dates li:visible").count() < 20


@pytest.mark.parametrize("path", ["safety/", "accident/"])
def test_handwritten_cautions_grow_old_too(browser: Browser, address: str, path: str) -> None:
    assert read_on(browser, address + path, "2027-11-25").locator(".hb-aged").count() == 0
    assert read_on(browser, address + path, "2028-01-01").locator(".hb-aged").count() == 1


def test_without_scripts_the_dates_stand_in_words(browser: Browser, address: str) -> None:
    page = read_on(browser, address + FORMULA, "2028-11-25", scripts=False)
    assert page.locator(".hb-aged").count() == 0
    assert "good until" in page.locator(".hb-dates").inner_text()


def test_a_bottle_dies_on_the_shelf_and_on_the_phone(browser: Browser, address: str) -> None:
    """The demo's colour developer, first used on 2026-11-20, works for a week by its formula."""
    bottle = address + "bottles/c41-2026-11/"
    assert read_on(browser, bottle, "2026-11-27").locator(".hb-aged").count() == 0
    assert "Bottle c41-2026-11" in read_on(browser, bottle, "2026-11-28").locator(".hb-aged").inner_text()
    assert "Bottle c41-2026-11" in read_on(browser, address + "shelf/", "2026-11-28").locator(".hb-aged").inner_text()


def bottle_lines(page: Page) -> list[str]:
    """The bottles of home, as they are read."""
    lines = page.locator("#bottles + ul > li").all_inner_texts()
    return [line.replace("\u00a0", " ") for line in lines]


@pytest.mark.parametrize(
    ("day", "expired"), [("2026-11-27", 0), ("2026-11-28", 1), ("2026-12-02", 2), ("2026-12-03", 2), ("2026-12-04", 3)]
)
def test_a_bottle_expires_on_home_by_the_phones_day(browser: Browser, address: str, day: str, expired: int) -> None:
    """The demo's bottles are good until 27 November, 1 and 3 December: those that have expired stand first."""
    page = read_on(browser, address, day)
    lines = bottle_lines(page)
    assert [("Expired: it was good until" in line, " left; good until " in line) for line in lines] == [
        (number < expired, number >= expired) for number in range(3)
    ]
    said = page.locator(".hb-count").inner_text()
    assert page.locator(".hb-count").is_visible() == (expired > 0)
    if expired:
        assert f"{expired} bottle{'s' * (expired > 1)} expired" in said
        assert "price" not in said


def test_home_counts_bottles_apart_from_prices(browser: Browser, address: str) -> None:
    said = read_on(browser, address, "2027-02-01").locator(".hb-count").inner_text()
    assert "3 bottles expired, 1 price list, 3 exchange rates" in said


def test_out_of_date_names_bottles_apart(browser: Browser, address: str) -> None:
    page = read_on(browser, address + "out-of-date/", "2027-02-01")
    titles = page.locator(".hb-aged > p").all_inner_texts()
    assert titles == [
        "Expired since this page was built: discard.",
        "Out of date since this page was built: check before you rely on it.",
    ]
    expired, old = (page.locator(".hb-aged > ul").nth(number).locator("li") for number in (0, 1))
    assert (expired.count(), old.count()) == (3, 4)
    assert all("bottle of" in line for line in expired.all_inner_texts())
    assert not any("bottle of" in line for line in old.all_inner_texts())
    assert page.locator(".hb-next li").count() == 5
    assert not set(page.locator(".hb-next li").all_inner_texts()) & set(old.all_inner_texts())


def test_an_expired_bottle_has_no_film_left_on_its_page_and_on_the_shelf(browser: Browser, address: str) -> None:
    for path in ("bottles/c41-2026-11/", "shelf/"):
        good = read_on(browser, address + path, "2026-11-27").locator("main").inner_text()
        assert "3 left by the cautious figure" in good
        assert "Expired" not in good
        page = read_on(browser, address + path, "2026-11-28")
        said = page.locator("main").inner_text().replace("\u00a0", " ")
        assert "3 left by the cautious figure" not in said
        assert "Next film: none, the bottle has expired" in said
        assert "Expired: it was good until 27 Nov 2026. Discard it." in said
    page = read_on(browser, address + "bottles/c41-2026-11/", "2026-11-28")
    page.locator("#hb-counting button").first.click()
    counted = page.locator("#hb-counting").inner_text().replace("\u00a0", " ")
    assert "rolls; expired, it was good until 27 Nov 2026: discard it." in counted
    assert "Next film" not in counted


def test_a_demonstration_is_read_as_of_its_own_day(browser: Browser, address: str) -> None:
    """As its builds put the day into every head (test_demo_day.py)."""
    page = browser.new_context(service_workers="block").new_page()

    def stated(route: Route) -> None:
        answer = route.fetch()
        meta = '<head><meta name="handbook-day" content="2026-11-25">'
        route.fulfill(response=answer, body=answer.text().replace("<head>", meta, 1))

    page.route("**/out-of-date/", stated)
    page.clock.set_fixed_time("2031-01-01")
    page.goto(address + "out-of-date/")
    assert page.evaluate("hb.day()") == "2026-11-25"
    assert page.locator(".hb-aged").count() == 0
    page.goto(address)
    assert page.evaluate("hb.day()") == "2031-01-01"
