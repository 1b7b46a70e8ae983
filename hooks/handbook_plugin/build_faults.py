"""What stopped a rebuild, a line each: faults of the data, of mkdocs.yml, of a page or of a template."""

from __future__ import annotations

import logging
import re
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import get_ident

from mkdocs.exceptions import Abort, MkDocsException
from mkdocs.utils import DuplicateFilter

from reckoner.loading.broken import broken
from reckoner.problems import HandbookError, Location, Problem, Severity, shown

_ENGINE = Path(__file__).parents[1]
#: What MkDocs logs of a page that could not be read, or written.
_OF_A_PAGE = re.compile(r"^Error (?:reading|building) page '(.+?)':?\s*(.*)$")


@contextmanager
def overheard() -> Iterator[list[logging.LogRecord]]:
    """The warnings and errors that MkDocs logs in this thread meanwhile: some faults are told in its log alone."""
    handler = _Listener()
    logger = logging.getLogger("mkdocs")
    logger.addHandler(handler)
    try:
        yield handler.records
    finally:
        logger.removeHandler(handler)


def tell_again() -> None:
    """Let the log say a fault that it has said before: MkDocs says nothing twice, be it mended and made again."""
    for told in logging.getLogger("mkdocs.commands.build").filters:
        if isinstance(told, DuplicateFilter):
            told.msgs.clear()


class _Listener(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.records: list[logging.LogRecord] = []
        self._thread = get_ident()

    def emit(self, record: logging.LogRecord) -> None:
        # Requests are answered, and logged, in threads of their own.
        if record.thread == self._thread:
            self.records.append(record)


def fault_lines(
    error: BaseException, records: list[logging.LogRecord], mkdocs_yml: Path, docs: Path
) -> tuple[str, ...]:
    """One line a fault, at least one; each as ``file:line:column: …`` where its place is known.

    Args:
        error: what the build raised.
        records: what MkDocs logged during the build.
        mkdocs_yml: the configuration's path; files are named as seen from its folder.
        docs: the folder of handwritten pages.
    """
    for cause in _causes(error):
        if isinstance(cause, HandbookError):
            return tuple(str(problem) for problem in cause.problems if problem.severity is Severity.ERROR)
        if getattr(cause, "problem_mark", None):
            return (str(_in_yaml(cause, mkdocs_yml)),)
    root = mkdocs_yml.parent
    own_words = str(error) if isinstance(error, MkDocsException) else f"{type(error).__name__}: {error}"
    if not isinstance(error, MkDocsException) and (place := _place(error, root)):
        return (f"{place}: {' '.join(_lines(own_words, root))}",)
    # A strict build that only warned comes to its warnings: they are what stopped it.
    levels = (logging.ERROR, logging.WARNING) if type(error) is Abort else (logging.ERROR,)
    logged = ([record.getMessage() for record in records if record.levelno >= level] for level in levels)
    messages = next(filter(None, logged), [own_words])
    lines = [line for message in messages for line in _lines(message, root)]
    return tuple(dict.fromkeys(_placed(line, mkdocs_yml, docs) for line in lines))


def _causes(error: BaseException) -> Iterator[BaseException]:
    """An error, what it was raised for, and so on; ``from None`` hides a cause from a traceback only."""
    cause: BaseException | None = error
    while cause is not None:
        yield cause
        cause = cause.__cause__ or cause.__context__


def _in_yaml(error: BaseException, mkdocs_yml: Path) -> Problem:
    """A fault of syntax in mkdocs.yml or a file that it inherits."""
    path = Path(error.problem_mark.name)  # type: ignore[attr-defined]
    text = path.read_text("utf-8", "replace") if path.is_file() else ""
    return broken(error, text, _seen_from(path, mkdocs_yml.parent))


def _place(error: BaseException, root: Path) -> Location | None:
    """The last line of the owner's own templates and hooks that an exception which nobody foresaw has passed."""
    for at in reversed(traceback.extract_tb(error.__traceback__)):
        path = Path(at.filename)
        engine = path.suffix == ".py" and path.is_relative_to(_ENGINE)
        if path.is_relative_to(root) and not path.is_relative_to(sys.prefix) and not engine:
            return Location(_seen_from(path, root), at.lineno or 1)
    return None


def _placed(line: str, mkdocs_yml: Path, docs: Path) -> str:
    """A line of MkDocs's log with the file that it is about in front."""
    if line.startswith("Config value "):
        return f"{Location(mkdocs_yml.name)}: {line}"
    page = _OF_A_PAGE.match(line)
    # Most pages are made, or come with the engine.
    if page is None or not (docs / page[1]).is_file():
        return line
    at = Location(_seen_from(docs / page[1], mkdocs_yml.parent))
    return f"{at}: the page cannot be built: {page[2]} (look at its front matter first)"


def _lines(message: str, root: Path) -> list[str]:
    """The lines of a message, its files as seen from the project's folder."""
    lines = [shown(line.strip().replace(f"{root}/", "")) for line in message.splitlines() if line.strip()]
    return lines or ["nothing is known of it"]


def _seen_from(path: Path, root: Path) -> str:
    return str(path.relative_to(root)) if path.is_relative_to(root) else path.name
