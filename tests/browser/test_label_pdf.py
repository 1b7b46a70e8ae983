"""Bottle labels measured in the printed PDF itself: cut lines, pictograms, height of the type, nothing outside."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from math import dist

import pytest
from fontTools.ttLib import TTFont
from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LTChar, LTCurve
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import dict_value, resolve1
from pdfminer.psparser import literal_name
from playwright.sync_api import Browser

from phone import opened

pytestmark = pytest.mark.browser

#: No hazard; one pictogram and few statements; two; many statements; three pictograms.
FORMULAS = (
    "stop-citric",
    "bw-pc-metaborate",
    "bw-p-aminophenol-b",
    "bleach-dichromate",
    "bw-caustic-contrast-working",
    "clearing-sulfite",
)
#: CLP Annex I, 1.2.1 with tables 1.3, from memory: a pictogram is a square on its corner and covers 1 cm2 at the least,
#: 10 mm a side; packages up to 3 L take a label of 52 × 74 mm if possible and pictograms of 16 mm if possible (over
#: 3 L it would be 74 × 105 and 23 mm). x-heights are those of Regulation (EU) 2024/2865, from memory: 1.2 mm up to
#: half a litre, 1.4 mm up to 3 L. (width, height): (side of a pictogram, x-height), all in mm.
SIZES = {(52, 74): (10, 1.2), (74, 105): (16, 1.4), (105, 140): (16, 1.4)}
A4 = (210, 297)
POINTS = 72 / 25.4
GREY, RED = (0.4667,) * 3, (0.8157, 0, 0)


class _Widths(PDFPageInterpreter):
    """Chromium sets the width of a line by a graphics state, which pdfminer passes over."""

    def do_gs(self, name: object) -> None:
        state = dict_value(dict_value(self.resources["ExtGState"])[literal_name(name)])
        if "LW" in state:
            self.do_w(resolve1(state["LW"]))


@dataclass(frozen=True)
class Cell:
    """The rectangle between cut lines, in mm from the lower left corner of the sheet."""

    left: float
    bottom: float
    right: float
    top: float

    def holds(self, letter: LTChar) -> bool:
        low, high = (letter.x0 / POINTS, letter.y0 / POINTS), (letter.x1 / POINTS, letter.y1 / POINTS)
        return self.left <= low[0] and self.bottom <= low[1] and high[0] <= self.right and high[1] <= self.top

    @property
    def size(self) -> tuple[int, int]:
        """The nominal size, half a millimetre allowed."""
        width, height = self.right - self.left, self.top - self.bottom
        near = [s for s in SIZES if abs(width - s[0]) <= 0.5 and abs(height - s[1]) <= 0.5]
        assert near, f"{width:.2f} × {height:.2f} mm is no size of a label"
        return near[0]


@dataclass
class Sheet:
    """A printed sheet, and what the page in the browser held."""

    pages: int
    paper: tuple[float, float]
    written: list[str]
    drawn: int
    letters: list[LTChar] = field(default_factory=list)
    curves: list[LTCurve] = field(default_factory=list)
    fonts: dict[str, TTFont] = field(default_factory=dict)

    @property
    def cells(self) -> list[Cell]:
        """Between each two neighbouring cut lines, where all four sides are dashed."""
        dashes = [c for c in self.curves if c.fill and _near(c.non_stroking_color, GREY)]
        flat = [(c.x0, c.x1, (c.y0 + c.y1) / 2) for c in dashes if c.width > c.height]
        tall = [(c.y0, c.y1, (c.x0 + c.x1) / 2) for c in dashes if c.width < c.height]
        xs, ys = _lines(at for _, _, at in tall), _lines(at for _, _, at in flat)
        grid = [Cell(*map(_mm, (x, y, right, top))) for x, right in pairwise(xs) for y, top in pairwise(ys)]
        return [
            c
            for c in grid
            if all(_dashed(flat, at, c.left, c.right) for at in (c.bottom, c.top))
            and all(_dashed(tall, at, c.bottom, c.top) for at in (c.left, c.right))
        ]

    @property
    def sides(self) -> list[float]:
        """Of each red frame, along its outer edge."""
        frames = [c for c in self.curves if c.stroke and _near(c.stroking_color, RED)]
        return [_mm(dist(f.pts[0], f.pts[1]) + f.linewidth) for f in frames]


def _near(colour: object, wanted: tuple[float, ...]) -> bool:
    return isinstance(colour, tuple) and len(colour) == 3 and dist(colour, wanted) < 0.01


def _mm(points: float) -> float:
    return points / POINTS


def _lines(places: Iterable[float]) -> list[float]:
    """Middles of places that lie within a millimetre of one another: neighbouring labels share their cut line."""
    groups: list[list[float]] = []
    for place in sorted(places):
        if groups and place - groups[-1][-1] < POINTS:
            groups[-1].append(place)
        else:
            groups.append([place])
    return [(group[0] + group[-1]) / 2 for group in groups]


def _dashed(dashes: list[tuple[float, float, float]], at: float, start: float, end: float) -> bool:
    """Whether dashes run along a whole side, with no gap of 3 mm."""
    on_it = sorted((_mm(low), _mm(high)) for low, high, where in dashes if abs(_mm(where) - at) < 1)
    reached = start
    for low, high in on_it:
        if start - 1 <= low <= reached + 3:
            reached = max(reached, high)
    return reached >= end - 3


def printed(browser: Browser, url: str) -> Sheet:
    """A label page as Chromium prints it."""
    page = opened(browser, url)
    page.emulate_media(media="print")
    written = page.locator(".hb-label").all_inner_texts()
    pdf = page.pdf(prefer_css_page_size=True, format="A4")
    drawn = page.locator(".hb-ghs").count()
    pages = list(PDFPage.get_pages(io.BytesIO(pdf)))
    sheet = Sheet(len(pages), (_mm(pages[0].mediabox[2]), _mm(pages[0].mediabox[3])), written, drawn)
    manager = PDFResourceManager()
    device = PDFPageAggregator(manager)
    interpreter = _Widths(manager, device)
    interpreter.process_page(pages[0])
    for item in device.get_result():
        if isinstance(item, LTChar):
            sheet.letters.append(item)
        elif isinstance(item, LTCurve):
            sheet.curves.append(item)
    for font in interpreter.fontmap.values():
        sheet.fonts[font.fontname] = TTFont(io.BytesIO(font.fontfile.get_data()))
    return sheet


@pytest.fixture(scope="module")
def sheets(browser: Browser, address: str) -> dict[str, Sheet]:
    return {formula: printed(browser, f"{address}labels/{formula}/") for formula in FORMULAS}


def test_the_chosen_labels_are_of_every_size(sheets: dict[str, Sheet]) -> None:
    assert {cell.size for sheet in sheets.values() for cell in sheet.cells} == set(SIZES)


@pytest.mark.parametrize("formula", FORMULAS)
def test_cut_lines_part_one_sheet_into_labels(sheets: dict[str, Sheet], formula: str) -> None:
    sheet = sheets[formula]
    assert sheet.pages == 1
    assert sheet.paper == pytest.approx(A4, abs=0.5)
    assert len(sheet.cells) == len(sheet.written)
    assert len({cell.size for cell in sheet.cells}) == 1


@pytest.mark.parametrize("formula", FORMULAS)
def test_pictograms_measure_along_their_side(sheets: dict[str, Sheet], formula: str) -> None:
    sheet = sheets[formula]
    least, _ = SIZES[sheet.cells[0].size]
    assert len(sheet.sides) == sheet.drawn
    assert [round(side, 2) for side in sheet.sides if side < least] == []


@pytest.mark.parametrize("formula", FORMULAS)
def test_x_height_of_the_type_that_was_printed(sheets: dict[str, Sheet], formula: str) -> None:
    """Size of each letter times the x-height that the embedded font itself declares."""
    sheet = sheets[formula]
    _, least = SIZES[sheet.cells[0].size]
    ratio = {name: font["OS/2"].sxHeight / font["head"].unitsPerEm for name, font in sheet.fonts.items()}
    heights = {round(_mm(letter.size) * ratio[letter.fontname], 3) for letter in sheet.letters}
    assert heights
    assert min(heights) >= least


@pytest.mark.parametrize("formula", FORMULAS)
def test_every_letter_stands_inside_its_label(sheets: dict[str, Sheet], formula: str) -> None:
    sheet = sheets[formula]
    ink = [letter for letter in sheet.letters if letter.get_text().strip()]
    inside = [[letter for letter in ink if cell.holds(letter)] for cell in sheet.cells]
    assert sum(len(letters) for letters in inside) == len(ink)
    counted = [sum(len(letter.get_text()) for letter in letters) for letters in inside]
    assert sorted(counted) == sorted(len("".join(text.split())) for text in sheet.written)
