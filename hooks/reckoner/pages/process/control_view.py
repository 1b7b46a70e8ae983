"""Control tests for the baths that a page is about."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.pages.shared.parts import PageWriter, source_line
from reckoner.records.catalogue import PERSONAL


@dataclass(frozen=True)
class ControlView:
    """One test, as ``_controls.md.jinja`` shows it."""

    name: str
    how: str
    spent: str
    source: str


@dataclass(frozen=True)
class SignsView:
    """The context of ``signs.md.jinja``: every test, so that a bath's state is found by what one sees."""

    title: str
    summary: str
    controls: tuple[ControlView, ...]
    own: bool


def signs_view(writer: PageWriter) -> SignsView:
    """All control tests and signs of exhaustion."""
    table = writer.results.catalogue.control_tests
    every = {purpose for test in (table.tests if table else ()) for purpose in test.purposes}
    return SignsView(
        title="Tests and signs",
        summary="How to tell whether a bath still works, and what a spent one looks like",
        controls=controls_view(every, writer),
        own=writer.results.catalogue.audience == PERSONAL,
    )


def controls_view(purposes: Iterable[str], writer: PageWriter) -> tuple[ControlView, ...]:
    """The tests for some kinds of bath, in the order of their table."""
    wanted, table = set(purposes), writer.results.catalogue.control_tests
    return tuple(
        ControlView(test.name, test.how, test.spent, source_line(test.certainty, test.citation))
        for test in (table.tests if table else ())
        if wanted & set(test.purposes)
    )
