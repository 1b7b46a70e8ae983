"""The only disk reads of the core: a folder to the text of its data files, each with its kind."""

from __future__ import annotations

from codecs import BOM_UTF8
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from reckoner.loading.kinds import FILE_KINDS, MEMBER, MEMBER_KINDS, FileKind
from reckoner.loading.source import MAX_BYTES, decode
from reckoner.loading.workbook import READERS, is_workbook
from reckoner.problems import Location, Problem

#: The layer, and the folder among the owner's files, of what comes with the engine; the layer of the owner's own.
LIBRARY, OWN = "library", "own"
#: The folder of members' folders; the layer of one is its path.
MEMBERS = "members"
#: Workbooks that are not read.
_OTHER_WORKBOOKS = (".xls", ".xlsm", ".xlsb", ".fods", ".numbers")


@dataclass(frozen=True)
class DataFile:
    """One data file.

    Attributes:
        name: what messages print: relative, with forward slashes.
        text: None where it could not be read; the file still holds its id, so that references to it are no fault.
        layer: whose it is.
        raw: of a workbook, in place of a text.
    """

    name: str
    kind: FileKind
    text: str | None
    layer: str = OWN
    raw: bytes | None = None

    @property
    def stem(self) -> str:
        """File name without folder and ending."""
        return self.name.rsplit("/", 1)[-1].rsplit(".", 1)[0]

    @property
    def folder(self) -> str:
        """Name of the folder the file stands in."""
        return self.name.rsplit("/", 2)[-2] if self.name.count("/") else ""


def read_folder(folder: Path, shown_as: str) -> tuple[list[DataFile], list[Problem]]:
    """Read every data file below ``folder``, but for a library of its own.

    Args:
        folder: the ``formulas`` folder.
        shown_as: how messages name it, as ``formulas``.
    """
    files: list[DataFile] = []
    problems: list[Problem] = []
    for path in sorted(_walk(folder)):
        name = f"{shown_as}/{path.relative_to(folder).as_posix()}"
        kind = kind_of(path.relative_to(folder))
        fault = _misplaced(path, folder, kind, name)
        content: str | bytes | None = None
        if fault is None and kind is not None:
            read = read_content(path, name)
            content, fault = (None, read) if isinstance(read, Problem) else (read, None)
        if kind is not None:
            files.append(replace(data_file(name, kind, content), layer=_layer(path.relative_to(folder))))
        if fault is not None:
            problems.append(fault)
    return files, problems


def _walk(folder: Path) -> Iterator[Path]:
    for path in folder.rglob("*"):
        parts = path.relative_to(folder).parts
        # A workbook that is open in another window has a file beside it whose name begins with ~$.
        hidden = parts[0] == LIBRARY or any(part.startswith((".", "~$")) for part in parts)
        if not hidden and (path.is_file() or path.is_symlink()):
            yield path


def _misplaced(path: Path, folder: Path, kind: FileKind | None, name: str) -> Problem | None:
    if not path.name.isprintable():
        return Problem(Location(name), "the file's name holds hidden or unreadable characters (rename the file)")
    try:
        inside = path.resolve(strict=True).is_relative_to(folder.resolve())
    except (OSError, RuntimeError):
        return Problem(Location(name), "the link leads nowhere (put the file itself here)")
    if not inside:
        return Problem(Location(name), "the link leads out of the data folder (put the file itself here)")
    return _stray(path, name) if kind is None else None


def data_file(name: str, kind: FileKind, content: str | bytes | None) -> DataFile:
    """A data file with what ``read_content`` has read of it."""
    return DataFile(name, kind, None, raw=content) if isinstance(content, bytes) else DataFile(name, kind, content)


def read_content(path: Path, name: str) -> str | bytes | Problem:
    """The bytes of a workbook, the text of any other file, or why it cannot be had."""
    raw = _read(path, name)
    if isinstance(raw, Problem) or is_workbook(name):
        return raw
    # Spreadsheets put a byte-order mark before a table.
    return decode(raw.removeprefix(BOM_UTF8) if name.endswith(".csv") else raw, name)


def _read(path: Path, name: str) -> bytes | Problem:
    try:
        size = path.stat().st_size
        if not path.is_file():
            return Problem(Location(name), "this is no plain file (put the file itself here)")
        with path.open("rb") as file:
            # However large a file says it is, no more than this is read.
            raw = file.read(MAX_BYTES + 1)
        if len(raw) > MAX_BYTES:
            message = f"the file has {max(size, len(raw))} bytes (keep a data file under {MAX_BYTES})"
            return Problem(Location(name), message)
        return raw
    except FileNotFoundError as error:
        return Problem(Location(name), f"the file cannot be read: {error.strerror} (check its name)")
    except OSError as error:
        return Problem(Location(name), f"the file cannot be read: {error.strerror} (check its permissions)")


def kind_of(relative: Path) -> FileKind | None:
    """The kind of file at a place below the data folder, or None."""
    member = _layer(relative) != OWN
    relative = Path(*relative.parts[2:]) if member else relative
    for kind in MEMBER_KINDS if member else FILE_KINDS:
        parts = kind.pattern.split("/")
        if kind is MEMBER and not member:
            continue
        if "**" in parts:
            fits = relative.parts[0] == parts[0] and len(relative.parts) > 1 and relative.match(parts[-1])
        else:
            fits = len(relative.parts) == len(parts) and relative.match(kind.pattern)
        if fits:
            return kind
    return None


def _layer(relative: Path) -> str:
    """Whose a file is by its place below the data folder."""
    return "/".join(relative.parts[:2]) if relative.parts[0] == MEMBERS and len(relative.parts) > 2 else OWN


def _stray(path: Path, name: str) -> Problem | None:
    """A file that looks like data and would be passed over; other files may lie about."""
    if path.suffix in {".yml", ".csv", *READERS}:
        return Problem(Location(name), "no data file belongs here (see the layout of formulas/ in the README)")
    # An editor's .txt behind the ending, capitals, or the longer spelling
    whole = path.name.lower().removesuffix(".txt")
    for ending, proper in ((".yaml", ".yml"), *((known, known) for known in (".yml", ".csv", *READERS))):
        if whole.endswith(ending):
            renamed = path.name[: len(whole) - len(ending)] + proper
            return Problem(Location(name), f"data files end in {proper} (rename it to {renamed})")
    if whole.endswith(_OTHER_WORKBOOKS):
        return Problem(Location(name), "no workbook of this kind is read (save it as .xlsx, .ods or .csv)")
    return None
