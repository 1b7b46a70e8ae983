"""Which size of a bottle label holds its words: lines broken as a browser breaks them, by the widths of Arial."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

#: Advance widths of Helvetica in thousandths of its size (Adobe's AFM files, as embedded in Liberation Sans): Arial and
#: Liberation Sans have the same.
WIDTHS = {
    letter: width
    for width, letters in {
        191: "'",
        222: "ijl",
        260: "|",
        278: " !,./:;I[\\]ft·",
        333: "()-`r",
        334: "{}",
        355: '"',
        389: "*",
        400: "°",
        469: "^",
        500: "Jckvxyzs",
        556: "#$0123456789?L_abdeghnopqu–’",
        584: "+<=>~×",
        611: "FTZ",
        667: "&ABEKPSVXY",
        722: "CDHNRUw",
        778: "GOQ",
        833: "Mm",
        889: "%",
        944: "W",
        1015: "@",
    }.items()
    for letter in letters
}
#: A letter that is not in the list is as wide as it is high; bold letters are wider by so much at the most, in a word.
UNKNOWN = 1000
BOLD = 1.12
#: Millimetres in label.css: padding of a label, space between paragraphs, a line to write on, the code's square, a box
#: and a row of boxes.
PADDING, GAP, RULED, CODE, BOX, BOX_HIGH = 2.5, 0.6, 4.5, 16.0, 4.5, 4.1
#: Left free on every label: another font of the same kind may break a line sooner.
SPARE = 2.0


@dataclass(frozen=True)
class Size:
    """A label in mm: its type and the diagonal of its pictograms, which stand on their corner; how many fit A4.

    CLP Annex I table 1.3 has 52 × 74 mm for packages up to 3 L and 74 × 105 mm up to 50 L. Smallest x-height by
    Regulation (EU) 2024/2865, from memory: 1.2 mm on small labels, 1.4 mm on larger ones; the type used has an x-height
    of half its size or a little more. A pictogram has a side of 10 mm (CLP Annex I, 1.2.1: 1 cm²) or 16 mm.
    """

    width: int
    height: int
    type: float
    pictogram: float
    count: int


#: Two sizes of the regulation, and larger ones where text needs them. The last grows downwards: it holds any text.
SIZES = (
    Size(52, 74, 2.5, 14.2, 9),
    Size(74, 105, 2.9, 22.7, 4),
    Size(105, 140, 2.9, 22.7, 2),
    Size(148, 210, 2.9, 22.7, 1),
)


@dataclass(frozen=True)
class Words:
    """What stands on a label: paragraphs with whether they are bold, lines to write on, and what is drawn."""

    name: str
    paragraphs: tuple[tuple[str, bool], ...]
    pictograms: int
    signal: str
    ruled: tuple[str, ...]
    tally: int
    code: bool


def fitting(full: Words, brief: Words) -> tuple[Size, bool]:
    """The smallest size that holds the full words, and false; brief words only save the step to an unusual size."""
    for size in SIZES[:-1]:
        if height(full, size) <= size.height:
            return size, False
    largest = SIZES[-2]
    return (largest, True) if height(brief, largest) <= largest.height else (SIZES[-1], False)


def height(words: Words, size: Size) -> float:
    """Millimetres that the words take on a label of this width, with what is left free."""
    across = size.width - 2 * PADDING
    fills = [_lines(words.name, across, size.type * 1.3 * BOLD) * size.type * 1.3 * 1.1]
    fills += [
        _lines(text, across, size.type * (BOLD if bold else 1)) * size.type * 1.2 for text, bold in words.paragraphs
    ]
    if words.pictograms or words.signal:
        # The row takes the space of its neighbours: pictograms stand on their corners.
        fills.append(_pictograms(words, size, across) - 2 * GAP)
    beside = across - (CODE + 1 if words.code else 0)
    ruled = [max(RULED, _lines(text, beside, size.type) * size.type * 1.2) + GAP for text in words.ruled]
    fills.append(max(sum(ruled), CODE if words.code else 0))
    if words.tally:
        boxes = [BOX] * words.tally
        fills.append(_rows([_width("Rolls ", size.type), *boxes], across) * BOX_HIGH)
    return sum(fills) + GAP * (len(fills) + 1) + 2 * PADDING + SPARE


def _pictograms(words: Words, size: Size, across: float) -> float:
    """Pictograms in rows with the signal word behind the last."""
    gap = 1.5
    widths = [size.pictogram + gap] * words.pictograms
    signal = _width(words.signal, size.type * 1.4 * BOLD)
    rows = _rows(widths, across + gap)
    high = rows * size.pictogram + gap * max(rows - 1, 0)
    alone = signal and (not widths or _rows([*widths, signal + gap], across + gap) > rows)
    return high + (size.type * 1.4 * 1.2 + gap if alone else 0)


def _lines(text: str, across: float, letter: float) -> int:
    """Lines that a paragraph takes; a word that is wider than the label is broken, as ``overflow-wrap`` breaks it."""
    space = _width(" ", letter)
    words = [_width(word, letter) for word in text.split()]
    broken = (part for width in words for part in [across] * math.floor(width / across) + [width % across])
    return _rows([width + space for width in broken], across + space)


def _rows(widths: Iterable[float], across: float) -> int:
    """Rows that things of these widths take, one behind the other."""
    rows, used = 0, math.inf
    for width in widths:
        if used + width > across:
            rows, used = rows + 1, 0.0
        used += width
    return rows


def _width(text: str, letter: float) -> float:
    """Millimetres of a word in one line; an accent takes no room of its own."""
    letters = (sign for sign in unicodedata.normalize("NFD", text) if not unicodedata.combining(sign))
    return sum(WIDTHS.get(sign, UNKNOWN) for sign in letters) * letter / 1000
