"""The fault of an edit on a phone that reads what is served: it comes and goes by itself, in any screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from every_kind import faults, with_axe
from mkdocs_serve import serve
from phone import colours, not_amber, not_red, opened
from site_build import project

pytestmark = pytest.mark.browser
OFFER = Path("formulas/prices/one/2026-11-01.yml")
WRONG = {"red": not_red, "amber": not_amber}
#: The block, and what lies at its middle; whether the link to what to do in an accident can be tapped.
SEEN = """() => {
  const block = document.querySelector('.hb-fault'), box = block.getBoundingClientRect();
  const style = getComputedStyle(block);
  const help = document.querySelector('.hb-help'), at = help && help.getBoundingClientRect();
  return {
    seen: block.contains(document.elementFromPoint(box.left + box.width / 2, box.top + 20)) && box.top >= 0,
    share: box.height / innerHeight, large: parseFloat(style.fontSize) >= 18.66 && style.fontWeight >= 700,
    wide: document.documentElement.scrollWidth - innerWidth,
    help: !help || document.elementFromPoint(at.left + at.width / 2, at.top + at.height / 2) === help,
  };
}"""


def save(path: Path, text: str) -> None:
    """In one step: a file that is seen empty for a moment would be one more fault, and the page reloaded meanwhile."""
    whole = path.parents[3] / "whole"
    whole.write_text(text, "utf-8")
    whole.replace(path)


def check(page: Page) -> None:
    """The block is read wherever the page has been scrolled to, and pushes nothing out of reach."""
    for scrolled in ("0", "document.body.scrollHeight / 2"):
        page.evaluate(f"() => scrollTo(0, {scrolled})")
        seen = page.evaluate(SEEN)
        assert (seen["seen"], seen["large"], seen["help"]) == (True, True, True), seen
        assert seen["share"] < 0.5
        assert seen["wide"] <= 0


def test_it_comes_and_goes_by_itself_and_is_read_in_every_screen(browser: Browser, tmp_path: Path) -> None:
    root = project(tmp_path / "project")
    bench = f"bench/{next((root / 'formulas' / 'solutions').rglob('*.yml')).stem}/"
    good = (root / OFFER).read_text("utf-8")
    with serve(root) as served:
        served.until("Serving on")
        page = opened(browser, served.address, "red")
        block = page.locator(".hb-fault")
        assert block.count() == 0
        save(root / OFFER, good.replace("EUR", "pounds"))
        block.get_by_text(f"{OFFER}:").first.wait_for(timeout=60_000)
        served.until("Reloading browsers")
        for screen in ("red", "amber", "light", "dark"):
            for path in ("", bench):
                page = opened(browser, served.address + path, screen)
                check(page)
                if screen in WRONG:
                    assert WRONG[screen](colours(page)) == {}
        assert {screen: lines for screen, lines in faults(with_axe(page)).items() if lines} == {}
        unscripted = opened(browser, served.address, scripts=False)
        assert f"{OFFER}:" in unscripted.get_by_role("alert").inner_text()
        page = opened(browser, served.address)
        assert page.get_by_role("alert").count() == 1
        save(root / OFFER, good)
        page.locator(".hb-fault").wait_for(state="detached", timeout=60_000)
        page.locator("h1").wait_for(timeout=20_000)
        assert page.get_by_role("alert").count() == 0
