"""Every rule of the mixture has a row just below and at its limit: a new rule without one fails here."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pytest

from hazard_cases import bath, hazards
from reckoner.calc.hazards.classify import HAZARD_RULES, HazardRule
from reckoner.calc.hazards.composition import Composition
from reckoner.calc.hazards.finding import Finding, HeldAgainst
from reckoner.records.hazard import Hazards
from test_outside_hazards import GENERIC, oral

#: Record, % just below the limit, % at it, class of the bath: the generic limits, and those that are no share of a
#: class. Acute: 3.1.3.6.1 of Annex I of CLP, 100 / (25 / 500) is 2000, the end of category 4. A graver gas: no amount
#: stands in the law, this handbook says it from 1 %.
ROWS: list[tuple[Hazards, str, str, str]] = [
    *((hazards(entry), below, at, reached) for entry, below, at, reached in GENERIC),
    (oral("500"), "24.99", "25", "Acute Tox. 4"),
    (hazards(euh=["EUH031"]), "0.99", "1", "EUH031"),
]


def said(rule: HazardRule, record: Hazards, share: str) -> set[str]:
    return {finding.hazard for finding in rule(bath((share, record)).composition)}


def rows_of(rule: HazardRule) -> list[tuple[str, str]]:
    """Class and limit of the rows in which this rule by itself says the class at the limit and not below it."""
    return [
        (reached, at)
        for record, below, at, reached in ROWS
        if reached in said(rule, record, at) - said(rule, record, below)
    ]


@pytest.mark.parametrize("rule", HAZARD_RULES, ids=lambda rule: rule.__name__)
def test_every_rule_has_a_row_at_its_limit(rule: HazardRule) -> None:
    assert rows_of(rule), f"no row at a limit of {rule.__name__} (add one to GENERIC or ROWS, with its source)"


def test_every_row_is_just_below_and_at_the_limit_of_a_rule() -> None:
    reached = {row for rule in HAZARD_RULES for row in rows_of(rule)}
    # EUH208 names an ingredient beside the rules, in ``also_named``.
    assert [row for row in ROWS if row[3] != "EUH208" and (row[3], row[2]) not in reached] == []
    assert all(Decimal("0.9") <= Decimal(below) / Decimal(at) < 1 for _, below, at, _ in ROWS)


def test_a_rule_without_a_row_is_found() -> None:
    """One that says nothing in any row, and one that says its class on either side of every limit."""

    def never(_: Composition) -> Iterator[Finding]:
        return iter(())

    def always(composition: Composition) -> Iterator[Finding]:
        for _, _, _, reached in ROWS:
            yield Finding(reached, "H000", "3.1.3.6.1", HeldAgainst(None, None, "pH"), ())

    assert rows_of(never) == rows_of(always) == []
