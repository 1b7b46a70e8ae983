"""The printed schedule run by the clock: the line that is due, true time, the next announced, choices and bottles."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Browser, Page

from phone import blank, opened, tap

pytestmark = pytest.mark.browser
STILL = "processes/still-colour-negative/"
BLACK_AND_WHITE = "processes/black-and-white-negative/"
CINE = "processes/motion-picture-colour-negative-home/"
SIGNALS = """window.made = []; navigator.vibrate = pattern => { window.made.push(pattern.length); return true; };"""


def by_the_clock(browser: Browser, url: str) -> Page:
    """A page whose clock stands, until the test moves it."""
    page = blank(browser, url, "moved clock")
    page.clock.install(time=datetime(2026, 11, 25, 12, tzinfo=UTC))
    page.add_init_script(SIGNALS)
    page.goto(url)
    page.clock.pause_at(datetime(2026, 11, 25, 13, tzinfo=UTC))
    return furnished(page)


def furnished(page: Page) -> Page:
    """The bar appears when every line has its buttons."""
    page.locator(".hb-run").wait_for()
    return page


def now(page: Page) -> tuple[str, str]:
    """The line that is due and what it says of its time."""
    line = page.locator("[aria-current=step]")
    return line.locator(".hb-step b").inner_text(), line.locator(".hb-left").inner_text()


def test_the_whole_schedule_stays_and_one_line_is_marked(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + STILL)
    lines = page.locator(".hb-steps > li").count()
    assert page.locator("[aria-current=step]").count() == 0
    tap(page, "Start")
    assert now(page) == ("Pre-heat or pre-rinse", "1:00 left")
    assert page.locator(".hb-steps > li:visible").count() == lines
    page.clock.run_for(20_000)
    assert now(page) == ("Pre-heat or pre-rinse", "0:40 left")


def test_the_next_step_is_announced_ahead_with_its_temperature(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + STILL)
    tap(page, "Start")
    page.clock.run_for(44_000)
    bar = page.locator(".hb-run p").first
    assert "Soon" not in bar.inner_text()
    page.clock.run_for(1_500)
    assert "Soon, next: Colour developer, 37.8\u00a0°C." in bar.inner_text()
    assert page.evaluate("window.made") == [3]
    page.clock.run_for(15_000)
    assert now(page)[0] == "Colour developer"
    assert page.evaluate("window.made") == [3, 1]


def test_time_stays_true_through_sleep_and_reload(browser: Browser, address: str) -> None:
    """1:00, then 3:15 and 0:30: after 5:00 asleep the bleach has run for 15 s of its 6:30."""
    page = by_the_clock(browser, address + STILL)
    tap(page, "Start")
    page.clock.fast_forward(300_000)
    page.clock.run_for(300)
    assert now(page) == ("Bleach", "6:15 left")
    page.reload()
    furnished(page)
    page.clock.run_for(300)
    assert now(page)[0] == "Bleach"
    left = page.locator("[aria-current=step] .hb-left").inner_text()
    assert left in {f"6:{seconds:02d} left" for seconds in range(5, 16)}


def test_pause_holds_and_back_begins_again(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + STILL)
    tap(page, "Start")
    page.clock.run_for(70_000)
    tap(page, "Pause")
    page.clock.run_for(60_000)
    assert now(page) == ("Colour developer", "3:05 left")
    tap(page, "Resume")
    page.clock.run_for(5_000)
    assert now(page) == ("Colour developer", "3:00 left")
    tap(page, "Back")
    assert now(page) == ("Colour developer", "3:00 left"), "one tap only asks"
    tap(page, "Tap again")
    assert now(page) == ("Colour developer", "3:15 left")
    tap(page, "Back")
    assert now(page)[0] == "Pre-heat or pre-rinse"
    tap(page, "End")
    assert now(page)[0] == "Pre-heat or pre-rinse", "one tap only asks"
    tap(page, "Tap again")
    assert page.locator("[aria-current=step]").count() == 0


def test_the_time_of_a_bottle_and_the_end_of_a_span_can_be_chosen(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + STILL)
    tap(page, "bottle c41-2026-11: 3:30")
    tap(page, "0:30")
    page.reload()
    furnished(page)
    tap(page, "Start")
    assert now(page)[1] == "0:30 left"
    page.clock.run_for(31_000)
    assert now(page) == ("Colour developer", "3:29 left")


def test_a_bottle_that_the_build_no_longer_knows_is_not_offered(browser: Browser, address: str) -> None:
    """Film counted through it on this phone, or a day after its last good one: the printed time counts, and why."""
    page = by_the_clock(browser, address + STILL)
    page.evaluate("localStorage.setItem('handbook.film.c41-2026-11', '[{}]')")
    page.reload()
    furnished(page)
    line = page.locator("#step-2")
    assert page.get_by_role("button", name=re.compile("bottle c41-2026-11")).count() == 0
    assert "Bottle c41-2026-11: film was counted through it on this phone" in page.locator(".hb-steps").inner_text()
    page.evaluate("localStorage.removeItem('handbook.film.c41-2026-11')")
    page.clock.pause_at(datetime(2027, 1, 10, 12, tzinfo=UTC))
    page.reload()
    furnished(page)
    assert page.get_by_role("button", name=re.compile("bottle c41-2026-11")).count() == 0
    assert "Bottle c41-2026-11: expired, it was good until 27" in page.locator(".hb-steps").inner_text()
    assert "Runs for 3:15." in line.inner_text()


def test_lines_for_some_film_can_be_left_out(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + CINE)
    for _ in range(2):
        page.get_by_role("button", name="Leave this line out", exact=True).first.click()
    bar = page.locator(".hb-run p").first
    assert "Left out: Prebath, Rem-jet removal, rinse." in bar.inner_text()
    page.reload()
    furnished(page)
    tap(page, "Start")
    assert now(page)[0] == "Colour developer"


def test_what_is_left_out_holds_for_one_run_and_one_day(browser: Browser, address: str) -> None:
    """Film of unknown backing that goes without a prebath by yesterday's choice is spoilt."""
    page = by_the_clock(browser, address + CINE)
    page.get_by_role("button", name="Leave this line out", exact=True).first.click()
    tap(page, "Start")
    tap(page, "End")
    tap(page, "Tap again")
    assert page.locator(".hb-out").count() == 0
    page.get_by_role("button", name="Leave this line out", exact=True).first.click()
    page.clock.set_fixed_time(datetime(2026, 11, 26, 13, tzinfo=UTC))
    page.reload()
    furnished(page)
    assert page.locator(".hb-out").count() == 0


