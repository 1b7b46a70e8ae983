"""``mkdocs serve`` with a mistake in the files: the last good pages go on being served, at once, the fault on top.

MkDocs rebuilds into the folder that it serves and lets requests wait until a rebuild has ended well. Here each rebuild
writes to a folder of its own, which is served once it is whole.
"""

from __future__ import annotations

import logging
import shutil
import signal
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread, current_thread, main_thread

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.livereload import LiveReloadServer

from handbook_plugin import epochs
from handbook_plugin.build_faults import fault_lines, overheard, tell_again
from handbook_plugin.served_pages import with_notices
from handbook_plugin.watching import Keeper

log = logging.getLogger("mkdocs.livereload")


class Serving:
    """One run of the server: its folders and the faults of its last rebuild.

    Attributes:
        faults: a line each; none while what is served is what the files say.
    """

    def __init__(self, server: LiveReloadServer, config: MkDocsConfig) -> None:
        self.faults: tuple[str, ...] = ()
        self._server = server
        self._mkdocs_yml = Path(config.config_file_path or "mkdocs.yml").absolute()
        self._docs = Path(config.docs_dir)
        self._own = TemporaryDirectory(prefix="handbook_")
        self._first = self._served = Path(server.root)
        self._fresh: Path | None = None
        self._rebuilds = 0
        self._keeper = Keeper(server, Path(self._own.name) / "watched")

    def fresh_folder(self) -> str:
        """Where the rebuild that has begun is to write."""
        self._rebuilds += 1
        self._fresh = Path(self._own.name) / f"site-{self._rebuilds}"
        return str(self._fresh)

    def begin(self) -> None:
        """Take over the server's rebuilds, its pages and its page for wrong addresses."""
        build: Callable[[], None] = self._server.builder
        self._server.builder = lambda: self._rebuild(build)
        self._server.error_handler = self._error_page
        self._keeper.start()
        if current_thread() is main_thread() and signal.getsignal(signal.SIGTERM) is signal.SIG_DFL:
            signal.signal(signal.SIGTERM, self._asked_to_end)

    def _asked_to_end(self, *_: object) -> None:
        """As a service manager asks: after the build that runs, and so that no folder is left; asked again, at once."""
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        # The thread that was interrupted may hold what the server's end has to wait for.
        Thread(target=self._server.shutdown, daemon=True).start()

    def end(self) -> None:
        """Remove all folders but MkDocs's own, which it removes itself."""
        self._keeper.end()
        self._own.cleanup()

    def _rebuild(self, build: Callable[[], None]) -> None:
        """Build, and serve what was built; after a fault all stays as it was, and the fault is shown."""
        self._fresh = None
        self._clear(self._served)
        with epochs.answering(self._server), overheard() as records:
            try:
                build()
            except Exception as error:
                self.faults = fault_lines(error, records, self._mkdocs_yml, self._docs)
                self._tell(error)
                tell_again()
            else:
                # A configuration without the handbook any more is built where MkDocs would.
                self._served = self._fresh or self._first
                self._server.root = str(self._served)
                self.faults = ()

    def _clear(self, served: Path) -> None:
        """Remove what was built before and is not served; a page of it may have been on its way until now."""
        for folder in (self._first, *Path(self._own.name).glob("site-*")):
            if folder != served:
                shutil.rmtree(folder, ignore_errors=True)

    def _tell(self, error: Exception) -> None:
        """Tell it as MkDocs does, but for what becomes of the server."""
        if isinstance(error, MkDocsException):
            print(error, file=sys.stderr)
        else:
            traceback.print_exception(error)
        log.error("An error happened during the rebuild. The last good pages are served until it is mended.")

    def _error_page(self, code: int) -> bytes | None:
        page = self._served / f"{code}.html"
        return page.read_bytes() if page.is_file() else None


def serving(server: LiveReloadServer, config: MkDocsConfig) -> Serving | None:
    """Begin; None where this MkDocs's server is one that is not known here, and serves in its own way."""
    known = epochs.understood(server)
    begun = Serving(server, config) if known else None
    server.set_app(with_notices(server.get_app() or server.serve_request, lambda: begun.faults if begun else ()))
    if begun:
        begun.begin()
    return begun
