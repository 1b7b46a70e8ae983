"""Bottle labels as they print: sizes in millimetres, nothing cut off, type no smaller than the regulation's."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser

from phone import opened
from site_build import Site

pytestmark = pytest.mark.browser

MEASURE = """() => [...document.querySelectorAll('.hb-label')].map(label => {
  const mm = px => px / 96 * 25.4, box = label.getBoundingClientRect();
  const sizes = [...label.querySelectorAll('p,h1,h2')].map(e => parseFloat(getComputedStyle(e).fontSize));
  const smallest = Math.min(...sizes);
  return {
    width: mm(box.width), height: mm(box.height), type: mm(smallest),
    room: mm(box.bottom - label.lastElementChild.getBoundingClientRect().bottom),
    sideways: label.scrollWidth - label.clientWidth, down: label.scrollHeight - label.clientHeight,
    pictograms: [...label.querySelectorAll('.hb-ghs')].map(e => mm(e.getBoundingClientRect().width)),
  };
})"""
#: CLP Annex I, tables 1.3: label and pictogram sizes, mm; x-heights from memory of Regulation (EU) 2024/2865.
SIZES = {(52, 74): (10, 1.2), (74, 105): (16, 1.4), (105, 140): (16, 1.4)}
#: x-height over size of the type that prints here (Liberation Sans and Arial alike).
X_HEIGHT = 0.519


def test_every_label_holds_its_text_at_its_size(site: Site, browser: Browser, address: str) -> None:
    page = opened(browser, address, width=1280, height=720)
    page.emulate_media(media="print")
    ids = sorted(path.name for path in (site.folder / "labels").iterdir())
    assert len(ids) > 90
    seen = set()
    for formula in ids:
        page.goto(f"{address}labels/{formula}/")
        labels = page.evaluate(MEASURE)
        assert labels, formula
        for label in labels:
            size = next(s for s in SIZES if abs(label["width"] - s[0]) <= 0.5 and abs(label["height"] - s[1]) <= 0.5)
            seen.add(size)
            pictogram, x_height = SIZES[size]
            assert label["type"] * X_HEIGHT >= x_height, formula
            assert label["room"] >= 1, formula
            assert (label["sideways"], label["down"]) == (0, 0), formula
            assert all(side >= pictogram - 0.01 for side in label["pictograms"]), formula
    assert seen == set(SIZES)


def test_a_wider_font_makes_a_label_grow_and_cuts_nothing_off(browser: Browser, address: str) -> None:
    """Where neither Arial nor its like is at hand, another font prints."""
    page = opened(browser, f"{address}labels/bw-p-aminophenol-concentrate/", width=1280, height=720)
    page.emulate_media(media="print")
    page.evaluate("document.body.style.fontFamily = 'monospace'")
    for label in page.evaluate(MEASURE):
        assert label["height"] > 141
        assert label["room"] >= 1
        assert (label["sideways"], label["down"]) == (0, 0)


def test_sheets_fit_a4(site: Site, browser: Browser, address: str) -> None:
    page = opened(browser, address, width=1280, height=720)
    for formula in ("ecn2-stop", "stop-acetic", "bleach-dichromate"):
        page.goto(f"{address}labels/{formula}/")
        pdf = page.pdf(prefer_css_page_size=True)
        assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 1, formula


def test_label_says_what_it_is_and_what_it_is_not(site: Site) -> None:
    label = site.page("labels/ecn2-stop")
    assert "Home label, not a supplier's label" in label
    assert "H314 Causes severe skin burns and eye damage." in label
    assert "H318" not in label
    assert "No QR code" in label
    assert "Contains CD-3. May produce an allergic reaction." in site.page("labels/ecn2-developer-home")
