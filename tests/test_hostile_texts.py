"""Whatever stands in any text of any record is text on the page: the same elements are built as from plain words."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from full_records import filler_of
from payloads import CATEGORIES, PAYLOADS, SPREADSHEET, UNSEEN
from site_build import Site

PACK = re.compile(r"offline/[0-9a-f]{16}\.pack")
SCHEMES = ("javascript:", "data:", "vbscript:", "file:")


class Shape(HTMLParser):
    """Elements with the names of their attributes, and every address and attribute that could run something."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: Counter[str] = Counter()
        self.bad: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        # Material writes the classes of its own; ids of headings are made of their texts.
        self.elements[f"{tag} {' '.join(sorted(name for name, _ in attrs))}"] += 1
        self.bad += [name for name, _ in attrs if name.startswith("on")]
        self.bad += [value or "" for _, value in attrs if (value or "").strip().lower().startswith(SCHEMES)]

    def handle_comment(self, data: str) -> None:
        self.elements["comment"] += 1

    def unknown_decl(self, data: str) -> None:
        self.elements["declaration"] += 1

    def handle_pi(self, data: str) -> None:
        self.elements["instruction"] += 1


@pytest.fixture(scope="module")
def both(hostile_site: Site, plain_site: Site) -> tuple[Site, Site]:
    return hostile_site, plain_site


def shape(path: Path) -> Shape:
    read = Shape()
    read.feed(path.read_text("utf-8"))
    read.close()
    return read


def test_pages_are_built_of_the_same_elements(both: tuple[Site, Site]) -> None:
    hostile, plain = (site.folder for site in both)
    names = sorted(path.relative_to(hostile).as_posix() for path in hostile.rglob("*.html"))
    assert names == sorted(path.relative_to(plain).as_posix() for path in plain.rglob("*.html"))
    assert len(names) > 30
    different: dict[str, object] = {}
    for name in names:
        ours, theirs = shape(hostile / name), shape(plain / name)
        assert ours.bad == theirs.bad == [], name
        if "labels/" in name:
            # Fewer labels with long texts fit a sheet.
            extra = set(ours.elements) - set(theirs.elements)
            different |= {name: extra} if extra else {}
        elif ours.elements != theirs.elements:
            different[name] = (ours.elements - theirs.elements, theirs.elements - ours.elements)
    assert different == {}


def test_payloads_are_there_to_be_read(both: tuple[Site, Site]) -> None:
    """Else the comparison above would compare nothing."""
    assert len(set(PAYLOADS)) == len(PAYLOADS) >= 100
    assert min(len(found) for found in CATEGORIES.values()) >= 4
    page = " ".join(both[0].page("solutions/mine-a").split())
    missing = [payload for payload in PAYLOADS if " ".join(payload.split()) not in page]
    assert missing == []


def test_no_file_is_named_by_a_text(both: tuple[Site, Site]) -> None:
    """The store's packs are named by a hash of what they hold, which differs."""
    every = [[p.relative_to(s.folder).as_posix() for p in s.folder.rglob("*")] for s in both]
    ours, theirs = ({name for name in names if not PACK.fullmatch(name)} for names in every)
    assert ours == theirs


def test_the_search_index_holds_no_element_of_a_text(both: tuple[Site, Site]) -> None:
    """The theme puts what it finds there on the page."""
    for entry in json.loads((both[0].folder / "search" / "search_index.json").read_text("utf-8"))["docs"]:
        read = Shape()
        read.feed(" ".join([entry["title"], entry["text"], *entry.get("tags", [])]))
        tags = {name.split()[0] for name in read.elements}
        assert tags <= {"p", "h1", "h2", "h3", "ul", "ol", "li", "pre", "code", "strong", "em"}, entry["location"]
        assert read.bad == []


def test_figures_and_feed_are_well_formed(both: tuple[Site, Site]) -> None:
    data = both[0].folder / "data"
    assert json.loads((data / "handbook.json").read_text("utf-8"))["format"]
    assert json.loads((data / "datapackage.json").read_text("utf-8"))["resources"]
    ElementTree.parse(data / "price-changes.xml")
    ElementTree.parse(both[0].folder / "sitemap.xml")


def test_no_cell_of_a_table_runs(both: tuple[Site, Site]) -> None:
    guarded = []
    for table in (both[0].folder / "data").rglob("*.csv"):
        text = table.read_text("utf-8")
        for cell in (cell for row in csv.reader(text.splitlines(keepends=True), strict=True) for cell in row):
            assert not cell.startswith(("=", "@", "+", "-", "\t", "\r")), (table.name, cell[:80])
            guarded += [cell] if cell.startswith(tuple(f"'{text}" for text in SPREADSHEET)) else []
    assert len(guarded) >= 2


@pytest.mark.parametrize("hidden", UNSEEN)
def test_no_text_of_any_record_may_turn_round(hidden: str) -> None:
    """Direction overrides and unseen characters are refused wherever a text stands."""
    from reckoner.loading.kinds import FILE_KINDS
    from reckoner.loading.source import parse_yaml
    from reckoner.loading.structure import to_record

    for kind in FILE_KINDS:
        asked: list[str] = []
        filler = filler_of(lambda at, asked=asked: asked.append(at) or f"a{hidden}b")  # type: ignore[misc]
        tree = filler.record(kind.record)
        parsed = parse_yaml(json.dumps(tree, ensure_ascii=False), "x.yml")
        _, problems = to_record(parsed, kind.record)
        said = [problem for problem in problems if f"U+{ord(hidden):04X}" in problem.message]
        assert len(said) >= len(set(asked)) > 0 or parsed.tree is None
