"""A table of exact names for the search: what is typed as a page is called leads there before what resembles it.

The full-text search ranks by parts of words: ``E-6`` finds every page with a 6. This table stands beside it and is
read by ``find.js``, which compares names by the same rule as ``plain`` here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass

#: Pages shown for one name.
MOST = 4


@dataclass(frozen=True)
class Named:
    """A page with the names that lead to it; ``beware`` stands beside its title."""

    address: str
    title: str
    names: tuple[str, ...]
    boost: float = 1.0
    beware: str = ""


def plain(name: str) -> str:
    """A name as it is compared: small letters and figures only, in one spelling of English.

    >>> plain("D-76"), plain("Sodium sulphite"), plain("color developer")
    ('d76', 'sodiumsulfite', 'colourdeveloper')
    """
    letters = re.sub(r"[^a-z0-9]", "", name.lower())
    return letters.replace("sulph", "sulf").replace("color", "colour")


def names_script(pages: Iterable[Named]) -> str:
    """A script that holds the table: pages once, and for each name the numbers of its pages, the likeliest first."""
    pages_of: dict[str, list[int]] = {}
    listed = sorted(pages, key=lambda page: (-page.boost, page.address))
    for number, page in enumerate(listed):
        for key in dict.fromkeys(plain(name) for name in (page.title, *page.names)):
            if len(key) > 1:
                pages_of.setdefault(key, []).append(number)
    table = {
        "pages": [[page.address, page.title, *filter(None, (page.beware,))] for page in listed],
        "names": {key: pages_of[key][:MOST] for key in sorted(pages_of)},
    }
    text = json.dumps(table, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.handbookNames={text};\n"
