"""Control tests for the baths that a page is about."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.pages.parts import Shower, source_line


@dataclass(frozen=True)
class ControlView:
    """One test, as ``_controls.md.jinja`` shows it."""

    name: str
    how: str
    spent: str
    source: str


def controls_view(purposes: Iterable[str], shower: Shower) -> tuple[ControlView, ...]:
    """The tests for some kinds of bath, in the order of their table."""
    wanted, table = set(purposes), shower.results.catalogue.control_tests
    return tuple(
        ControlView(test.name, test.how, test.spent, source_line(test.certainty, test.citation))
        for test in (table.tests if table else ())
        if wanted & set(test.purposes)
    )
