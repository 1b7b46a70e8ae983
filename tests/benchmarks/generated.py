"""Handbooks of any size for benchmarks: the demonstration's records again under other ids and names."""

from __future__ import annotations

import re
import shutil
from datetime import date, timedelta
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
#: Formulas of fewer lines are not repeated: most are dilutions, and would hang on the one formula that they dilute.
SHORTEST = 20


def generated(folder: Path, formulas: int, chemicals: int, lists: int) -> None:
    """The demonstration data with as many formulas, chemicals and price lists as asked for, never fewer than it has.

    A repeated formula takes repeated chemicals, in turn, so that a price touches few of them.
    """
    shutil.copytree(ROOT / "formulas", folder)
    copies = _chemicals(folder / "library" / "chemicals", chemicals)
    _offers(folder / "prices", copies)
    _lists(folder / "prices", lists)
    _formulas(folder / "library" / "solutions", formulas, copies)


def _renamed(text: str, old: str, number: int) -> str:
    """A record's text with its number behind its id and its name."""
    text = re.sub(rf"^id: {re.escape(old)}$", f"id: {old}-{number}", text, count=1, flags=re.M)
    text = re.sub(r"^formerly: .*\n", "", text, count=1, flags=re.M)
    return re.sub(r"^(name: .*)$", rf"\1 {number}", text, count=1, flags=re.M)


def _chemicals(folder: Path, wanted: int) -> dict[str, list[str]]:
    """Write repeated chemicals; id to the ids of its copies."""
    files = sorted(path for path in folder.glob("*.yml") if path.stem != "water")
    copies: dict[str, list[str]] = {}
    for number in range(max(0, wanted - len(files) - 1)):
        source = files[number % len(files)]
        (folder / f"{source.stem}-{number}.yml").write_text(_renamed(source.read_text("utf-8"), source.stem, number))
        copies.setdefault(source.stem, []).append(f"{source.stem}-{number}")
    return copies


def _offers(folder: Path, copies: dict[str, list[str]]) -> None:
    """Every list offers the copies too, as it offers what they are copies of."""
    for path in sorted(folder.glob("*/2*.*")):
        lines = []
        for line in path.read_text("utf-8").splitlines():
            lines.append(line)
            found = re.match(r"(?:  - \{chemical: )?([a-z0-9-]+),", line)
            lines += [line.replace(found[1], copy, 1) for copy in copies.get(found[1], ())] if found else []
        path.write_text("\n".join([*lines, ""]), "utf-8")


def _lists(folder: Path, wanted: int) -> None:
    """Older lists with the same rows, a week between them."""
    files = sorted(folder.glob("*/2*.*"))
    for number in range(max(0, wanted - len(files))):
        source = files[number % len(files)]
        day = date.fromisoformat(source.stem) - timedelta(weeks=1 + number // len(files))
        text = source.read_text("utf-8").replace(f"date: {source.stem}", f"date: {day}")
        source.with_stem(str(day)).write_text(text, "utf-8")


def _formulas(folder: Path, wanted: int, copies: dict[str, list[str]]) -> None:
    files = sorted(folder.rglob("*.yml"))
    long = [path for path in files if len(path.read_text("utf-8").splitlines()) > SHORTEST]
    for number in range(max(0, wanted - len(files))):
        source = long[number % len(long)]
        text = _renamed(source.read_text("utf-8"), source.stem, number)
        text = _with_copies(text, copies, number)
        source.with_stem(f"{source.stem}-{number}").write_text(text, "utf-8")


def _with_copies(text: str, copies: dict[str, list[str]], number: int) -> str:
    def one_of(at: re.Match[str]) -> str:
        found = [at[1], *copies.get(at[1], ())]
        return f"chemical: {found[number % len(found)]}"

    return re.sub(r"\bchemical: ([a-z0-9-]+)", one_of, text)
