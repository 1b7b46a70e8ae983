"""HiGHS, made ready: the same answer every time, to proven optimum, and without a word on the build's output."""

from __future__ import annotations

import ctypes
import os
from collections.abc import Iterator
from contextlib import contextmanager

import highspy

OPTIONS: tuple[tuple[str, int | float], ...] = (
    ("threads", 1),
    ("random_seed", 0),
    ("mip_rel_gap", 0.0),
    # All aims are whole numbers: half of one is no difference.
    ("mip_abs_gap", 0.5),
    ("mip_feasibility_tolerance", 1e-7),
    # Half of the time of such small models, and the search does without it. Older solvers do not know it.
    ("mip_heuristic_run_feasibility_jump", False),
)


def solver() -> highspy.Highs:
    """An empty model."""
    with _silence():
        made: highspy.Highs = highspy.Highs()  # type: ignore[no-untyped-call]
    made.silent()
    for option, value in OPTIONS:
        made.setOptionValue(option, value)
    return made


@contextmanager
def _silence() -> Iterator[None]:
    """Swallow what C code prints: newer HiGHS says its name when a model is made, before it can be told not to."""
    try:
        flush = ctypes.CDLL(None).fflush
        kept = os.dup(1)
    except (OSError, TypeError, AttributeError):
        # No C library to ask, or no output: two lines more in the log do no harm.
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        flush(None)
        os.dup2(nowhere, 1)
        yield
        flush(None)
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
