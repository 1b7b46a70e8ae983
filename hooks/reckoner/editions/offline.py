"""What a phone keeps: pages packed together, every other file by itself, and the list of both for the worker.

Pages of the site are alike; packed a dozen at a time they take a tenth of their bytes. The worker unpacks a pack when a
page of it is opened.
"""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import sha256

#: Where the worker's script has its list.
PLACE = '"the list of this build"'
PACKS = "offline"
#: Bytes of pages in one pack, before packing: short enough to unpack while one waits.
_PACK = 400_000
_PACKED = (".html", ".json", ".csv", ".xml")
#: For search engines, debuggers and languages that the handbook is not in; the worker does not keep itself.
_NOT_KEPT = re.compile(
    r".*\.map|sitemap\.xml(\.gz)?|sw\.js|assets/javascripts/lunr/.*|assets/images/favicon\.png|404\.html"
)
#: Read by scripts on every page: kept unpacked.
_PLAIN = ("search/search_index.json",)


@dataclass(frozen=True)
class Store:
    """What is kept.

    Attributes:
        packs: new files with their bytes.
        listed: for the worker, as JSON: ``build``, ``day``, ``files`` as path, SHA-256 and bytes, ``pages`` as path to
            pack, start and end.
        size: bytes of all listed files.
    """

    packs: tuple[tuple[str, bytes], ...]
    listed: str
    size: int


def store(files: Iterable[tuple[str, bytes]], day: str) -> Store:
    """Pack and list the site.

    Args:
        files: every file of the site as path and bytes, in any order.
        day: the day of the data, in words: told when a new build is offered.
    """
    kept = sorted((path, data) for path, data in files if not _NOT_KEPT.fullmatch(path))
    pages = [(path, data) for path, data in kept if path.endswith(_PACKED) and path not in _PLAIN]
    single = [(path, data) for path, data in kept if not path.endswith(_PACKED) or path in _PLAIN]
    packs: list[tuple[str, bytes]] = []
    places: dict[str, tuple[str, int, int]] = {}
    for group in _groups(pages):
        packed = gzip.compress(b"".join(data for _, data in group), 9, mtime=0)
        name = f"{PACKS}/{sha256(packed).hexdigest()[:16]}.pack"
        packs.append((name, packed))
        places.update(_places(name, group))
    listed = [[path, sha256(data).hexdigest(), len(data)] for path, data in (*single, *packs)]
    words = {"day": day, "files": listed, "pages": places}
    build = sha256(json.dumps(words, sort_keys=True).encode("utf-8")).hexdigest()[:16]
    text = json.dumps({"build": build, **words}, ensure_ascii=False, separators=(",", ":"))
    return Store(tuple(packs), text, sum(len(data) for _, data in (*single, *packs)))


def _groups(pages: list[tuple[str, bytes]]) -> Iterator[list[tuple[str, bytes]]]:
    group: list[tuple[str, bytes]] = []
    for path, data in pages:
        if group and sum(len(content) for _, content in group) + len(data) > _PACK:
            yield group
            group = []
        group.append((path, data))
    if group:
        yield group


def _places(name: str, group: list[tuple[str, bytes]]) -> Iterator[tuple[str, tuple[str, int, int]]]:
    start = 0
    for path, data in group:
        yield path, (name, start, start + len(data))
        start += len(data)


def worker(script: str, listed: str) -> str:
    """The worker's script with its list.

    Raises:
        ValueError: the script has no place for it.
    """
    if script.count(PLACE) != 1:
        raise ValueError(f"the worker's script has no single {PLACE}")
    return script.replace(PLACE, listed)
