"""What stands on top of a formula's page: what it is for, and whether it can be relied on."""

from __future__ import annotations

from dataclasses import dataclass

from reckoner.pages.safety.not_working_view import with_reasons
from reckoner.pages.shared.parts import UNPROVEN, PageWriter, unproven_words
from reckoner.pages.trust.own_change_view import OwnChangeView, own_change_view
from reckoner.records.formula import Formula


@dataclass(frozen=True)
class FormulaHead:
    """The top of a formula's page; ``bench`` is the address of its bench sheet."""

    bench: str
    also: tuple[str, ...]
    aliases: tuple[str, ...]
    whose: str
    does_not_work: str
    own_change: OwnChangeView | None
    old_record: str
    unproven: str
    doubts: tuple[str, ...]


def formula_head(formula: Formula, writer: PageWriter) -> FormulaHead:
    """Put other names and doubts into words."""
    return FormulaHead(
        bench=writer.links.path(f"bench/{formula.id}"),
        also=formula.also_published_as,
        aliases=formula.aliases,
        whose=writer.whose("formula", formula.id),
        does_not_work=with_reasons(formula.id, writer),
        own_change=own_change_view("formula", formula.id, writer),
        old_record=writer.old_record("formula", formula.id),
        unproven=unproven(formula),
        doubts=formula.doubts,
    )


def unproven(formula: Formula) -> str:
    """That nobody has compared or proved it, or nothing."""
    if formula.proven_on is not None or (formula.source.certainty == "published" and not formula.doubts):
        return ""
    certainty = formula.source.certainty
    return unproven_words(certainty) if certainty != "published" else f"Doubts recorded: {UNPROVEN}"
