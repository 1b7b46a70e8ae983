"""A tree as the YAML that an author would write: what programs hand over is read by people too."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

from reckoner.records.catalogue import Tree

#: Texts that need no quotes: they begin with a letter, a digit or a line to fill in, and hold nothing that YAML reads.
_BARE = re.compile(r"[^\W]([^\n\r\t:#'\"\[\]{},&*!|>%@`\\]|%(?= )|:(?=\d))*(?<![ ])\Z")


def to_yaml(tree: dict[str, Tree], begin: str = "") -> str:
    """Key: value lines with a final newline; lists of single values stand in one line.

    >>> print(to_yaml({"id": "fix", "of": ["a", "b"], "ph": {"value": "4"}, "items": [{"a": "1: x"}]}), end="")
    id: fix
    of: [a, b]
    ph:
      value: 4
    items:
      - a: "1: x"
    """
    return "".join(f"{begin}{line}\n" for line in _keys(tree))


def _keys(tree: dict[str, Tree]) -> Iterator[str]:
    for key, value in tree.items():
        if isinstance(value, dict):
            yield f"{key}:"
            yield from (f"  {line}" for line in _keys(value))
        elif isinstance(value, list) and any(isinstance(item, dict) for item in value):
            yield f"{key}:"
            for item in value:
                first, *rest = (list(_keys(item)) or ["{}"]) if isinstance(item, dict) else [json.dumps(item)]
                yield f"  - {first}"
                yield from (f"    {line}" for line in rest)
        elif isinstance(value, list):
            yield f"{key}: [{', '.join(_scalar(str(item)) for item in value)}]"
        else:
            yield f"{key}: {_scalar(value)}".rstrip()


def _scalar(text: str) -> str:
    return text if _BARE.match(text) else json.dumps(text, ensure_ascii=False)
