"""A running ``mkdocs serve``, as its owner starts and ends it."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, Queue
from threading import Thread

import pytest

from site_build import FIXED_DAY

#: A build of the small handbook takes a second or two; a busy machine may take longer.
PATIENCE = 60


class Served:
    """A running ``mkdocs serve``, its address and the lines it prints."""

    def __init__(self, process: subprocess.Popen[str], root: Path, address: str) -> None:
        self.process = process
        self.root = root
        self.address = address
        #: What it prints; None when it has ended.
        self.lines: Queue[str | None] = Queue()
        Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.lines.put(line.strip())
        self.lines.put(None)

    def until(self, wanted: str) -> list[str]:
        """The lines up to one that holds a text."""
        printed: list[str] = []
        while not printed or wanted not in printed[-1]:
            try:
                line = self.lines.get(timeout=PATIENCE)
            except Empty:
                line = None
            if line is None:
                pytest.fail(f"'{wanted}' was not printed; before it:\n" + "\n".join(printed))
            printed.append(line)
        return printed


@contextmanager
def serve(root: Path, *options: str, temporary: Path | None = None) -> Iterator[Served]:
    """Serve a project on a free port, with a folder of its own for what is temporary, and end it as a system does."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    process = subprocess.Popen(
        [
            *(sys.executable, "-m", "mkdocs", "serve", "-f", str(root / "mkdocs.yml"), "-a", f"127.0.0.1:{port}"),
            *options,
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={
            **os.environ,
            "NO_MKDOCS_2_WARNING": "1",
            "SOURCE_DATE_EPOCH": FIXED_DAY,
            "PYTHONUNBUFFERED": "1",
            **({"TMPDIR": str(temporary)} if temporary else {}),
        },
    )
    try:
        yield Served(process, root, f"http://127.0.0.1:{port}/")
    finally:
        process.terminate()
        try:
            process.wait(timeout=PATIENCE)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
            raise
        assert process.stdout is not None
        process.stdout.close()
