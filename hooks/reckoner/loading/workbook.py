"""The table of a workbook, ``.xlsx`` or ``.ods``: the cells of its one visible sheet that holds anything.

A workbook is a zip of XML: what it unpacks to is bounded before any of it is read.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from io import BytesIO
from zipfile import ZipFile

from reckoner.loading import ods, xlsx
from reckoner.loading.cells import Refused, Rows
from reckoner.loading.sheet import Sheet, UnreadableError
from reckoner.problems import Location, Problem

READERS: dict[str, Callable[[bytes, str], Iterator[Sheet]]] = {".xlsx": xlsx.sheets, ".ods": ods.sheets}
#: The most that a workbook may unpack to, in bytes and in tags of XML, and the most sheets that are looked at.
_MOST_BYTES, _MOST_TAGS, _MOST_SHEETS = 10_000_000, 500_000, 50


def is_workbook(name: str) -> bool:
    """Whether a file's ending is that of a workbook."""
    return name.endswith(tuple(READERS))


def workbook_rows(raw: bytes, file: str) -> Rows | Refused:
    """Rows and columns that hold anything, or why there are none.

    Args:
        raw: the file.
        file: how messages name it; its ending says what it is.
    """
    ending = file[file.rindex(".") :]
    top = Location(file)
    try:
        with warnings.catch_warnings():
            # Of what a later saving would lose; nothing is saved here.
            warnings.simplefilter("ignore")
            return _rows(raw, ending, top)
    except UnreadableError as told:
        return told.problems
    except Exception:
        # What is not as the format says ends in the readers in a dozen ways: of the zip, of XML, of numbers, of names.
        message = f"the file is no {ending} that can be read (open it, and save it anew without a password, or as .csv)"
        return (Problem(top, message),)


def _rows(raw: bytes, ending: str, top: Location) -> Rows:
    _bounded(raw, top)
    filled: list[Sheet] = []
    for number, sheet in enumerate(READERS[ending](raw, top.file), start=1):
        filled += [sheet] if sheet.cells else []
        if number > _MOST_SHEETS:
            raise UnreadableError(Problem(top, f"more than {_MOST_SHEETS} sheets (keep the table alone in a file)"))
    if len(filled) > 1:
        names = ", ".join(f"'{sheet.name}'" for sheet in filled)
        message = f"{len(filled)} sheets hold something: {names} (keep one of them, or hide the others)"
        raise UnreadableError(Problem(top, message))
    return filled[0].rows() if filled else []


def _bounded(raw: bytes, top: Location) -> None:
    with ZipFile(BytesIO(raw)) as archive:
        unpacked = sum(part.file_size for part in archive.infolist())
        # A part that is longer than it says it is ends as a broken one.
        tags = 0 if unpacked > _MOST_BYTES else sum(archive.read(part).count(b"<") for part in archive.infolist())
    if unpacked > _MOST_BYTES or tags > _MOST_TAGS:
        message = f"the file unpacks to more than {_MOST_BYTES} bytes or {_MOST_TAGS} tags (keep the table alone in it)"
        raise UnreadableError(Problem(top, message))
