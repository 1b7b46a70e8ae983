"""Cases of bad input: a small valid handbook, what a case changes in it, and what must be said.

A case file holds ``says``, then any of ``edit`` (file: list of old and new text), ``write`` (file: whole text),
``bytes`` (file: hexadecimal), ``repeat`` (file: text and how often), ``remove`` (files) and ``link`` (file: target);
and what comes out of it: ``exit`` and ``problems``.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

CASES = Path(__file__).parent / "cases" / "bad_input"
VALID = Path(__file__).parent / "cases" / "handbook"
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True)
class Case:
    """One kind of bad input."""

    name: str
    spec: dict[str, Any]

    @property
    def problems(self) -> list[str]:
        """Lines that must be printed, all and exactly."""
        return list(self.spec["problems"])

    @property
    def exit_code(self) -> int:
        """0 for warnings and notes, 1 for errors."""
        return int(self.spec["exit"])

    def make(self, folder: Path) -> None:
        """Lay the valid handbook in ``folder`` and spoil it."""
        shutil.copytree(VALID, folder)
        for name, edits in self.spec.get("edit", {}).items():
            text = (folder / name).read_text("utf-8")
            for old, new in edits:
                assert text.count(old) >= 1, f"{self.name}: {old!r} is not in {name}"
                text = text.replace(old, new, 1)
            (folder / name).write_text(text, "utf-8")
        for name, text in self.spec.get("write", {}).items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, "utf-8")
        for name, raw in self.spec.get("bytes", {}).items():
            (folder / name).write_bytes(bytes.fromhex(raw))
        for name, (text, times) in self.spec.get("repeat", {}).items():
            (folder / name).write_text(text * times, "utf-8")
        for name in self.spec.get("remove", []):
            (folder / name).unlink()
        for name, target in self.spec.get("link", {}).items():
            (folder / name).symlink_to(target)


@cache
def cases() -> list[Case]:
    """Every case file, by name."""
    return [Case(path.stem, yaml.load(path.read_text("utf-8"), _LOADER)) for path in sorted(CASES.glob("*.yml"))]
