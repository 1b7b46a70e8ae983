"""A finished page made ready for the single file: parts it does without gone, links and headings fitted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from urllib.parse import urljoin, urlsplit

from reckoner.editions.parts_kept import SOME, keeps
from reckoner.editions.single_style import SHORT
from reckoner.editions.tokens import End, StartTag, Text, Token, extent, read

_HERE = "http://handbook.invalid/"
_UNSEEN = frozenset({"hb-paper", "hb-online"})
_SCRIPTED = frozenset({"script", "style", "template", "button", "input", "select", "textarea", "dialog"})
#: Batch sizes other than the first, its half and its double.
_OTHER = "hb-other"
_HEADINGS = ("h1", "h2", "h3", "h4")
#: Headings that open a section of the page.
_HEADING = re.compile(r"<h[123]\b[^>]*>")
#: Shorter names for the same in print.
_SHORTER = {"strong": "b", "em": "i"}
_BARE = frozenset({"span", "tbody"})
#: Attributes that say something without scripts; in drawings every one does, but for names of their parts.
_WANTED = frozenset({"href", "colspan", "rowspan", "src", "alt", "start", "lang"})
_DRAWN = frozenset({"svg", "g", "path", "rect", "line", "polyline", "polygon", "circle", "text"})
_NAMES = frozenset({"id", "class", "aria-labelledby"})


@dataclass(frozen=True)
class FinishedPage:
    """A page of the site as HTML.

    Attributes:
        path: as ``solutions/x`` or ``solutions/index``.
        url: its address below the site's root, as ``solutions/x/``.
        html: its content without the site's frame.
    """

    path: str
    url: str
    html: str


@dataclass(frozen=True)
class Section:
    """A page that the file holds.

    Attributes:
        key: its place in the file: a path of one word as it is, any other by number, for brevity.
        tokens: what is kept of it.
        anchors: each id in it with what it is called in the file.
    """

    page: FinishedPage
    key: str
    tokens: tuple[Token, ...]
    anchors: Mapping[str, str]


def section(page: FinishedPage, number: int) -> Section:
    """A page less what the file does without; ``number`` is its place."""
    tokens = tuple(_plain_lists(tuple(_page_kept(page))))
    folder, _, name = page.path.partition("/")
    key = f"{folder[0]}{number}" if name else folder
    ids = (token.get("id") for token in tokens if isinstance(token, StartTag))
    return Section(page, key, tokens, {anchor: f"{key}.{place}" for place, anchor in enumerate(filter(None, ids))})


def _parts(page: FinishedPage) -> Iterator[tuple[str, tuple[Token, ...]]]:
    """What stays of a page by the heading it stands under; what goes is not read, and no element reaches into it."""
    part = section = ""
    starts = [heading.start() for heading in _HEADING.finditer(page.html)]
    for start, end in pairwise((0, *starts, len(page.html))):
        heading = _HEADING.match(page.html, start)
        if heading is not None:
            opened = read(heading[0])[0]
            assert isinstance(opened, StartTag), "found by the pattern"
            section = opened.get("id") or ""
            part = part if opened.tag == "h3" else section
            if _OTHER in opened.styles or not (keeps(page.path, part) and keeps(page.path, section)):
                continue
        yield section, read(page.html[start:end])


def _page_kept(page: FinishedPage) -> Iterator[Token]:
    """What stays of a page: sections end at the next heading of their rank, lists at their end."""
    for section, tokens in _parts(page):
        yield from _section_kept(page.path, section, tokens)


def _section_kept(path: str, section: str, tokens: tuple[Token, ...]) -> Iterator[Token]:
    style = ""
    place = list_end = 0
    while place < len(tokens):
        token = tokens[place]
        if isinstance(token, StartTag):
            if "hb-pairs" in token.styles:
                style, list_end = "hb-pairs", extent(tokens, place)
            if _unseen(token) or not _wanted(path, token.tag, (section, style if place < list_end else "")):
                place = extent(tokens, place)
                continue
        yield token
        place += 1


def _plain_lists(tokens: tuple[Token, ...]) -> Iterator[Token]:
    """Lists of terms of which only the terms were kept, as plain lists: a list of terms says something of each."""
    plain = {"dl": "ul", "dt": "li"}
    behind = 0
    for place, token in enumerate(tokens):
        if isinstance(token, StartTag) and token.tag == "dl":
            end = extent(tokens, place)
            behind = behind if End("dd") in tokens[place:end] else end
        if place < behind and isinstance(token, StartTag):
            yield StartTag(plain.get(token.tag, token.tag), token.attributes, token.closed)
        elif place < behind and isinstance(token, End):
            yield End(plain.get(token.tag, token.tag))
        else:
            yield token


def _wanted(path: str, tag: str, parts: tuple[str, str]) -> bool:
    return tag not in SOME or all(keeps(path, part, tag) for part in parts)


@lru_cache(maxsize=1 << 16)
def _unseen(token: StartTag) -> bool:
    """What is there for scripts, for paper or for the site."""
    return token.tag in _SCRIPTED or token.get("hidden") is not None or not _UNSEEN.isdisjoint(token.styles)


def linked(own: Section, sections: Mapping[str, Section]) -> tuple[Token, ...]:
    """The section with its links led to places in the file.

    A name is a link where it stands first. What leads out of the file, and every later link to the same place, is
    plain text, and goes where it is a paragraph of its own.

    Args:
        own: the section.
        sections: every section of the file by its page's address.
    """
    written: list[Token] = []
    seen: set[str] = set()
    place = 0
    while place < len(own.tokens):
        token = own.tokens[place]
        if not (isinstance(token, StartTag) and token.tag == "a"):
            written.append(token)
            place += 1
            continue
        behind = extent(own.tokens, place)
        target = _target(own, token.get("href") or "", sections)
        if target and target not in seen:
            seen.add(target)
            written += [StartTag("a", (("href", target),)), *own.tokens[place + 1 : behind]]
        elif _alone(written, own.tokens, behind):
            written.pop()
            behind += 1
        else:
            written += own.tokens[place + 1 : behind - 1]
        place = behind
    return tuple(written)


def _alone(before: list[Token], tokens: tuple[Token, ...], behind: int) -> bool:
    """Whether a link is all there is in its paragraph."""
    opened = before[-1] if before else None
    return isinstance(opened, StartTag) and opened.tag == "p" and tokens[behind : behind + 1] == (End("p"),)


def _target(own: Section, href: str, sections: Mapping[str, Section]) -> str | None:
    """Where a link leads from within the file; None where the file has no such place."""
    if urlsplit(href).scheme:
        return href
    address = urlsplit(urljoin(_HERE + own.page.url, href))
    target = sections.get(address.path.removeprefix("/"))
    if target is None:
        return None
    return "#" + target.anchors.get(address.fragment, target.key)


def fitted(own: Section, tokens: Iterable[Token], targets: frozenset[str]) -> Iterator[Token]:
    """Headings one level down, short names of elements and styles, and ids only where something leads to them."""
    bare: list[bool] = []
    for token in tokens:
        if not isinstance(token, Text) and token.tag in _BARE:
            # Only its style was wanted of such an element.
            if isinstance(token, StartTag):
                bare.append(not any(name in SHORT for name in token.styles))
            if bare[-1] if isinstance(token, StartTag) else bare.pop():
                continue
        if isinstance(token, StartTag):
            yield _fitted(own, token, targets)
        else:
            yield _ended(token.tag) if isinstance(token, End) else token


def _fitted(own: Section, token: StartTag, targets: frozenset[str]) -> StartTag:
    anchor = own.anchors.get(token.get("id") or "")
    return _named(token, anchor if anchor and f"#{anchor}" in targets else "")


@lru_cache(maxsize=1 << 16)
def _named(token: StartTag, anchor: str) -> StartTag:
    wanted = token.attributes if token.tag in _DRAWN else [pair for pair in token.attributes if pair[0] in _WANTED]
    kept = [pair for pair in wanted if pair[0] not in _NAMES]
    styles = " ".join(SHORT[name] for name in token.styles if name in SHORT)
    if styles:
        kept.append(("class", styles))
    if anchor:
        kept.append(("id", anchor))
    return StartTag(_renamed(token.tag), tuple(kept), token.closed)


@cache
def _ended(tag: str) -> End:
    return End(_renamed(tag))


def _renamed(tag: str) -> str:
    return f"h{int(tag[1]) + 1}" if tag in _HEADINGS else _SHORTER.get(tag, tag)
