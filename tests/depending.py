"""Who depends on whom among the files of a handbook, told from the words in them and from nothing that the core says.

A file depends on every file whose id it writes, and on those that stand for all: settings, rates, film formats.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

_WORD = re.compile(r"[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*")
_ID = re.compile(rb"(?m)^id: ([\w-]+)")
#: Where records stand that are named by the name of their file.
_NAMED = ("chemicals/", "solutions/", "processes/", "kits/", "plans/")
#: Files that all figures may rest on, and files that no figure rests on.
_UNDER_ALL = ("settings.yml", "exchange_rates.yml")
#: File -> the lists of figures that may rest on it without a word of it in them.
_UNDER_SOME = {
    "film_formats.yml": {"plans", "bottles", "processes", "formulas"},
    "cautions.yml": {"formulas", "processes"},
    "incompatibilities.yml": {"formulas", "processes"},
    "hazard_phrases.yml": {"formulas", "processes"},
    "shelf.yml": {"bottles", "plans"},
}


def words(raw: bytes) -> set[str]:
    """Every word, hyphens inside it too."""
    return set(_WORD.findall(raw.decode("utf-8", "replace")))


def stem(name: str) -> str:
    """A file's name without folder and ending."""
    return name.rsplit("/", 1)[-1].rsplit(".", 1)[0]


@dataclass(frozen=True)
class Depending:
    """The files of one handbook."""

    files: Mapping[str, bytes]

    @cached_property
    def words(self) -> dict[str, set[str]]:
        """The words in each file; water is in every formula."""
        found = {name: words(raw) for name, raw in self.files.items()}
        return {name: said | ({"water"} if name.startswith("solutions/") else set()) for name, said in found.items()}

    @cached_property
    def under(self) -> dict[str, frozenset[str]]:
        """For each file every file that it rests on, itself too: by ids in it, and those that these rest on."""
        direct = {name: self._direct(name) for name in self.files}
        return {name: frozenset(_closure(name, direct)) for name in self.files}

    def _direct(self, name: str) -> set[str]:
        said = self.words[name]
        found = {other for other in self.files if other.startswith(_NAMED) and stem(other) in said}
        found |= {other for other in self.files if other.endswith("/supplier.yml") and other.split("/")[1] in said}
        if name.startswith("prices/"):
            found |= {other for other in self.files if other == f"prices/{name.split('/')[1]}/supplier.yml"}
        return found

    def rest_on(self, names: Iterable[str]) -> set[str]:
        """Files that rest on any of some files."""
        wanted = set(names)
        if wanted & {*_UNDER_ALL, *_UNDER_SOME}:
            return set(self.files)
        below = {name for name, under in self.under.items() if under & wanted}
        # Prices change what every list, basket and comparison says of the same chemicals.
        suppliers = {name.split("/")[1] for name in wanted if name.startswith("prices/")}
        beside = {name for name in self.files if name.startswith("prices/") and name.split("/")[1] in suppliers}
        # Of two files with one name the one read first holds the id.
        ids = {stem(name) for name in wanted} | {
            said.decode("utf-8", "replace") for name in wanted for said in _ID.findall(self.files.get(name, b""))
        }
        twins = {
            name for name in self.files if name.startswith(_NAMED) and (stem(name) in ids or self.words[name] & ids)
        }
        return below | beside | wanted | twins

    def figures_of(self, kind: str, record_id: str) -> set[str]:
        """The files that a record of the exported figures rests on."""
        if kind == "bottles":
            return {"shelf.yml", *self.under.get("shelf.yml", ())}
        folder = {"formulas": "solutions/"}.get(kind, f"{kind}/")
        own = [name for name in self.files if name.startswith(folder) and stem(name) == record_id]
        under = {below for name in own for below in self.under[name]}
        chemicals = {name for name in under if name.startswith("chemicals/")}
        prices = {
            name
            for name in self.files
            if name.count("/") == 2 and name.startswith("prices/") and (chemicals & self.under[name] or kind == "plans")
        }
        suppliers = {f"prices/{name.split('/')[1]}/" for name in prices}
        lists = {name for name in self.files if any(name.startswith(begin) for begin in suppliers)}
        beside = {name for name, kinds in _UNDER_SOME.items() if kind in kinds}
        return under | lists | beside | set(_UNDER_ALL)


def _closure(name: str, direct: Mapping[str, set[str]]) -> set[str]:
    found, todo = {name}, [name]
    while todo:
        for below in direct[todo.pop()] - found:
            found.add(below)
            todo.append(below)
    return found


def differing(before: Mapping[str, Any], after: Mapping[str, Any]) -> set[tuple[str, str]]:
    """Kind and id of each record of the exported figures that is not the same, or in one of them alone."""
    found: set[tuple[str, str]] = set()
    for kind in ("formulas", "plans", "bottles", "processes"):
        old, new = ({one["id"]: one for one in figures[kind]} for figures in (before, after))
        found |= {(kind, key) for key in old.keys() | new.keys() if old.get(key) != new.get(key)}
    rest = [key for key in before.keys() | after.keys() if not isinstance(before.get(key), list) or key == "rates"]
    return found | {("all", key) for key in rest if before.get(key) != after.get(key)}
