"""Builds a site with the real MkDocs in a process of its own, as a user would."""

from __future__ import annotations

import json
import logging
import os
import subprocess
import sys
from dataclasses import dataclass
from functools import cached_property
from html import unescape
from pathlib import Path
from typing import Any
from unittest.mock import patch

from click.testing import CliRunner
from mkdocs.__main__ import ColorFormatter, cli

ROOT = Path(__file__).parent.parent
#: 2026-11-25 12:00 UTC
FIXED_DAY = "1795608000"


@dataclass(frozen=True)
class Site:
    """A built site and what the build printed."""

    folder: Path
    log: str
    exit_code: int

    def page(self, address: str) -> str:
        """The HTML of a page with character references resolved."""
        return unescape((self.folder / address / "index.html").read_text("utf-8"))

    @cached_property
    def figures(self) -> Any:
        """The exported JSON."""
        return json.loads((self.folder / "data" / "handbook.json").read_text("utf-8"))


def build_site(
    folder: Path, *options: str, root: Path = ROOT, day: str | None = FIXED_DAY, edition: str | None = None
) -> Site:
    """Run ``mkdocs build`` into ``folder``."""
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    environment.pop("HANDBOOK_EDITION", None)
    if edition is not None:
        environment["HANDBOOK_EDITION"] = edition
    environment.pop("SOURCE_DATE_EPOCH", None)
    if day is not None:
        environment["SOURCE_DATE_EPOCH"] = day
    command = [sys.executable, "-m", "mkdocs", "build", "-f", str(root / "mkdocs.yml"), "-d", str(folder), *options]
    done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
    return Site(folder, done.stdout + done.stderr, done.returncode)


def build_here(folder: Path, root: Path) -> Site:
    """As ``build_site``, as a command of this process, so that hundreds can be tried."""
    # The command is made to run once: it wraps at the terminal's width, leaves a handler and says nothing twice.
    logging.getLogger("mkdocs").handlers.clear()
    logging.getLogger("mkdocs.commands.build").filters.clear()
    environment = {"SOURCE_DATE_EPOCH": FIXED_DAY, "NO_MKDOCS_2_WARNING": "1"}
    with patch.dict(os.environ, environment), patch.object(ColorFormatter.text_wrapper, "width", 0):
        done = CliRunner().invoke(cli, ["build", "-f", str(root / "mkdocs.yml"), "-d", str(folder)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return Site(folder, done.output, done.exit_code)
