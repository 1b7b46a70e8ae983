"""One page of every kind, in every scheme and as printed, looked at with axe."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

PAGES = {
    "home": "",
    "processes": "processes/",
    "process": "processes/motion-picture-colour-negative-home/",
    "formulas": "solutions/",
    "formula": "solutions/bw-mq-borax/",
    "bench sheet": "bench/bw-mq-borax/",
    "label": "labels/bw-caustic-contrast-working/",
    "choose": "choose/film-developer/",
    "chemicals": "chemicals/",
    "chemical": "chemicals/sodium-sulfite/",
    "shelf": "shelf/",
    "bottle": "bottles/mq-borax-2026-10/",
    "bottle's label": "bottles/labels/mq-borax-2026-10/",
    "plans": "plans/",
    "plan": "plans/club-year/",
    "kit or own": "kit-or-own/",
    "price changes": "price-changes/",
    "accident": "accident/",
    "safety": "safety/",
    "keep apart": "keep-apart/",
    "law": "law/",
    "hazard codes": "hazard-codes/",
    "tests and signs": "tests-and-signs/",
    "film formats": "film-formats/",
    "out of date": "out-of-date/",
    "how to write": "how-to-write/",
    "from a spreadsheet": "from-a-spreadsheet/",
    "worked out": "worked-out/",
    "sources": "sources/",
    "not known": "not-known/",
    "darkroom screen": "darkroom-screen/",
    "about": "about/",
    "changes": "changelog/",
    "not found": "404.html",
    "one file": "handbook.html",
}
SCREENS = ("light", "dark", "red", "amber")

#: Red and amber are drawn in white on black below two layers. axe does not see through layers, so they are taken away
#: and the contrast is asked for that leaves enough below pure red, the darker of the two: a luminance L becomes
#: 0.2126 L there, and (0.2126 L + 0.05) / 0.05 is 4.5 where (L + 0.05) / 0.05 is 17.5, and 3 where it is 10.4.
_BELOW_RED = {"normal": {"expected": 17.5}, "large": {"expected": 10.4}}
_USUAL = {"normal": {"expected": 4.5}, "large": {"expected": 3}}
_WITHOUT_LAYERS = """() => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync('body::before, body::after { display: none !important }');
  document.adoptedStyleSheets = [sheet];
}"""
#: Long lists and tables hold more of the same, and axe takes its time over each line.
_SHORTER = """() => {
  document.querySelectorAll('ul, ol, tbody, dl, article').forEach(list =>
    [...list.children].slice(list.matches('article') ? 60 : 8).forEach(one => one.remove()));
}"""
_CHOOSE = "screen => dispatchEvent(new StorageEvent('storage', { key: 'handbook.screen', newValue: screen }))"
_RUN = """async ([ratios, colours]) => {
  const usual = axe._audit.checks['color-contrast'].options;
  axe.configure({ checks: [{ id: 'color-contrast', options: { ...usual, contrastRatio: ratios } }] });
  const only = colours ? { runOnly: { type: 'rule', values: ['color-contrast', 'link-in-text-block'] } } : {};
  const found = await axe.run(document, { resultTypes: ['violations'], ...only });
  return found.violations.flatMap(one => one.nodes.map(node => one.id + ': ' + node.html.slice(0, 160)));
}"""


def with_axe(page: Page, script: str = AXE_SCRIPT) -> Page:
    """Shorten a page's lists and put axe in it."""
    page.evaluate(_SHORTER)
    page.evaluate(script)
    return page


def faults(page: Page, screens: Iterable[str] = SCREENS) -> dict[str, list[str]]:
    """What axe finds in each scheme and in print, by the scheme's name; a page without a switch has one scheme."""
    found: dict[str, list[str]] = {}
    switched = page.evaluate("document.documentElement.hasAttribute('data-hb-screen')")
    for screen in screens if switched else ("as it is",):
        page.evaluate(_CHOOSE, screen)
        # The schemes differ in colours only.
        found[screen] = _run(page, screen in {"red", "amber"}, colours=screen not in {"light", "as it is"})
    # Printed from the same scheme, whichever were asked for.
    page.evaluate(_CHOOSE, SCREENS[-1] if switched else "as it is")
    page.emulate_media(media="print")
    found["print"] = _run(page, False)
    return found


def _run(page: Page, below_red: bool, colours: bool = False) -> list[str]:
    page.evaluate(_WITHOUT_LAYERS if below_red else "() => { document.adoptedStyleSheets = []; }")
    lines: Any = page.evaluate(_RUN, [_BELOW_RED if below_red else _USUAL, colours])
    return [str(line) for line in lines]
