"""``mkdocs serve``: an edited price list is told in the log with what it does, before anything is published."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from queue import Empty, Queue
from threading import Thread

import pytest

from bad_input import VALID
from site_build import FIXED_DAY, ROOT

pytestmark = pytest.mark.process

#: A build of the small handbook takes a second or two; a busy machine may take longer.
PATIENCE = 60


class Served:
    """A running ``mkdocs serve`` and the lines it prints."""

    def __init__(self, process: subprocess.Popen[str], root: Path) -> None:
        self.process = process
        self.root = root
        self.lines: Queue[str] = Queue()
        Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.lines.put(line.strip())

    def until(self, wanted: str) -> list[str]:
        """The lines up to one that holds a text."""
        found: list[str] = []
        while not found or wanted not in found[-1]:
            try:
                found.append(self.lines.get(timeout=PATIENCE))
            except Empty:
                pytest.fail(f"'{wanted}' was not printed; before it:\n" + "\n".join(found))
        return found


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    root = tmp_path / "project"
    root.mkdir()
    shutil.copy(ROOT / "mkdocs.yml", root)
    shutil.copytree(ROOT / "handbook", root / "handbook")
    (root / "hooks").symlink_to(ROOT / "hooks")
    shutil.copytree(VALID, root / "formulas")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "-m", "mkdocs", "serve", "-f", str(root / "mkdocs.yml"), "-a", f"127.0.0.1:{port}"],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": FIXED_DAY, "PYTHONUNBUFFERED": "1"},
    )
    try:
        yield Served(process, root)
    finally:
        process.terminate()
        process.wait(timeout=PATIENCE)
        assert process.stdout is not None
        process.stdout.close()


def test_an_edit_of_a_price_shows_what_it_changes(served: Served) -> None:
    """The kilo of thiosulfate goes from 6.50 to 8.00 EUR, and the fixer costs more; then back again, past a fault."""
    begun = served.until("Serving on")
    assert not any("→" in line for line in begun), "each supplier has one list: nothing changed"
    path = served.root / "formulas" / "prices" / "one" / "2026-11-01.yml"
    path.write_text(path.read_text("utf-8").replace("6.50 EUR", "8.00 EUR"), "utf-8")
    told = served.until("Documentation built")
    assert any("handbook: one/sodium-thiosulfate/pentahydrate/1-kg: 6.50 EUR → 8.00 EUR" in line for line in told)
    assert any("handbook: fixer: a litre " in line and "→" in line for line in told)
    # A fault keeps the last good prices for the next comparison.
    path.write_text(path.read_text("utf-8").replace("8.00 EUR", "8.00 pounds"), "utf-8")
    served.until("'8.00 pounds' is no price")
    path.write_text(path.read_text("utf-8").replace("8.00 pounds", "6.50 EUR"), "utf-8")
    told = served.until("Documentation built")
    assert any("1-kg: 8.00 EUR → 6.50 EUR" in line for line in told)


def test_a_list_that_comes_while_serving_is_told_line_by_line(served: Served) -> None:
    served.until("Serving on")
    lists = served.root / "formulas" / "prices" / "one"
    old = (lists / "2026-11-01.yml").read_text("utf-8")
    new = old.replace("date: 2026-11-01", "date: 2026-11-20").replace("6.50 EUR", "7.10 EUR")
    (lists / "2026-11-20.yml").write_text(new, "utf-8")
    told = served.until("Documentation built")
    assert any("prices changed on 2026-11-20: 1 offer up" in line for line in told)
    assert any("handbook: one/sodium-thiosulfate/pentahydrate/1-kg: 6.50 EUR → 7.10 EUR" in line for line in told)
