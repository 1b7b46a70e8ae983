"""Labels are as large as their words need; where none of the usual holds them, codes are saved before any danger."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reckoner.calc.results import Results
from reckoner.pages.formula.label_fit import SIZES, WIDTHS, Words, fitting, height
from reckoner.pages.formula.label_view import LabelView, fitted, label_view
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter

CONCENTRATE = "bw-p-aminophenol-concentrate"
EMPTY = Words("Name", (), pictograms=0, signal="", ruled=("Mixed on",), tally=0, code=False)


def label(results: Results, formula: str) -> LabelView:
    return label_view(results.formulas[formula], PageWriter(results, Display("en_GB"), Links("labels/x.md")))


def long(words: int) -> Words:
    return replace(EMPTY, paragraphs=(("danger " * words, False),))


def test_widths_are_those_of_helvetica() -> None:
    """Adobe's Core 14 AFM files, Helvetica.afm, from memory."""
    assert [WIDTHS[letter] for letter in "iaAW@ 5"] == [222, 556, 667, 944, 1015, 278, 556]


@pytest.mark.parametrize(("words", "size"), [(1, 52), (60, 52), (150, 74), (300, 105), (900, 148), (9000, 148)])
def test_more_words_take_a_larger_label(words: int, size: int) -> None:
    """The last size grows downwards, so that there is one for any text."""
    assert fitting(long(words), long(words))[0].width == size


def test_brief_words_save_only_the_step_to_an_unusual_size() -> None:
    assert fitting(long(60), EMPTY) == (SIZES[0], False)
    assert fitting(long(900), long(300)) == (SIZES[2], True)
    assert fitting(long(900), long(900)) == (SIZES[3], False)


def test_a_word_that_is_wider_than_the_label_is_broken() -> None:
    broken = replace(EMPTY, paragraphs=(("x" * 400, False),))
    # 400 letters of 0.5 × 2.5 mm in lines of 47 mm: eleven lines instead of one.
    more = height(broken, SIZES[0]) - height(replace(EMPTY, paragraphs=(("x", False),)), SIZES[0])
    assert more == pytest.approx(10 * 2.5 * 1.2)


def test_the_brief_label_keeps_every_danger(demo_results: Results) -> None:
    """What is left out is the codes of precautions, which the regulation does not ask for on a label."""
    full = label(demo_results, CONCENTRATE)
    assert full.precautions[0].startswith("P280 Wear")
    sizes = [fitted(replace(full, contents=full.contents + ", Water" * more, copies=())) for more in range(60)]
    view = next(longer for longer in sizes if longer.precautions != full.precautions)
    assert (view.width, view.height) == (105, 140)
    assert (sizes[0].width, sizes[-1].width) == (105, 148)
    assert view.does_not_work == "Does not work as written: do not process film in it."
    assert (view.signal, len(view.pictograms)) == ("Danger", 4)
    assert [text[:4] for text in view.statements] == ["H314", "H317", "H341", "H411", "EUH0"]
    assert view.by_ph and "corros" in view.by_ph[0].lower()
    assert any(text.startswith("Never with acids") for text in view.cautions)
    assert view.precautions[0] == "Wear protective gloves/eye protection."
    assert len(view.precautions) == 6
    assert [text.partition(" ")[2] for text in full.precautions] == list(view.precautions)


def test_long_words_from_data_make_a_label_that_holds_them(demo_results: Results) -> None:
    brief = label(demo_results, CONCENTRATE)
    codes = tuple(f"P999 {text}" for text in brief.precautions)
    view = fitted(replace(brief, name="Very long words " * 60, precautions=codes, copies=()))
    assert (view.width, view.height, view.copies) == (148, 210, (0,))
    assert view.precautions == codes
