"""``data/price-changes.xml``: an Atom feed (RFC 4287) with an entry for each price list.

Ids are tag URIs (RFC 4151) made of the site's place, the supplier and the list's date: the same in every build,
whatever is added later. Times are those of the lists, never of the build.
"""

from __future__ import annotations

from datetime import date
from urllib.parse import urlsplit
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from reckoner.calc.prices.price_changes import ListChange, Move
from reckoner.calc.results import Results
from reckoner.pages.prices.price_words import FEED, counted, list_anchor, move_ends, so_many
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter

PAGE = "price-changes"
ATOM = "http://www.w3.org/2005/Atom"
#: Stands for a site whose address is not known (RFC 2606).
NOWHERE = "handbook.invalid"
#: The day from which a feed's own id is counted; a tag URI must have one, and it never changes.
BEGUN = date(2026, 1, 1)


def price_feed(results: Results, site_url: str = "", directories: bool = True) -> str:
    """The feed as text; empty where there is no price list yet.

    Args:
        results: with the history of prices.
        site_url: where the site stands; without it entries have no addresses.
        directories: whether addresses end in a slash.
    """
    lists = results.history.lists
    if not lists:
        return ""
    writer = PageWriter(results, Display(results.catalogue.settings.locale), Links("index.md", directories))
    title = results.catalogue.settings.title
    feed = Element("feed", {"xmlns": ATOM})
    _text(feed, "id", tag(site_url, BEGUN, PAGE))
    _text(feed, "title", f"{title}: price changes")
    _text(feed, "updated", _midnight(lists[-1].day))
    _text(SubElement(feed, "author"), "name", title)
    if site_url:
        base = site_url.rstrip("/") + "/"
        SubElement(feed, "link", {"rel": "self", "type": "application/atom+xml", "href": base + FEED})
        SubElement(feed, "link", {"rel": "alternate", "type": "text/html", "href": base + writer.links.path(PAGE)})
    for change in reversed(lists):
        _entry(feed, change, site_url, writer)
    indent(feed)
    return '<?xml version="1.0" encoding="utf-8"?>\n' + tostring(feed, encoding="unicode") + "\n"


def tag(site_url: str, day: date, path: str) -> str:
    """A tag URI: the same for the same thing for ever.

    >>> tag("https://club.example/handbook/", date(2026, 10, 12), "prices/one")
    'tag:club.example,2026-10-12:handbook/prices/one'
    >>> tag("", date(2026, 10, 12), "prices/one")
    'tag:handbook.invalid,2026-10-12:prices/one'
    """
    place = urlsplit(site_url)
    below = "".join(f"{part}/" for part in place.path.split("/") if part)
    return f"tag:{place.hostname or NOWHERE},{day.isoformat()}:{below}{path}"


def _entry(feed: Element, change: ListChange, site_url: str, writer: PageWriter) -> None:
    name = writer.supplier(change.supplier)
    counts = (
        f"First price list: {so_many(change.offers, 'offer')}."
        if change.first
        else f"{counted(change.counts)}.".capitalize()
    )
    entry = SubElement(feed, "entry")
    _text(entry, "id", tag(site_url, change.day, f"prices/{change.supplier}"))
    _text(entry, "title", f"{name}: price list of {writer.show.day(change.day)}")
    _text(entry, "updated", _midnight(change.day))
    if site_url:
        page = site_url.rstrip("/") + "/" + writer.links.path(PAGE, list_anchor(change))
        SubElement(entry, "link", {"rel": "alternate", "type": "text/html", "href": page})
    _text(entry, "summary", counts).set("type", "text")
    lines = [] if change.first else [_line(move, writer) for move in change.moves]
    _text(entry, "content", "\n".join([counts, *lines])).set("type", "text")


def _line(move: Move, writer: PageWriter) -> str:
    before, now = move_ends(move, writer.show)
    return f"{writer.short_name(move.offer.chemical)}, {writer.listed_pack(move.offer)}: {before} → {now}"


def _midnight(day: date) -> str:
    return f"{day.isoformat()}T00:00:00Z"


def _text(parent: Element, name: str, text: str) -> Element:
    child = SubElement(parent, name)
    child.text = text
    return child
