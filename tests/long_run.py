"""``LONG=1 tests/run`` tries everything in a sweep; every other run a part of it, the same part each time."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TypeVar

LONG = bool(os.environ.get("LONG"))
Tried = TypeVar("Tried")


def sampled(cases: Iterable[Tried], every: int) -> list[Tried]:
    """All cases in the long run, else the first of each so many that follow one another."""
    return list(cases)[:: 1 if LONG else every]
