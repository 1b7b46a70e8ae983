"""Files that vanish and come back while MkDocs serves: its watching of a folder ends for good when that is gone."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from threading import Event, Thread

from mkdocs.livereload import LiveReloadServer
from watchdog.events import FileSystemEvent, FileSystemEventHandler

_SECONDS = 0.5


class Keeper(Thread):
    """Looks after what is watched: a path that is gone is a change, and so is its return, after which it is watched.

    The server rebuilds when a watched file changes; ``bell`` is one, of our own, that is written to for that.
    """

    def __init__(self, server: LiveReloadServer, bell: Path) -> None:
        super().__init__(name="handbook-watching", daemon=True)
        self._server, self._bell = server, bell
        self._gone: set[str] = set()
        self._ended = Event()

    def run(self) -> None:
        """Look again and again, until ``end``."""
        while not self._ended.wait(_SECONDS):
            self._look()

    def end(self) -> None:
        """Stop looking."""
        self._ended.set()
        self.join()

    def _look(self) -> None:
        observer = self._server.observer
        for emitter in list(observer.emitters):
            # None of them lives before the observer does, and none when it is to end.
            if not emitter.is_alive() and observer.is_alive() and observer.should_keep_running():
                observer.unschedule(emitter.watch)
                self._gone.add(emitter.watch.path)
                self._ring()
        for path in [path for path in self._gone if Path(path).exists()]:
            # It may vanish again at once.
            with suppress(OSError):
                observer.schedule(_Ringing(self._ring), path, recursive=True)
                self._gone.remove(path)
                self._ring()

    def _ring(self) -> None:
        # At the end the bell's folder is removed.
        with suppress(FileNotFoundError):
            if not self._bell.exists():
                self._bell.touch()
                self._server.watch(str(self._bell))
            with self._bell.open("a") as bell:
                bell.write("\n")


class _Ringing(FileSystemEventHandler):
    def __init__(self, ring: Callable[[], None]) -> None:
        self._ring = ring

    def on_any_event(self, event: FileSystemEvent) -> None:
        """A file below a path that came back was changed."""
        if not event.is_directory:
            self._ring()
