"""The last touches to a built site's folder: the single file, what installs the site, and the worker with its list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from rcssmin import cssmin
from rjsmin import jsmin

from reckoner.editions.manifest import MANIFEST, manifest
from reckoner.editions.offline import store, worker
from reckoner.editions.short_index import short_index
from reckoner.editions.single_file import SINGLE_FILE, single_file
from reckoner.editions.style_used import lighter
from reckoner.editions.thinning import FinishedPage

WORKER = "sw.js"
#: The list of a worker that is to remove itself: an earlier site at this address must not hide what is being edited.
NOTHING = '{"build":"","day":"","files":[],"pages":{}}'
_INDEX = "search/search_index.json"


@dataclass(frozen=True)
class Title:
    """What a handbook is called: its name, a sentence, its language and the day of its data in words."""

    name: str
    description: str
    language: str
    day: str


def finish_site(folder: Path, pages: Iterable[FinishedPage], title: Title, keep: bool) -> None:
    """Finish the edition for a web server; ``keep`` is false while one edits, so that no phone keeps a draft."""
    _write(folder / SINGLE_FILE, single_file(pages, title.name, title.day).encode("utf-8"))
    _lighten(folder)
    _shorten_index(folder)
    _write(folder / MANIFEST, manifest(title.name, title.description, title.language).encode("utf-8"))
    listed = NOTHING
    if keep:
        kept = store(_files(folder), title.day)
        for path, data in kept.packs:
            _write(folder / path, data)
        listed = kept.listed
    script = (folder / WORKER).read_text("utf-8")
    _write(folder / WORKER, worker(script, listed).encode("utf-8"))


def finish_folder(folder: Path, pages: Iterable[FinishedPage], title: Title) -> None:
    """Finish the edition that is opened from a disk: its search index as a script, and nothing of the worker."""
    _write(folder / SINGLE_FILE, single_file(pages, title.name, title.day).encode("utf-8"))
    index = (folder / _INDEX).read_text("utf-8")
    _write(folder / "search" / "search_index.js", f"var __index = {index}".encode())
    for path in (WORKER, "assets/offline.js"):
        (folder / path).unlink(missing_ok=True)


def _lighten(folder: Path) -> None:
    """Take out of the theme's style sheets what no page uses, and out of ours what is for whoever reads them."""
    assets = folder / "assets"
    pages = (path.read_text("utf-8") for path in sorted(folder.rglob("*.html")) if path.name != SINGLE_FILE)
    scripts = _texts(path for path in assets.rglob("*.js") if "lunr" not in path.parts)
    theirs = _texts((assets / "stylesheets").glob("*.css"))
    ours = _texts(assets.glob("*.css"))
    written = {
        **lighter(theirs, pages, tuple(scripts.values()), "".join(ours.values())),
        **{path: cssmin(css) for path, css in ours.items()},
        **{path: jsmin(code) for path, code in scripts.items() if Path(path).parent == assets},
    }
    for path, text in written.items():
        Path(path).write_text(text, "utf-8")


def _texts(paths: Iterable[Path]) -> dict[str, str]:
    return {str(path): path.read_text("utf-8") for path in sorted(paths)}


def _shorten_index(folder: Path) -> None:
    """The search index less what its reader takes for granted."""
    path = folder / _INDEX
    if path.is_file():
        path.write_text(short_index(path.read_text("utf-8")), "utf-8")


def _files(folder: Path) -> Iterable[tuple[str, bytes]]:
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            yield path.relative_to(folder).as_posix(), path.read_bytes()


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
