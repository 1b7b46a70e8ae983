"""Names under which a page is searched: as written, with and without hyphens, in both spellings of English."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

#: British and American spellings of the trade; IUPAC writes sulf, so the data does.
SPELLINGS = (("sulf", "sulph"), ("colour", "color"), ("aluminium", "aluminum"))
#: A designation: letters and figures with a hyphen between them, as D-76 or ECN-2.
DESIGNATION = re.compile(r"\b([A-Za-z]{1,4})-?(\d{1,3}[A-Za-z]?)\b")


def searched(names: Iterable[str]) -> tuple[str, ...]:
    """Every name with its variants, each once, in order.

    >>> searched(["D-76", "sodium sulfite"])
    ('D-76', 'D76', 'sodium sulfite', 'sodium sulphite')
    """
    spelled: dict[str, str] = {}
    for name in names:
        for variant in _variants(name):
            spelled.setdefault(variant.lower(), variant)
    return tuple(spelled.values())


def _variants(name: str) -> Iterator[str]:
    yield name
    yield DESIGNATION.sub(r"\1\2", name)
    yield DESIGNATION.sub(r"\1-\2", name)
    for first, second in SPELLINGS:
        for written, variant in ((first, second), (second, first)):
            if written in name.lower():
                yield re.sub(written, variant, name, flags=re.IGNORECASE)
