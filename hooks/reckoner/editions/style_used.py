"""The theme's style sheets less the rules for things that no page of the handbook has.

Half of them style what is never used here; the first visit of a phone pays for each byte.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

#: Patterns that begin with plain text are found several times as fast, and there are thousands of pages.
_CLASS_LIST = re.compile(r""" class=(?:"([^"]*)"|'([^']*)'|([^\s"'>]+))""")
_CHOICES = tuple(re.compile(rf""" ({name})=["']?([^"'\s>]+)""") for name in ("data-md-color-[a-z]+", "dir"))
#: In a script a class is a word with a hyphen, or one of the two that say whether there are scripts.
_WORD = re.compile(r"[A-Za-z]+(?:[-_][\w-]+)|\b(?:no-)?js\b")
#: Parts of the theme that the handbook has switched off; its script names their classes all the same.
_OFF = re.compile(r"md-(annotation|code|consent|mermaid|select|source|status|tabs?|tag|tooltip2?|version)|tabbed-")
#: In a script a colour scheme is a word in quotes; the direction of writing is only read there.
_QUOTED = re.compile(r"""["'](?!rtl\b|ltr\b)([a-z]+)["']""")
_CLASS = re.compile(r"\.(-?[_a-zA-Z][\w-]*)")
_CHOSEN = re.compile(r"\[(data-md-color-[a-z]+|dir)=[\"']?([^\"'\]]+)")
_INNER = re.compile(r"\([^()]*\)")
_COMMENT = re.compile(r"/\*.*?\*/", re.S)
_READ = re.compile(r"--[A-Za-z][\w-]*(?=\s*[),\"'`])")
_SET = re.compile(r"""(?<=[{;])(--[\w-]+):(?:[^;"'{}]|"[^"]*"|'[^']*')*(?:;|(?=}))""")
#: The only such attribute that scripts give another value: the main colours of the pages are fixed.
SCHEME = "data-md-color-scheme"
#: Blocks that hold rules.
_GROUPS = ("@media", "@supports", "@layer", "@container")


@dataclass(frozen=True)
class Used:
    """Names of classes, and colour schemes and directions of writing with their attribute, that may occur."""

    classes: frozenset[str]
    choices: frozenset[tuple[str, str]]


def used(pages: Iterable[str], scripts: Iterable[str]) -> Used:
    """What occurs in the pages, and what scripts may add."""
    names: set[str] = set()
    choices: set[tuple[str, str]] = set()
    for page in (text.replace("\n", " ") for text in pages):
        names.update(name for groups in set(_CLASS_LIST.findall(page)) for name in "".join(groups).split())
        choices.update(choice for pattern in _CHOICES for choice in pattern.findall(page))
    for script in scripts:
        names.update(word for word in _WORD.findall(script) if not _OFF.match(word))
        choices.update((SCHEME, word) for word in _QUOTED.findall(script))
    return Used(frozenset(names), frozenset(choices))


def only_used(css: str, names: Used) -> str:
    """The rules that can apply where only ``names`` occur.

    >>> only_used(".a,.b .c{x:1}.d{y:2}@media print{.d{z:3}.a:not(.d){z:4}}", used(["<p class=a>"], []))
    '.a{x:1}@media print{.a:not(.d){z:4}}'
    """
    return "".join(_rules_kept(_COMMENT.sub("", css), names))


def read_variables(texts: Iterable[str]) -> frozenset[str]:
    """Names of the style variables that style sheets or scripts read."""
    return frozenset(name for text in texts for name in _READ.findall(text))


def only_read(css: str, variables: frozenset[str]) -> str:
    """The style sheet less the variables that nobody reads: most hold pictures.

    >>> only_read(":root{--a:url('x;y');--b:1;--c:2}", frozenset({"--b"}))
    ':root{--b:1;}'
    """
    return _SET.sub(lambda declaration: declaration[0] if declaration[1] in variables else "", css)


def lighter(sheets: Mapping[str, str], pages: Iterable[str], scripts: Sequence[str], others: str) -> dict[str, str]:
    """Style sheets by path, less rules for what is nowhere and variables that nothing reads, nor what read them.

    Args:
        sheets: the theme's style sheets.
        pages: every page of the site.
        scripts: every script, which may add classes to a page.
        others: the handbook's own styles, which may read the theme's variables.
    """
    names = used(pages, scripts)
    lean = {path: only_used(css, names) for path, css in sheets.items()}
    before: dict[str, str] = {}
    while lean != before:
        before = lean
        variables = read_variables((*lean.values(), *scripts, others))
        lean = {path: only_read(css, variables) for path, css in lean.items()}
    return lean


def _rules_kept(css: str, names: Used) -> Iterator[str]:
    for head, body in _blocks(css):
        if body is None:
            yield head
        elif head.startswith(_GROUPS):
            inside = "".join(_rules_kept(body, names))
            if inside:
                yield f"{head}{{{inside}}}"
        elif head.startswith("@"):
            yield f"{head}{{{body}}}"
        else:
            selectors = ",".join(selector for selector in _selectors(head) if _can_apply(selector, names))
            if selectors:
                yield f"{selectors}{{{body}}}"


def _blocks(css: str) -> Iterator[tuple[str, str | None]]:
    """Rules in order, as what stands before the braces and what is in them; a statement has no braces."""
    start = place = 0
    while (sign := re.search(r"[{;]|\"[^\"]*\"|'[^']*'", css[place:])) is not None:
        mark = place + sign.start()
        if css[mark] == ";":
            yield css[start : mark + 1].strip(), None
            start = place = mark + 1
        elif css[mark] == "{":
            end = _closing(css, mark)
            yield css[start:mark].strip(), css[mark + 1 : end]
            start = place = end + 1
        else:
            place += sign.end()


def _closing(css: str, opened: int) -> int:
    depth = 0
    for sign in re.finditer(r"[{}]|\"[^\"]*\"|'[^']*'", css[opened:]):
        depth += {"{": 1, "}": -1}.get(sign[0], 0)
        if not depth:
            return opened + sign.start()
    return len(css)


def _selectors(head: str) -> Iterator[str]:
    """Selectors between commas that are in no brackets."""
    depth = start = 0
    for place, letter in enumerate(head):
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if letter == "," and not depth:
            yield head[start:place].strip()
            start = place + 1
    yield head[start:].strip()


def _can_apply(selector: str, names: Used) -> bool:
    """Whether all classes and schemes it asks for occur; what stands in brackets is given the benefit of the doubt."""
    plain = selector
    while (shorter := _INNER.sub("", plain)) != plain:
        plain = shorter
    return names.classes.issuperset(_CLASS.findall(plain)) and names.choices.issuperset(_CHOSEN.findall(plain))
