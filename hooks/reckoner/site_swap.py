"""The new site is built beside the old one and takes its place only when it is whole."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Swap:
    """One build's folders: ``site`` as published, ``beside`` as built, ``before`` for the moment between."""

    site: Path

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
        if self.site.exists():
            self.site.rename(self.before)
        self.beside.rename(self.site)
        if self.before.exists():
            shutil.rmtree(self.before)

    def give_up(self) -> None:
        """Throw the unfinished site away; the old one was never touched."""
        if self.beside.exists():
            shutil.rmtree(self.beside)
