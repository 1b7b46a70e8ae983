"""The Atom feed of price lists: what RFC 4287 asks of it, ids that stay, and times that are not the build's."""

from __future__ import annotations

import re
from datetime import date
from xml.etree import ElementTree

import feedparser
import pytest

from reckoner.outputs.feed import BEGUN, price_feed, tag
from site_build import Site
from small import chemical, formula, results, supplier

A = "{http://www.w3.org/2005/Atom}"
URL = "https://club.example/handbook/"
SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")
BASE = {
    "chemicals/salt.yml": SALT,
    "solutions/bath.yml": formula("bath", "[{chemical: salt, form: solid, amount: 20 g}]"),
    "prices/one/supplier.yml": supplier().replace("Test supplier", "Salt & <b>soda</b>"),
    "prices/two/supplier.yml": supplier(),
}


def prices(day: str, of: str, price: str) -> dict[str, str]:
    offer = f"{{chemical: salt, form: solid, pack: 1 kg, price: {price}}}"
    return {f"prices/{of}/{day}.yml": f"date: {day}\noffers: [{offer}]\n"}


LISTS = {
    **prices("2026-09-01", "one", "9 EUR"),
    **prices("2026-09-01", "two", "8 EUR"),
    **prices("2026-10-01", "one", "9.50 EUR"),
}
TOMORROW = prices("2026-11-26", "one", "7 EUR")
LATER = date(2027, 3, 1)


def feed(url: str = URL, today: date = date(2026, 11, 25), **more: str) -> str:
    return price_feed(results({**BASE, **LISTS, **more}, today), url)


def ids(text: str) -> list[str]:
    return [str(one.text) for one in ElementTree.fromstring(text.encode()).iter(f"{A}id")]


@pytest.mark.parametrize("url", [URL, ""])
def test_the_required_elements_are_there_once(url: str) -> None:
    """RFC 4287, 4.1.1 and 4.1.2: id, title and updated once each; an author; an entry without content has a link."""
    root = ElementTree.fromstring(feed(url).encode())
    assert root.tag == f"{A}feed"
    entries = root.findall(f"{A}entry")
    assert len(entries) == 3
    for one in (root, *entries):
        for name in ("id", "title", "updated"):
            assert len(one.findall(f"{A}{name}")) == 1
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT00:00:00Z", str(one.findtext(f"{A}updated")))
    assert root.findtext(f"{A}author/{A}name") == "Small handbook (invented)"
    for entry in entries:
        alternate = [link for link in entry.findall(f"{A}link") if link.get("rel") == "alternate"]
        assert entry.find(f"{A}content") is not None or alternate
        assert str(entry.findtext(f"{A}summary")).strip()
    assert len(set(ids(feed(url)))) == 4


@pytest.mark.parametrize("url", [URL, ""])
def test_a_feed_reader_reads_it(url: str) -> None:
    read = feedparser.parse(feed(url))
    assert not read.bozo, read.get("bozo_exception")
    assert read.version == "atom10"
    assert read.feed.author == "Small handbook (invented)"
    assert [entry.updated for entry in read.entries] == [
        "2026-10-01T00:00:00Z",
        "2026-09-01T00:00:00Z",
        "2026-09-01T00:00:00Z",
    ]
    assert read.feed.updated == "2026-10-01T00:00:00Z"
    assert read.entries[0].summary == "1 offer up."
    assert "salt, 1\u00a0kg solid: €9.00 → €9.50" in read.entries[0].content[0].value
    assert {entry.summary for entry in read.entries[1:]} == {"First price list: 1 offer."}


def test_names_of_suppliers_are_text() -> None:
    text = feed()
    assert "<b>" not in text
    assert "Salt &amp; &lt;b&gt;soda&lt;/b&gt; (invented)" in text


def test_addresses_are_there_only_where_the_site_s_is_known() -> None:
    read = feedparser.parse(feed())
    assert {link.rel: link.href for link in read.feed.links} == {
        "self": f"{URL}data/price-changes.xml",
        "alternate": f"{URL}price-changes/",
    }
    assert read.entries[0].link == f"{URL}price-changes/#2026-10-01-one"
    flat = price_feed(results({**BASE, **LISTS}), URL, directories=False)
    assert feedparser.parse(flat).entries[0].link == f"{URL}price-changes.html#2026-10-01-one"
    assert "link" not in feed("")
    assert "http" not in feed("").replace('xmlns="http://www.w3.org/2005/Atom"', "")


def test_ids_are_tag_uris_of_place_supplier_and_date() -> None:
    assert ids(feed()) == [
        f"tag:club.example,{BEGUN}:handbook/price-changes",
        "tag:club.example,2026-10-01:handbook/prices/one",
        "tag:club.example,2026-09-01:handbook/prices/two",
        "tag:club.example,2026-09-01:handbook/prices/one",
    ]
    assert ids(feed(""))[1] == "tag:handbook.invalid,2026-10-01:prices/one"
    assert tag("https://Club.example:8080", date(2026, 1, 2), "x") == "tag:club.example,2026-01-02:x"


def test_another_list_adds_an_entry_and_changes_no_other() -> None:
    """Nor does the day of the build: the same lists give the same feed months later."""
    assert feed(today=LATER) == feed()
    assert feed(**TOMORROW) == feed()
    more = feed(today=LATER, **TOMORROW)
    assert ids(more) == [ids(feed())[0], "tag:club.example,2026-11-26:handbook/prices/one", *ids(feed())[1:]]
    old, new = (re.findall(r"<entry>.*?</entry>", text, re.DOTALL) for text in (feed(), more))
    assert new[1:] == old


def test_without_a_list_there_is_no_feed() -> None:
    assert price_feed(results(BASE), URL) == ""


def test_the_site_has_it_and_its_page_links_to_it(site: Site) -> None:
    read = feedparser.parse((site.folder / "data" / "price-changes.xml").read_text("utf-8"))
    assert not read.bozo
    assert len(read.entries) >= 6
    page = site.page("price-changes")
    assert 'href="../data/price-changes.xml"' in page
    for entry in read.entries:
        supplier_id, day = entry.id.split("/")[-1], entry.updated[:10]
        assert f'id="{day}-{supplier_id}"' in page
