"""Pages opened as on a phone, and their pixels counted."""

from __future__ import annotations

import io

from PIL import Image
from playwright.sync_api import Browser, Page

Colour = tuple[int, int, int]


def opened(
    browser: Browser, url: str, screen: str = "", scripts: bool = True, width: int = 390, height: int = 844
) -> Page:
    """A page in a context of its own; ``screen`` is the scheme chosen on an earlier visit."""
    context = browser.new_context(viewport={"width": width, "height": height}, java_script_enabled=scripts)
    page = context.new_page()
    if screen:
        page.add_init_script(f"localStorage.setItem('handbook.screen', '{screen}')")
    page.goto(url, wait_until="load")
    return page


def colours(page: Page) -> dict[Colour, int]:
    """How many pixels of the window have each colour."""
    image = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    found = image.getcolors(1 << 24)
    assert found is not None
    return {colour: count for count, colour in found if isinstance(colour, tuple)}


def not_red(found: dict[Colour, int]) -> dict[Colour, int]:
    """Pixels with any green or blue in them."""
    return {colour: count for colour, count in found.items() if colour[1] or colour[2]}


def not_amber(found: dict[Colour, int]) -> dict[Colour, int]:
    """Pixels that are no shade of #ffb000; two steps of 255 are allowed for rounding."""
    return {c: count for c, count in found.items() if c[2] or abs(c[1] - c[0] * 176 / 255) > 2}
