"""HTML as a flat run of tags and texts, and the shortest HTML that says the same."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from html import escape, unescape
from typing import ClassVar


@dataclass(frozen=True)
class StartTag:
    """An opening tag; ``closed`` where it closes itself, as shapes in a picture do."""

    tag: str
    attributes: tuple[tuple[str, str | None], ...] = ()
    closed: bool = False

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.tag, self.attributes, self.closed))

    def get(self, name: str) -> str | None:
        """An attribute's value; None where it is not there, empty where it has none."""
        for key, value in self.attributes:
            if key == name:
                return value or ""
        return None

    @cached_property
    def styles(self) -> tuple[str, ...]:
        """The names in its class."""
        return tuple((self.get("class") or "").split())

    @cached_property
    def block(self) -> bool:
        """Whether white space beside it says nothing."""
        return self.tag in BLOCKS

    @cached_property
    def written(self) -> str:
        """The shortest way to write it."""
        words = [self.tag, *(_attribute(name, value) for name, value in self.attributes)]
        # An unquoted value would swallow the slash.
        return f"<{' '.join(words)}{' /' if self.closed else ''}>"


@dataclass(frozen=True)
class End:
    """A closing tag."""

    tag: str

    @cached_property
    def block(self) -> bool:
        """Whether white space beside it says nothing."""
        return self.tag in BLOCKS


@dataclass(frozen=True)
class Text:
    """Text with its character references resolved."""

    text: str
    block: ClassVar[bool] = False


Token = StartTag | End | Text
#: Elements without content.
VOID = frozenset({"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "wbr"})
BLOCKS = (
    {"address", "article", "aside", "blockquote", "body", "caption", "dd", "div", "dl", "dt", "figcaption", "figure"}
    | {"footer", "form", "h1", "h2", "h3", "h4", "h5", "h6", "header", "hr", "li", "main", "nav", "ol", "p", "section"}
    | {"table", "tbody", "td", "tfoot", "th", "thead", "title", "tr", "ul"}
)
#: A closing tag that may be left out where one of these tags, or the end of what is around it, comes next.
_IMPLIED = {
    "li": frozenset({"li"}),
    "dt": frozenset({"dt", "dd"}),
    "dd": frozenset({"dt", "dd"}),
    "td": frozenset({"td", "th"}),
    "th": frozenset({"td", "th"}),
    "tr": frozenset({"tr"}),
    "tbody": frozenset({"tbody", "tfoot"}),
    "p": frozenset({"div", "dl", "figure", "h2", "h3", "h4", "h5", "hr", "ol", "p", "section", "table", "ul"}),
}
#: Inside these an unclosed paragraph would not end with what is around it.
_CAREFUL = frozenset({"a", "ins", "del", "map", "audio", "video"})
#: Comments fall through both named tags.
_TAG = re.compile(
    r"""<!--.*?-->|<!doctype[^>]*>|<(?:(?P<open>[a-zA-Z][\w-]*)(?P<rest>(?:[^<>"'/]|"[^"]*"|'[^']*'|/(?!>))*)(?P<closed>/?)"""
    r"""|/(?P<close>[a-zA-Z][\w-]*)\s*)>""",
    re.S,
)
_ATTRIBUTE = re.compile(r"""(?P<name>[^\s"'<>/=]+)(?:\s*=\s*(?P<value>"[^"]*"|'[^']*'|[^\s"'`=<>]+))?""")
_SPACE = re.compile(r"[ \t\r\n\f]+")
_BARE = re.compile(r"[^\s\"'`=<>]+")


def read(html: str) -> tuple[Token, ...]:
    """Tags and texts in order; comments are dropped.

    >>> read("<p class=a>1&#46;5</p>")
    (StartTag(tag='p', attributes=(('class', 'a'),), closed=False), Text(text='1.5'), End(tag='p'))
    """
    return tuple(_tokens(html))


def _tokens(html: str) -> Iterator[Token]:
    place = 0
    for tag in _TAG.finditer(html):
        if tag.start() > place:
            yield Text(unescape(html[place : tag.start()]))
        place = tag.end()
        token = _token(tag[0])
        if token is not None:
            yield token
    if place < len(html):
        yield Text(unescape(html[place:]))


@lru_cache(maxsize=1 << 16)
def _token(text: str) -> Token | None:
    """One tag; None for a comment. Most tags of a handbook are written alike, so each is read once."""
    tag = _TAG.fullmatch(text)
    assert tag is not None, "found by the same pattern"
    if tag["open"]:
        name = tag["open"].lower()
        return StartTag(name, _attributes(tag["rest"]), closed=bool(tag["closed"]) and name not in VOID)
    return End(tag["close"].lower()) if tag["close"] else None


def _attributes(text: str) -> tuple[tuple[str, str | None], ...]:
    return tuple(
        (attribute["name"], None if attribute["value"] is None else unescape(attribute["value"].strip("\"'")))
        for attribute in _ATTRIBUTE.finditer(text)
    )


def extent(tokens: tuple[Token, ...], start: int) -> int:
    """The place behind the element that opens at ``start``."""
    opened = tokens[start]
    assert isinstance(opened, StartTag)
    if opened.closed or opened.tag in VOID:
        return start + 1
    depth = 0
    for place in range(start, len(tokens)):
        token = tokens[place]
        if isinstance(token, StartTag) and token.tag == opened.tag and not token.closed:
            depth += 1
        elif isinstance(token, End) and token.tag == opened.tag:
            depth -= 1
            if not depth:
                return place + 1
    return len(tokens)


def write(tokens: Iterable[Token]) -> str:
    """The tokens as HTML: no space beside blocks, no quotes and no closing tags that HTML lets one leave out.

    >>> write(read('<ul class="a">\\n <li>x</li>\\n <li><a href="#b c">y</a></li>\\n</ul>'))
    '<ul class=a><li>x<li><a href="#b c">y</a></ul>'
    """
    tight = tuple(_tight(tuple(tokens)))
    parts = []
    for place, token in enumerate(tight):
        if isinstance(token, Text):
            parts.append(escape(token.text, quote=False))
        elif isinstance(token, StartTag):
            parts.append(token.written)
        elif not _may_go(token.tag, tight[place + 1] if place + 1 < len(tight) else None):
            parts.append(f"</{token.tag}>")
    return "".join(parts)


def _tight(tokens: tuple[Token, ...]) -> Iterator[Token]:
    """White space collapsed, and gone beside blocks."""
    behind = len(tokens) - 1
    for place, token in enumerate(tokens):
        if not isinstance(token, Text):
            yield token
            continue
        first = place == 0 or tokens[place - 1].block
        if first and token.text == "\n":
            continue
        text = _SPACE.sub(" ", token.text)
        if first:
            text = text.removeprefix(" ")
        if place == behind or tokens[place + 1].block:
            text = text.removesuffix(" ")
        if text:
            yield Text(text)


def _may_go(tag: str, following: Token | None) -> bool:
    if tag not in _IMPLIED or following is None or isinstance(following, Text):
        return False
    if isinstance(following, StartTag):
        return following.tag in _IMPLIED[tag]
    return following.block and following.tag not in _CAREFUL


def _attribute(name: str, value: str | None) -> str:
    if value is None:
        return name
    if _BARE.fullmatch(value):
        return f"{name}={escape(value)}"
    return f'{name}="{escape(value, quote=False).replace(chr(34), "&quot;")}"'
