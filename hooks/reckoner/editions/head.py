"""What every finished page gets in its head: the security policy and, on the site, what installs and keeps it."""

from __future__ import annotations

import re
from html import escape

from reckoner.editions.manifest import ICON, MANIFEST, TOUCH_ICON
from reckoner.editions.policy import policy

SCRIPT = "assets/offline.js"
_CHARSET = re.compile(r"<meta charset=[^>]*>", re.I)
_OLD_ICON = re.compile(r"<link rel=\"?icon\"?[^>]*>\s*", re.I)
#: Texts whose line breaks count.
_VERBATIM = re.compile(r"(<(pre|textarea|script|style)\b.*?</\2>)", re.S | re.I)
_BREAKS = re.compile(r"\s*\n\s*")


def furnish(html: str, base: str, installable: bool, linked_data: str = "") -> str:
    """A page with its policy, icon and, where ``installable``, manifest and offline script; indentation taken out.

    Args:
        html: the whole page.
        base: address of the site's root as the page sees it, with its slash at the end.
        installable: false in a folder, where browsers know neither manifests nor workers.
        linked_data: JSON-LD about the page, without a character that ends a script element; data, which the policy
            does not name because nothing runs it.

    Raises:
        ValueError: ``linked_data`` has a ``<`` in it.
    """
    if "<" in linked_data:
        raise ValueError("JSON-LD for a page's head has a '<' in it")
    page = _tight(_OLD_ICON.sub("", html))
    links = [f'<link rel="icon" href="{base}{ICON}" type="image/svg+xml">']
    if installable:
        links.append(f'<link rel="manifest" href="{base}{MANIFEST}">')
        links.append(f'<link rel="apple-touch-icon" href="{base}{TOUCH_ICON}">')
        links.append(f'<script src="{base}{SCRIPT}" defer></script>')
    if linked_data:
        links.append(f'<script type="application/ld+json">{linked_data}</script>')
    rule = f'<meta http-equiv="Content-Security-Policy" content="{escape(policy(page))}">'
    return _CHARSET.sub(lambda charset: "\n".join((charset[0], rule, *links)), page, count=1)


def _tight(html: str) -> str:
    """Lines without indentation and none empty; texts whose breaks count stay as they are."""
    parts = _VERBATIM.split(html)
    # Each verbatim text comes with the name of its element behind it.
    return "".join(part if place % 3 else _BREAKS.sub("\n", part) for place, part in enumerate(parts) if place % 3 != 2)
