"""The Content-Security-Policy of a page: its own files and exactly the inline scripts that were built into it."""

from __future__ import annotations

import re
from base64 import b64encode
from hashlib import sha256

_SCRIPT = re.compile(r"<script\b([^>]*)>(.*?)</script>", re.S | re.I)
_DATA = re.compile(r"""\btype=["']?application/(?:ld\+)?json\b""", re.I)
_SRC = re.compile(r"\bsrc=", re.I)


def hash_of(text: str) -> str:
    """A source expression that allows one inline text.

    >>> hash_of("")
    'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='
    """
    return "sha256-" + b64encode(sha256(text.encode("utf-8")).digest()).decode("ascii")


def policy(html: str) -> str:
    """What a page may load: files beside it, pictures written into it, its inline scripts by their hashes.

    Nothing from another host, no ``eval``, no form sent anywhere.
    """
    scripts = [text for attributes, text in _SCRIPT.findall(html) if not _elsewhere(attributes)]
    return "; ".join(
        (
            "default-src 'self'",
            "script-src " + _sources(scripts),
            "style-src 'self'",
            "img-src 'self' data:",
            "object-src 'none'",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _elsewhere(attributes: str) -> bool:
    """A script of another file, or data that is never run."""
    return bool(_SRC.search(attributes) or _DATA.search(attributes))


def _sources(inline: list[str]) -> str:
    return " ".join(["'self'", *sorted({f"'{hash_of(text)}'" for text in inline})])