def test_the_films_own_time_can_be_set(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + BLACK_AND_WHITE)
    line = page.locator("#step-1, #step-2").filter(has_text="Developer").first
    before = line.locator(".hb-choose-time > b").inner_text()
    line.get_by_role("button", name="Shorter: ").first.click()
    after = line.locator(".hb-choose-time > b").inner_text()
    seconds = [int(m) * 60 + int(s) for m, s in re.findall(r"(\d+):(\d\d)", before + after)]
    assert seconds[0] - seconds[1] == 15
    assert line.get_by_role("button", name=re.compile("bottle mq-borax")).count() >= 1


@pytest.mark.parametrize("path", [STILL, CINE])
def test_the_time_left_is_never_behind_the_bar(browser: Browser, address: str, path: str) -> None:
    page = by_the_clock(browser, address + path)
    page.emulate_media(reduced_motion="reduce")
    tap(page, "Start")
    bar = page.locator(".hb-run")
    for _ in range(page.locator(".hb-steps > li").count() - 2):
        page.clock.run_for(1_500)
        page.wait_for_timeout(50)
        left, over = page.locator("[aria-current=step] .hb-left").bounding_box(), bar.bounding_box()
        assert left is not None and over is not None
        assert left["y"] >= 40 and left["y"] + left["height"] <= over["y"]
        assert page.locator(".hb-run-left").inner_text() == now(page)[1]
        tap(page, "Next line")


def test_a_line_that_ends_by_looking_waits(browser: Browser, address: str) -> None:
    page = by_the_clock(browser, address + CINE)
    tap(page, "Start")
    page.clock.run_for(61_000)
    name, left = now(page)
    assert name == "Rem-jet removal, rinse" and left.endswith("gone; tap Next line when it is done")
    page.clock.fast_forward(600_000)
    page.clock.run_for(300)
    assert now(page)[0] == name
    tap(page, "Next line")
    assert now(page) == ("Colour developer", "3:00 left")


@pytest.mark.parametrize("width", [320, 390])
def test_the_bar_fits_and_its_buttons_are_a_thumb_high(browser: Browser, address: str, width: int) -> None:
    page = opened(browser, address + STILL, width=width, height=700)
    furnished(page)
    tap(page, "Start")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    boxes = [button.bounding_box() for button in page.locator(".hb-run button:visible").all()]
    assert len(boxes) == 4 and all(box and box["height"] >= 48 and box["width"] >= 48 for box in boxes)


def test_no_bar_covers_that_a_bath_does_not_work(browser: Browser, address: str) -> None:
    """The clock of such a process comes when it is asked for, and then says so itself."""
    page = opened(browser, address + "processes/colour-reversal/", height=700)
    ask = page.get_by_role("button", name="Show the clock all the same")
    ask.wait_for()
    bar = page.locator(".hb-run")
    assert not bar.is_visible()
    offer = page.locator("main .hb-warn", has=ask).inner_text()
    assert "do not work as written, do not process film in them" in offer
    ask.click()
    assert "do not work as written, do not process film in them" in bar.inner_text()
    assert page.get_by_role("button", name="Start", exact=True).is_visible()


def test_without_scripts_the_schedule_is_whole_and_no_bar_stands_over_it(browser: Browser, address: str) -> None:
    page = opened(browser, address + STILL, scripts=False)
    assert page.locator(".hb-run").count() == 0
    assert "3:15" in page.locator(".hb-steps").inner_text()


LOCKS = """window.held = 0; Object.defineProperty(navigator, "wakeLock", { value: { request: () => {
  window.held += 1;
  const lock = new EventTarget();
  lock.release = () => { window.held -= 1; setTimeout(() => lock.dispatchEvent(new Event("release")), 600); };
  return Promise.resolve(lock);
} } });"""


def test_the_screen_stays_lit_while_the_clock_runs_and_no_longer(browser: Browser, address: str) -> None:
    """One lock at most, however often it is paused; the end of an old one comes after a new one was asked for."""
    page = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block").new_page()
    page.add_init_script(LOCKS)
    page.goto(address + STILL)
    furnished(page)
    held = []
    for name in ("Start", "Pause", "Resume", "Pause", "Resume"):
        tap(page, name)
        page.wait_for_timeout(20 if name == "Pause" else 700)
        held.append(page.evaluate("window.held"))
    tap(page, "End")
    tap(page, "Tap again")
    page.wait_for_timeout(120)
    assert (held, page.evaluate("window.held")) == ([1, 0, 1, 0, 1], 0)
