"""Without MkDocs and Material: the Markdown alone, made HTML by Python-Markdown, still has every weight and warning."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html.parser import HTMLParser

import pytest
from markdown import markdown

from long_run import sampled
from reckoner.calc.bath import FormulaResult
from reckoner.calc.results import Results

#: Kinds of page by their folder, where one weighs.
WEIGHED = ("solutions", "bench")


class _Words(HTMLParser):
    """The text of a page; what stands in a script or a style is none."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.silent = 0

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.silent += tag in {"script", "style", "template"}

    def handle_endtag(self, tag: str) -> None:
        self.silent -= tag in {"script", "style", "template"}

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.words.append(data)


def tried(worked: Results) -> list[FormulaResult]:
    """A third of the formulas: making HTML of all their pages takes seconds."""
    return sampled(worked.formulas.values(), 3)


@pytest.fixture(scope="module")
def texts(demo_results: Results, demo_pages: Mapping[str, str]) -> dict[str, str]:
    """Path of a page to its text, with single spaces."""
    read = {}
    for path in (f"{folder}/{result.formula.id}.md" for result in tried(demo_results) for folder in WEIGHED):
        body = re.sub(r"\A---\n.*?\n---\n", "", demo_pages[path], flags=re.S)
        reader = _Words()
        reader.feed(markdown(body))
        read[path] = " ".join("".join(reader.words).split())
    return read


@pytest.mark.parametrize("folder", WEIGHED)
def test_every_weight_of_every_batch_is_read(demo_results: Results, texts: dict[str, str], folder: str) -> None:
    """Each in a list of its own batch: as often as it is weighed, or oftener."""
    missing = []
    for result in tried(demo_results):
        text = texts[f"{folder}/{result.formula.id}.md"]
        for batch in result.batches:
            for row in batch.rows:
                measured = row.row.measured
                figure = f"{measured.rounded.normalize():f}"
                # As fine as the instrument shows: 3 is written 3.0 where it shows tenths.
                zeros = "0*" if "." in figure else r"(\.0+)?"
                if not re.search(rf"(?<![\d.]){re.escape(figure)}{zeros} {measured.unit}\b", text.replace(",", "")):
                    missing.append((result.formula.id, f"{figure} {measured.unit}"))
    assert missing == []


@pytest.mark.parametrize("folder", WEIGHED)
def test_every_warning_is_read(demo_results: Results, texts: dict[str, str], folder: str) -> None:
    """The cautions that an author wrote; on the formula's page the signal word of the sum too."""
    missing = []
    for result in tried(demo_results):
        text = texts[f"{folder}/{result.formula.id}.md"]
        said = [" ".join(caution.split()) for caution in result.formula.cautions]
        if folder == "solutions" and result.hazards.label.signal:
            said.append(result.hazards.label.signal)
        missing += [(result.formula.id, words) for words in said if words not in text]
    assert missing == []


def test_a_missing_weight_would_be_seen(texts: dict[str, str]) -> None:
    assert not any("999999 g" in text for text in texts.values())
    assert len(texts) > 60
    assert min(map(len, texts.values())) > 300
