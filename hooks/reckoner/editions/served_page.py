"""A page as its author is served it: with the fault of the last edit on top, and a policy that lets it reload."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape

from reckoner.editions.policy import hash_of

#: Faults that are shown; a phone's screen holds two or three.
MOST = 3
_BODY = re.compile(r"<body\b[^>]*>", re.I)
#: The frame's header stays on top, and in it the way to what to do in an accident.
_HEADER = re.compile(r'<header\b[^>]*\bclass="?md-header\b.*?</header>', re.S | re.I)
_LAST_SCRIPT = re.compile(r"<script>((?:(?!</?script\b).)*)</script>(?=</body>)", re.S | re.I)
_ALLOWED = re.compile(r"(<meta http-equiv=\"?Content-Security-Policy\"? content=\"[^\"]*script-src &#x27;self&#x27;)")


def with_faults(page: str, faults: Sequence[str]) -> str:
    """The page with a block on top that tells its reader what stops the rebuild; as it is where nothing does."""
    if not faults:
        return page
    before = _HEADER.search(page) or _BODY.search(page)
    at = before.end() if before else 0
    return page[:at] + _block(faults) + page[at:]


def _block(faults: Sequence[str]) -> str:
    """Without script and inline style, which the page's policy discards; every kind of page knows the class."""
    count = f"{len(faults)} fault{'s' * (len(faults) > 1)}"
    lines = "".join(f"<li>{escape(fault)}</li>" for fault in faults[:MOST])
    more = len(faults) - MOST
    rest = f"<p>and {more} more, in the terminal</p>" if more > 0 else ""
    return (
        '<div class="hb-fault" role="alert" tabindex="0" lang="en" dir="ltr">'
        f"<p>Not rebuilt: {count}. This is the last good page.</p><ul>{lines}</ul>{rest}</div>"
    )


def with_reload_allowed(page: str) -> str:
    """The page whose policy also names the script at its very end, by which a server lets it reload."""
    script = _LAST_SCRIPT.search(page)
    if script is None:
        return page
    return _ALLOWED.sub(lambda allowed: f"{allowed[1]} &#x27;{hash_of(script[1])}&#x27;", page, count=1)
