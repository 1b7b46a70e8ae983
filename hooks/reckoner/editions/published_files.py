"""What of the handwritten pages goes out to others: no front matter, no remark, no file of a private page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from html import escape
from posixpath import basename, dirname, join, normpath
from typing import Any
from urllib.parse import quote, unquote

#: Keys before a page's text that decide how it is shown and found; nothing else of them is for readers.
SHOWN_KEYS = frozenset({"title", "tags", "search", "hide", "template"})
#: Remarks, processing instructions and declarations: in code that a page shows, "<" stands as "&lt;" and is kept.
_REMARK = re.compile(r"<!--.*?(?:--!?>|\Z)|<\?.*?(?:\?>|\Z)|<![^>]*(?:>|\Z)", re.DOTALL)
_COMMENT = re.compile(r"<!--.*?(?:-->|\Z)", re.DOTALL)
_CLOSED = re.compile(r"<!--.*?-->", re.DOTALL)
#: Code of Markdown, fenced or within a line.
_CODE = re.compile(
    r"^(?P<fence>```+|~~~+).*?^(?P=fence)|(?P<tick>`+)(?!`).*?(?<!`)(?P=tick)(?!`)", re.DOTALL | re.MULTILINE
)
#: Front matter that MkDocs could not read and would show as text.
_UNREAD = re.compile(r"\s*---[ \t]*\n(?P<front>.*?)(?:\n(?:---|\.\.\.)[ \t]*(?:\n|\Z)|\Z)", re.DOTALL)
_KEY = re.compile(r"\s*[\"']?[\w-]+[\"']?\s*:", re.ASCII)
#: What may stand before a file's name in an address.
_FOLDERS = r"(?:[^\s\"'()<>=,\[\]]*/)?"


@dataclass(frozen=True)
class SiteText:
    """A page or another text that names files.

    Attributes:
        path: in the folder of pages.
        address: folder on the site from which links in ready HTML are read.
    """

    path: str
    address: str
    text: str


def shown_meta(meta: dict[str, Any]) -> dict[str, Any]:
    """Of a page's front matter, what decides how it is shown."""
    return {key: value for key, value in meta.items() if key in SHOWN_KEYS}


def without_unread_front(markdown: str) -> str:
    """A page's text without front matter that was not read as such."""
    front = _UNREAD.match(markdown)
    first = front["front"].strip().split("\n", 1)[0] if front else ""
    return markdown[front.end() :] if front and _KEY.match(first) else markdown


def without_remarks(html: str) -> str:
    """Finished HTML without remarks that no reader sees.

    >>> without_remarks("<p>a<!-- b --></p><code>&lt;!-- c --></code>")
    '<p>a</p><code>&lt;!-- c --></code>'
    """
    return _REMARK.sub("", html)


def without_comments(markup: str) -> str:
    """A file of HTML or SVG without comments; its declaration stays."""
    return _COMMENT.sub("", markup)


def open_remark(markdown: str) -> int:
    """Where a remark begins that is never closed, and so is shown as text; code shows what it likes. -1: nowhere.

    >>> open_remark("a `<!--` b <!-- c --> d <!-- e"), open_remark("a <!-- b -->")
    (24, -1)
    """
    return _CLOSED.sub(_blank, _CODE.sub(_blank, markdown)).find("<!--")


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])


def unpublished(
    files: Iterable[str], texts: Mapping[str, SiteText], private: Iterable[SiteText], public: Iterable[SiteText]
) -> frozenset[str]:
    """Files that only private pages use, and those that only such files use.

    A private page uses what it names in any way, by the name alone; a public one what its address leads to, so that
    a file of the same name elsewhere does not keep it. What nobody names stays.

    Args:
        texts: of the files, those that may name others.
    """
    names, hidden_files = tuple(files), frozenset[str]()
    hidden, shown = tuple(private), tuple(public)
    while True:
        hiding = (*hidden, *(text for name, text in texts.items() if name in hidden_files))
        showing = (*shown, *(text for name, text in texts.items() if name not in hidden_files))
        mentioned = {name for name in names if any(_mentions(page.text, name) for page in hiding)}
        # A style sheet that names itself is no reader of itself.
        used = {name for name in mentioned if any(name in _uses(page, name) for page in showing if page.path != name)}
        if mentioned - used <= hidden_files:
            return hidden_files
        hidden_files |= mentioned - used


def _spellings(name: str) -> frozenset[str]:
    own = basename(name)
    return frozenset({own, quote(own), quote(own).replace("%20", "+"), escape(own)})


def _mentions(text: str, name: str) -> bool:
    lower = text.lower()
    return any(spelling.lower() in lower for spelling in _spellings(name))


def _uses(page: SiteText, name: str) -> Iterator[str]:
    """Paths in the folder of pages to which addresses in a page lead that end in a file's name."""
    for spelling in _spellings(name):
        for address_at in re.finditer(_FOLDERS + re.escape(spelling), without_remarks(page.text)):
            address = unquote(address_at[0])
            if address.startswith("/") or "://" in address:
                # From the root, or with the host: it may stand below any folder there.
                yield from (name for _ in range(address.endswith(f"/{name}")))
            else:
                yield from (normpath(join(at, address)) for at in (dirname(page.path), page.address))
