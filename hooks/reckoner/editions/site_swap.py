"""The new site is built beside the old one and takes its place only when it is whole.

Linux swaps two folders in one step (``renameat2`` with ``RENAME_EXCHANGE``), so that a build killed at any moment
leaves the old site or the new one. Elsewhere two renames do it; a build killed between them is mended by the next.
"""

from __future__ import annotations

import ctypes
import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

#: From linux/fs.h and linux/fcntl.h: paths are absolute or seen from the working folder; swap instead of replace.
_AT_FDCWD, _RENAME_EXCHANGE = -100, 2


def exchange(first: Path, second: Path) -> bool:
    """Swap two names in one step; false where the system or the file system cannot."""
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        return False
    return bool(rename(_AT_FDCWD, os.fsencode(first), _AT_FDCWD, os.fsencode(second), _RENAME_EXCHANGE) == 0)


@dataclass(frozen=True)
class Swap:
    """One build's folders: ``site`` as published, ``beside`` as built, ``before`` for the moment between.

    ``at_once`` swaps two folders, or returns false where it cannot.
    """

    site: Path
    at_once: Callable[[Path, Path], bool] = exchange

    @property
    def beside(self) -> Path:
        """Where the build writes."""
        return self.site.with_name(f".{self.site.name}-new")

    @property
    def before(self) -> Path:
        """Where the old site waits while the new one moves in."""
        return self.site.with_name(f".{self.site.name}-old")

    def begin(self) -> None:
        """Clear what an interrupted build left; an old site found waiting goes back to its place."""
        if self.before.exists():
            if self.site.exists():
                shutil.rmtree(self.before)
            else:
                self.before.rename(self.site)
        if self.beside.exists():
            shutil.rmtree(self.beside)

    def finish(self) -> None:
        """Put the new site in place."""
        if self.site.exists() and self.at_once(self.beside, self.site):
            # What stands beside is the old site now.
            shutil.rmtree(self.beside)
            return
        if self.site.exists():
            self.site.rename(self.before)
        self.beside.rename(self.site)
        if self.before.exists():
            shutil.rmtree(self.before)

    def give_up(self) -> None:
        """Throw the unfinished site away; the old one was never touched."""
        if self.beside.exists():
            shutil.rmtree(self.beside)
