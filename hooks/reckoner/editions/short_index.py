"""The search index with fewer bytes for the same work."""

from __future__ import annotations

import json
import re

_TAG = re.compile(r"</?(\w+)[^>]*>")
_INLINE = frozenset({"a", "b", "strong", "em", "i", "code", "sub", "sup", "small"})
_CAS = re.compile(r"\d{2,7}-\d\d-\d")
#: Characters of a section that the search knows; the first visit brings the whole index.
SECTION = 200


def short_index(text: str) -> str:
    """A search index without tags that repeat the title, without CAS numbers and the boost that is the default.

    Numbers are typed whole, and the table of exact names has them.

    Of each section of a page written by hand the first words are kept, without their marks.

    >>> short_index('{"docs":[{"title":"A","tags":["A","B"],"boost":1.0},{"title":"C","tags":["C"],"boost":2.0}]}')
    '{"docs":[{"title":"A","tags":["B"]},{"title":"C","boost":2.0}]}'
    >>> short_index('{"docs":[{"title":"D","text":"<p>First <b>words</b> &amp; more.</p>"}]}')
    '{"docs":[{"title":"D","text":"First words &amp; more."}]}'
    """
    index = json.loads(text)
    for entry in index["docs"]:
        tags = [tag for tag in entry.pop("tags", []) if tag != entry["title"] and not _CAS.fullmatch(tag)]
        boost = entry.pop("boost", 1)
        entry.update({"tags": tags} if tags else {}, **({"boost": boost} if boost != 1 else {}))
        if "text" in entry:
            entry["text"] = _first_words(entry["text"])
    return json.dumps(index, ensure_ascii=False, separators=(",", ":"))


def _first_words(html: str) -> str:
    words = " ".join(_TAG.sub(lambda tag: "" if tag[1] in _INLINE else " ", html).split())
    return words if len(words) <= SECTION else words[:SECTION].rpartition(" ")[0]
