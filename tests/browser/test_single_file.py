"""The single file as a phone's viewer shows it: no scripts, no network, from a disk."""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from served import watch
from site_build import Site

pytestmark = pytest.mark.browser
LIMIT = 1_500_000


@pytest.fixture
def alone(site: Site, tmp_path: Path) -> Path:
    """The file in a folder of its own."""
    return Path(shutil.copy(site.folder / "handbook.html", tmp_path))


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    yield context.new_page()
    context.close()


def words(html: str) -> str:
    """Text as it is read: without tags, white space as one space, none before a comma."""
    return re.sub(r"\s+([,.;:)]|$)|\s+", lambda space: space[1] or " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def test_it_is_small_and_whole_by_itself(alone: Path) -> None:
    text = alone.read_text("utf-8")
    assert len(text.encode("utf-8")) <= LIMIT
    # One line, which takes over the site's red screen.
    assert text.count("<script") == 1
    assert not re.search(r"\b(src|srcset)=|url\(|@import", text)


def test_it_is_read_without_scripts_or_network(alone: Path, page: Page) -> None:
    asked, complaints = watch(page)
    page.goto(alone.as_uri())
    page.get_by_role("link", name="Colour developer for still negative film").first.click()
    heading = page.get_by_role("heading", name="Colour developer for still negative film")
    top = heading.bounding_box()
    assert top is not None and 40 <= top["y"] <= 300
    page.get_by_role("link", name="1 L", exact=True).locator("visible=true").first.wait_for()
    page.get_by_role("link", name="Contents").click()
    assert page.get_by_role("heading", level=1).bounding_box()["y"] < 300  # type: ignore[index]
    assert page.locator("html").evaluate("e => e.scrollWidth") <= 390
    assert asked == [alone.as_uri()]
    assert complaints == []


def test_every_link_leads_to_a_place_in_it(alone: Path) -> None:
    text = alone.read_text("utf-8")
    ids = re.findall(r"""\bid="?([^"\s>]+)""", text)
    assert len(ids) == len(set(ids))
    links = set(re.findall(r"""<a\b[^>]*?href="?([^"\s>]+)""", text))
    assert len(links) > 200
    assert {link for link in links if link.startswith("#")} - {f"#{anchor}" for anchor in ids} == set()
    assert {link for link in links if not link.startswith(("#", "https://", "tel:"))} == set()


def _without_small_print(part: re.Match[str]) -> str:
    return re.sub("(?s)<small>.*?</small>", "", part[0])


def _of_pair(html: str) -> tuple[str, str]:
    """The other side of a pair, and what happens."""
    found = re.search(r"(?s)with <strong>(.*?)</strong>\.(.*?)(?:<em>|<small>)", html)
    assert found is not None
    return words(found[1]).strip(), words(found[2]).strip()


def test_weights_steps_cautions_and_hazards_are_all_there(alone: Path, site: Site) -> None:
    """Each row of each weighing table, each mixing step, caution and first step of the site, word for word.

    Of the batches only the owner's first, its half and its double: the file says that others are left out.
    """
    whole = words(alone.read_text("utf-8"))
    missing = set()
    for formula in site.figures["formulas"]:
        html = (site.folder / "solutions" / formula["id"] / "index.html").read_text("utf-8")
        html = re.sub(r'<span class="hb-paper">.*?</span>', "", html)
        weigh = html[html.index('<h2 id="weigh"') : html.index('<h2 id="hazards-in-full"')]
        weigh = re.sub(r'<h3 id="[^"]*" class="[^"]*hb-other.*?(?=<h[23]\b|$)', "", weigh, flags=re.S)
        assert weigh.count("hb-batch") >= 1
        guard = html[html.index('<h2 id="protect-yourself"') : html.index('<h2 id="weigh"')]
        aid = html[html.index('<h3 id="in-an-accident"') : html.index('<h2 id="storage-and-capacity"')]
        # Each other strength has a page of its own.
        aid = re.sub(r'(?s)<h3 id="at-its-other-strengths.*?(?=<h[23]|$)', "", aid)
        # What a bath is kept away from is named in a line of its own; each pair stands once, with that of all baths.
        apart = re.search(r'(?s)<h3 id="keep-it-away-from.*?(?=<h[23]|$)', aid)
        for pair in re.findall(r"(?s)<li.*?</li>", apart[0] if apart else ""):
            missing |= {(formula["id"], part) for part in _of_pair(pair) if part not in whole}
        aid = aid.replace(apart[0], "") if apart else aid
        # The small print of pairs and jars stands with the chemical, that of a bath's shares on the site.
        told = re.sub(
            r'(?s)<ul class="hb-pairs">.*?</ul>|<h3 id="in-the-(?:jars-while|mixed-bath).*?(?=<h[23]|$)',
            _without_small_print,
            weigh + guard + aid,
        )
        for part in re.findall(r"<(?:tr|li|p)\b.*?</(?:tr|li|p)>", told, re.S):
            if "hb-jump" not in part and words(part).strip() not in whole:
                missing.add((formula["id"], words(part)))
        hazards = formula["hazards"]
        missing |= {(formula["id"], code) for code in hazards["statements"] if code not in whole}
    assert sorted(missing) == []


def test_it_says_what_is_left_out(alone: Path) -> None:
    from reckoner.editions.parts_kept import left_out

    whole = words(alone.read_text("utf-8"))
    assert left_out()
    assert [what for what in left_out() if what not in whole] == []


def test_red_is_red_and_nothing_else(alone: Path, page: Page) -> None:
    """Every pixel of the pages looked at has neither green nor blue."""
    from PIL import Image

    page.goto(alone.as_uri())
    page.locator("label[for=red]").click()
    for link in ("Contents", "Colour developer for still negative film"):
        page.get_by_role("link", name=link).first.click()
        picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
        channels = picture.getextrema()
        assert channels[0][1] == 255
        assert (channels[1][1], channels[2][1]) == (0, 0), link


def test_it_is_linked_from_home_to_open_and_to_save(site: Site) -> None:
    home = site.page("")
    assert '<a href="handbook.html">' in home
    assert '<a href="handbook.html" download>' in home
