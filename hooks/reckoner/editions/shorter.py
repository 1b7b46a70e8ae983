"""Own scripts and the search index with fewer bytes for the same work."""

from __future__ import annotations

import json
import re

_REMARK = re.compile(r"^[ \t]*/\*.*?\*/[ \t]*$", re.S | re.M)
_INDENT = re.compile(r"\n\s*")


def without_remarks(script: str) -> str:
    """A script without remarks on lines of their own and without indentation; one with a template text stays.

    >>> without_remarks("/* a */\\n(function () {\\n  /* b\\n  c */\\n  d(); /* e */\\n})();\\n")
    '(function () {\\nd(); /* e */\\n})();\\n'
    """
    if "`" in script:
        return script
    return _INDENT.sub("\n", _REMARK.sub("", script)).lstrip()


def short_index(text: str) -> str:
    """A search index without tags that repeat the title and without the boost that is the default.

    >>> short_index('{"docs":[{"title":"A","tags":["A","B"],"boost":1.0},{"title":"C","tags":["C"],"boost":2.0}]}')
    '{"docs":[{"title":"A","tags":["B"]},{"title":"C","boost":2.0}]}'
    """
    index = json.loads(text)
    for entry in index["docs"]:
        tags = [tag for tag in entry.pop("tags", []) if tag != entry["title"]]
        boost = entry.pop("boost", 1)
        entry.update({"tags": tags} if tags else {}, **({"boost": boost} if boost != 1 else {}))
    return json.dumps(index, ensure_ascii=False, separators=(",", ":"))
