"""The whole handbook as one HTML file that any file viewer opens, without scripts and without a network."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from reckoner.editions.parts_kept import keeps, left_out, place
from reckoner.editions.policy import hash_of
from reckoner.editions.single_style import STYLE
from reckoner.editions.thinning import FinishedPage, Section, fitted, linked, section
from reckoner.editions.tokens import StartTag, Token, write

#: Where the file stands in the site.
SINGLE_FILE = "handbook.html"
#: Opened from a site whose screen is red or amber, the file is red before its first word is drawn; without scripts, or
#: from a phone's folder, it is light until "Red" is tapped.
_AS_THE_SITE = (
    'try{if(/red|amber/.test(localStorage.getItem("handbook.screen")))document.getElementById("red").checked=true}'
    "catch(refused){}"
)


def single_file(pages: Iterable[FinishedPage], title: str, day: str) -> str:
    """One HTML document.

    Args:
        pages: every page of the site, in any order.
        title: the handbook's name.
        day: the day the handbook was reckoned for, in words.
    """
    ordered = sorted((page for page in pages if keeps(page.path)), key=lambda page: place(page.path))
    sections = tuple(section(page, number) for number, page in enumerate(ordered))
    by_url = {each.page.url: each for each in sections}
    whole = [(each, linked(each, by_url)) for each in sections]
    targets = frozenset(
        token.get("href") or "" for _, tokens in whole for token in tokens if isinstance(token, StartTag)
    )
    return _document(title, day, "".join(_written(each, tokens, targets) for each, tokens in whole))


def _written(kept_section: Section, tokens: tuple[Token, ...], targets: frozenset[str]) -> str:
    return f'<section id="{escape(kept_section.key)}">{write(fitted(kept_section, tokens, targets))}</section>\n'


def _document(title: str, day: str, body: str) -> str:
    policy = (
        f"default-src 'none'; style-src '{hash_of(STYLE)}'; script-src '{hash_of(_AS_THE_SITE)}'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="description" content="Formulas, weighing tables and processes of {escape(title)}, as of {escape(day)}">
<title>{escape(title)}</title>
<style>{STYLE}</style>
</head>
<body>
<main>
<input type="radio" name="look" id="light" aria-label="Light" checked>
<input type="radio" name="look" id="red" aria-label="Red">
<script>{_AS_THE_SITE}</script>
<nav aria-label="Everywhere"><a href="#contents">Contents</a><a href="#safety">Safety</a>
<label for="light">Light</label><label for="red">Red</label></nav>
<div id="contents">
<h1>{escape(title)}</h1>
<p>Everything in one file, as of {escape(day)}; no network and no scripts are needed.
What passes its limit after that day is not announced here: <a href="#out-of-date">out of date</a> has what comes
next.</p>
<p>Left out, and to be found on the site: {escape("; ".join(left_out()))}. The small print of a jar's classification
stands with the chemical.</p>
<p>No screen is safe for film or paper. Red is meant for paper, lith and ortho film, after a fog test of your own;
panchromatic and colour film is loaded in total darkness, with the phone out of the room.</p>
{body}</div>
</main>
</body>
</html>
"""
