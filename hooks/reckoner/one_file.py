"""One file by itself, judged against a handbook that it is not in yet: what a member sends before it is put in.

What counts is what the file changes: faults that the handbook has without it are no faults of the file.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from reckoner.checks import check
from reckoner.choice import with_what_is_chosen
from reckoner.loading import kinds
from reckoner.loading.catalogue import build_catalogue
from reckoner.loading.files import MEMBERS, DataFile, data_file, read_content
from reckoner.loading.kinds import FILE_KINDS, FileKind
from reckoner.loading.layers import read_layers
from reckoner.loading.source import parse_yaml
from reckoner.problems import Location, Problem

#: Where a file of each kind with an id belongs; of the others there is one, or they lie in their supplier's folder.
BELONGS = {kind.name: kind.pattern.replace("**/", "").replace("*", "{id}") for kind in FILE_KINDS if kind.has_id}
#: Kinds that no key tells, by the ending of the file.
TABLE_KINDS = {Path(kind.pattern).suffix: kind for kind in kinds.TABLES}


@dataclass(frozen=True)
class Verdict:
    """What one file is, and what is wrong with it.

    Attributes:
        kind: as ``formula``; empty where it cannot be told.
        belongs: where it goes below the data folder, once it is in order; empty where it lies in its place, or where
            that is not decided by its id.
    """

    kind: str
    problems: tuple[Problem, ...]
    belongs: str = ""


def judge(file: Path, shown_as: str, folder: Path, today: date, fixed: bool = True) -> Verdict:
    """Read one file and check it against a data folder.

    Args:
        file: anywhere; where it stands in the folder already, it is judged against the rest.
        shown_as: how messages name it.
        folder: the data folder.
        today: the day that dates are compared with.
        fixed: whether today was asked for; see ``build``.
    """
    content = read_content(file, shown_as)
    if isinstance(content, Problem):
        return Verdict("", (content,))
    text = "" if isinstance(content, bytes) else content
    kind = TABLE_KINDS.get(file.suffix) or kind_by_content(text, shown_as)
    if kind is None:
        parsed = parse_yaml(text, shown_as)
        advice = "no record is like this (begin a formula with id:, name:, purpose:, makes: and ingredients:)"
        return Verdict("", parsed.problems or (Problem(Location(shown_as), advice),))
    files = read_layers(folder, folder.name)[0]
    others = [other for other in files if not _same(folder, other, file)]
    in_place = len(others) < len(files)
    if not kind.has_id and kind not in (kinds.PRICE_LIST, *kinds.TABLES, kinds.SUPPLIER):
        others = [other for other in others if other.kind is not kind]
    own = data_file(shown_as, kind, content)
    faults = _faults([*others, own], today, folder.name, fixed) - _faults(others, today, folder.name, fixed)
    where = "" if in_place else BELONGS.get(kind.name, "")
    return Verdict(kind.name, tuple(sorted(faults)), f"{folder.name}/{where.format(id=own.stem)}" if where else "")


def is_member(folder: Path) -> bool:
    """Whether a folder is a member's, below ``members/`` of a data folder."""
    folder = folder.resolve()
    return folder.is_dir() and folder.parent.name == MEMBERS and (folder.parent.parent / "settings.yml").is_file()


def judge_member(member: Path, today: date, fixed: bool = True) -> Verdict:
    """A member's folder, below ``members/`` of a data folder, against the handbook without other members' folders."""
    folder, layer = member.parent.parent, f"{MEMBERS}/{member.name}"
    files, problems = read_layers(folder, folder.name)
    others = [file for file in files if not file.layer.startswith(MEMBERS)]
    own = [file for file in files if file.layer == layer]
    unread = {problem for problem in problems if problem.at.file.startswith(f"{folder.name}/{layer}/")}
    faults = _faults([*others, *own], today, folder.name, fixed) - _faults(others, today, folder.name, fixed)
    return Verdict("member's folder", tuple(sorted(faults | unread)))


def kind_by_content(text: str, file: str) -> FileKind | None:
    """The kind whose keys a file has most of; None where hardly any fits."""
    tree = parse_yaml(text, file).tree
    if not isinstance(tree, dict):
        return None

    def likeness(kind: FileKind) -> tuple[int, int]:
        keys = kind.record.by_key()
        needed = {key for key, field in keys.items() if field.is_required()}
        return len(keys.keys() & set(tree)) * 2 - len(tree), len(needed & set(tree)) - len(needed)

    best = max((kind for kind in FILE_KINDS if kind not in kinds.TABLES), key=likeness)
    return best if likeness(best)[0] > 0 else None


def _faults(files: list[DataFile], today: date, shown_as: str, fixed: bool) -> set[Problem]:
    catalogue, problems = build_catalogue(files, today, shown_as, fixed)
    return {*problems, *check(with_what_is_chosen(catalogue))}


def _same(folder: Path, known: DataFile, file: Path) -> bool:
    return (folder.parent / known.name).resolve() == file.resolve()
