"""The private names of MkDocs's server, in one place: it counts which site is wanted and which is there to be seen.

While both differ, MkDocs lets every request wait. Where a later MkDocs lacks these names, or means something else by
them, the server is left as it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Condition
from typing import Any

_KINDS: dict[str, type] = {"_wanted_epoch": int, "_visible_epoch": int, "_epoch_cond": Condition}


def understood(server: Any) -> bool:
    """Whether a server has these names, and things of the expected kind behind them."""
    return all(isinstance(getattr(server, name, None), kind) for name, kind in _KINDS.items())


@contextmanager
def answering(server: Any) -> Iterator[None]:
    """Let requests be answered during a rebuild; after it the server calls the new site visible, and browsers reload.

    The server must be ``understood``.
    """
    with server._epoch_cond:
        wanted = server._wanted_epoch
        server._wanted_epoch = server._visible_epoch
        server._epoch_cond.notify_all()
    try:
        yield
    finally:
        server._wanted_epoch = wanted
