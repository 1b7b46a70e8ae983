"""Pages opened as on a phone, and their pixels counted."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import UTC, datetime

from PIL import Image
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page

from site_build import SITE_DAY

Colour = tuple[int, int, int]


def opened(
    browser: Browser,
    url: str,
    screen: str = "",
    scripts: bool = True,
    width: int = 390,
    height: int = 844,
    still: bool = False,
    day: str = SITE_DAY,
) -> Page:
    """A page as on a first visit.

    ``screen`` is the scheme chosen on an earlier visit, ``still`` wants no motion, ``day`` is what the clock says, and
    the site's own unless a test is about another.
    The page belongs to the next test too: it is not to be closed, and nothing is to be put into its context.
    """
    page = blank(browser, url, "of a day" if day else "of today", scripts, screen, width, height, still)
    if day:
        page.clock.set_fixed_time(datetime.fromisoformat(day).replace(tzinfo=UTC, hour=12))
    page.goto(url, wait_until="load")
    return page


def blank(
    browser: Browser,
    url: str,
    use: str,
    scripts: bool = True,
    screen: str = "",
    width: int = 390,
    height: int = 844,
    still: bool = False,
) -> Page:
    """The page of one use, left and with nothing kept of the site at ``url``; the rest as for ``opened``.

    What one use puts into its page, a clock that can be moved or a script, stays for whoever has the same use.
    """
    kept = _kept(browser, use, scripts)
    page = kept.page
    page.unroute_all()
    page.goto("about:blank")
    kept.forget("/".join(url.split("/")[:3]))
    kept.choose(screen)
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(media="null", color_scheme="null", reduced_motion="reduce" if still else "null")
    return page


def tap(page: Page, name: str) -> None:
    """A tap on the button of that name."""
    page.get_by_role("button", name=name, exact=True).click()


@dataclass
class _Kept:
    """A page that stays open between the tests: a new one costs Chromium five times what another visit does."""

    page: Page
    session: CDPSession
    script: str = ""

    def forget(self, origin: str) -> None:
        self.session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})

    def choose(self, screen: str) -> None:
        if self.script:
            self.session.send("Page.removeScriptToEvaluateOnNewDocument", {"identifier": self.script})
            self.script = ""
        if screen:
            source = f"localStorage.setItem('handbook.screen', '{screen}')"
            added = self.session.send("Page.addScriptToEvaluateOnNewDocument", {"source": source})
            self.script = added["identifier"]


_KEPT: dict[tuple[Browser, str, bool], _Kept] = {}


def _kept(browser: Browser, use: str, scripts: bool) -> _Kept:
    kept = _KEPT.get((browser, use, scripts))
    if kept is None or kept.page.is_closed():
        # A worker would fetch the whole site for each test; tests of it make contexts of their own.
        context = browser.new_context(java_script_enabled=scripts, service_workers="block")
        page = context.new_page()
        session = context.new_cdp_session(page)
        session.send("Page.enable")
        kept = _KEPT[browser, use, scripts] = _Kept(page, session)
    return kept


def others(browser: Browser) -> list[BrowserContext]:
    """What a test opened itself."""
    ours = [kept.page.context for kept in _KEPT.values()]
    return [context for context in browser.contexts if context not in ours]


def colours(page: Page) -> dict[Colour, int]:
    """How many pixels of the window have each colour."""
    image = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    counts = image.getcolors(1 << 24)
    assert counts is not None
    return {colour: count for count, colour in counts if isinstance(colour, tuple)}


def not_red(counts: dict[Colour, int]) -> dict[Colour, int]:
    """Pixels with any green or blue in them."""
    return {colour: count for colour, count in counts.items() if colour[1] or colour[2]}


def not_amber(counts: dict[Colour, int]) -> dict[Colour, int]:
    """Pixels that are no shade of #ffb000; two steps of 255 are allowed for rounding."""
    return {c: count for c, count in counts.items() if c[2] or abs(c[1] - c[0] * 176 / 255) > 2}
