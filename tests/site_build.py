"""Builds a site with the real MkDocs: in a process of its own, as a user would, or faster in this one."""

from __future__ import annotations

import hashlib
import json
import logging
import os
import shutil
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from functools import cached_property
from html import unescape
from importlib.metadata import EntryPoint
from pathlib import Path
from typing import Any
from unittest.mock import patch

from click.testing import CliRunner
from mkdocs.__main__ import ColorFormatter, cli
from mkdocs.config.defaults import MkDocsConfig

from bad_input import VALID

ROOT = Path(__file__).parent.parent
#: 2026-11-25 12:00 UTC
FIXED_DAY = "1795608000"
#: Told to audit hooks when a site is built in this process.
BUILD_EVENT = "handbook.build"
#: The same as a reader's clock has it: pages of the site are read on that day, whatever the calendar says.
SITE_DAY = "2026-11-25"


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


def project(folder: Path, hooks: Path = ROOT / "hooks") -> Path:
    """A new project: the smallest valid handbook, with the engine and the pages of this one."""
    folder.mkdir()
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(ROOT / "handbook", folder / "handbook")
    (folder / "hooks").symlink_to(hooks)
    shutil.copytree(VALID, folder / "formulas")
    return folder


def tree(folder: Path) -> dict[str, str]:
    """Every file below a folder with a hash of its bytes."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def build_site(
    folder: Path, *options: str, root: Path = ROOT, day: str | None = FIXED_DAY, edition: str | None = None
) -> Site:
    """Run ``mkdocs build`` into ``folder``, in a process of its own."""
    command = [sys.executable, "-m", "mkdocs", *_arguments(folder, root, options)]
    environment = _environment(day, edition)
    done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
    return Site(folder, done.stdout + done.stderr, done.returncode)


def build_here(
    folder: Path, *options: str, root: Path = ROOT, day: str | None = FIXED_DAY, edition: str | None = None
) -> Site:
    """As ``build_site``, as a command of this process, which saves the second that a new one takes to begin."""
    sys.audit(BUILD_EVENT)
    # The command is made to run once: it wraps at the terminal's width, leaves a handler and says nothing twice.
    logging.getLogger("mkdocs").handlers.clear()
    logging.getLogger("mkdocs.commands.build").filters.clear()
    with (
        patch.dict(os.environ, _environment(day, edition), clear=True),
        patch.object(ColorFormatter.text_wrapper, "width", 0),
        patch.dict(MkDocsConfig.plugins.installed_plugins, _plugins()),
    ):
        done = CliRunner().invoke(cli, _arguments(folder, root, options))
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return Site(folder, done.output, done.exit_code)


def _plugins() -> dict[str, EntryPoint]:
    """The plugins that an installation of this tree has, whatever is installed; test_installed.py tries a real one."""
    (group,) = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["entry-points"].items()
    return {name: EntryPoint(name, place, group[0]) for name, place in group[1].items()}


def own_handbook(root: Path, more: str = "", plugins: str = "[search, formula-handbook]") -> Path:
    """A handbook in a folder of its own, by the installed plugin: its data, one page and a few lines of settings."""
    (root / "pages").mkdir(parents=True)
    (root / "pages" / "about.md").write_text("# About us\n\nOur own words.\n", "utf-8")
    shutil.copytree(VALID, root / "formulas")
    lines = f"site_name: Our handbook\ndocs_dir: pages\ntheme: material\nplugins: {plugins}\n"
    (root / "mkdocs.yml").write_text(lines + more, "utf-8")
    return root


def _arguments(folder: Path, root: Path, options: tuple[str, ...]) -> list[str]:
    return ["build", "-f", str(root / "mkdocs.yml"), "-d", str(folder), *options]


def _environment(day: str | None, edition: str | None) -> dict[str, str]:
    """This process's, but for what a build is told by it."""
    told = {"HANDBOOK_EDITION": edition, "SOURCE_DATE_EPOCH": day, "NO_MKDOCS_2_WARNING": "1"}
    kept = {name: value for name, value in os.environ.items() if name not in told}
    return kept | {name: value for name, value in told.items() if value is not None}
