"""The search in the trade's words: what people type, and the page that must come first, measured in the built site."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
import yaml
from playwright.sync_api import Browser, Page

from phone import opened
from reckoner.editions.exact_names import plain
from served import TYPE

pytestmark = pytest.mark.browser
QUERIES = yaml.safe_load((Path(__file__).parent / "queries.yml").read_text("utf-8"))
FIND = Path(__file__).parents[2] / "hooks" / "theme" / "assets" / "find.js"
#: Wrong answers allowed in the whole list.
ALLOWED = 2


def found(page: Page, words: str, address: str) -> list[str]:
    """Addresses of the results, the first first; waits until the list has stood still for a moment."""
    page.evaluate(TYPE, words)
    before: list[str] | None = None
    for _ in range(40):
        page.wait_for_timeout(80)
        links = page.locator(".md-search-result__link").evaluate_all("all => all.slice(0, 3).map(one => one.href)")
        if links == before and links:
            break
        before = links
    return [link.split("?")[0].removeprefix(address) for link in before or []]


def test_the_trades_words_lead_to_the_right_page(browser: Browser, address: str) -> None:
    assert len(QUERIES) >= 60
    assert len({query["type"] for query in QUERIES}) == len(QUERIES)
    page = opened(browser, address, width=1280, height=720)
    wrong = []
    for query in QUERIES:
        wanted = query["first"] if isinstance(query["first"], list) else [query["first"]]
        got = found(page, str(query["type"]), address)
        if not got or got[0].split("#")[0] not in wanted:
            wrong.append((query["type"], got))
    assert len(wrong) <= ALLOWED, wrong


def test_an_exact_name_stands_once_and_goes_with_the_next_query(browser: Browser, address: str) -> None:
    page = opened(browser, address, width=1280, height=720)
    found(page, "D-76", address)
    assert page.locator(".hb-exact").count() == 1
    found(page, "zinc and brass", address)
    assert page.locator(".hb-exact").count() == 0


#: What is typed, and what the first suggestion holds; nothing where nothing is suggested.
MEANT = {
    "hydrokinone": "did you mean: hydroquinone",
    "tiosulfate": "did you mean: ammonium thiosulfate",
    "pottasium bromide": "did you mean: potassium bromide",
    "stabilizer": "stabiliser",
    "zinc and brass": "",
    "hydroqu": "",
}


def test_a_misspelt_word_leads_to_what_was_meant(browser: Browser, address: str) -> None:
    page = opened(browser, address, width=1280, height=720)
    for typed, meant in MEANT.items():
        found(page, typed, address)
        titles = [title.lower() for title in page.locator(".hb-exact h1").all_inner_texts()]
        assert bool(titles) == bool(meant), typed
        assert all(meant in title for title in titles[:1]), (typed, titles)


@pytest.mark.parametrize(
    "name", ["D-76", "Sodium sulphite", "COLOR developer", "CAS 7757-83-7", "Farmer's reducer", "é-6"]
)
def test_names_are_compared_alike_in_both_languages(browser: Browser, name: str) -> None:
    page = opened(browser, "about:blank")
    # The site's own copy is packed: the function is read from the source.
    body = re.search(r"var plain = (function.*?\n {2}});", FIND.read_text("utf-8"), re.S)
    assert body is not None
    assert page.evaluate(f"({body[1]})({json.dumps(name)})") == plain(name)
