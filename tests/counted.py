"""Bottles with film counted on the phone: what their page carries, and what the build says once shelf.yml holds it."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import yaml

from reckoner.calc.film.bottles import state_of
from reckoner.calc.results import Results
from reckoner.pages.shared.capacity_words import rolls_words
from reckoner.pages.shelf.bottle_data import bottle_data
from reckoner.pages.shelf.bottle_view import time_words
from reckoner.records.shelf import Bottle
from reckoner.records.use import FilmCapacity, Reuse
from reckoner.rounding import significant
from rescaled import writer_of

CASES: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent / "cases" / "count.yml").read_text("utf-8"))
FORMULA, CERTAIN = "c41-developer", {"certainty": "common practice"}


@dataclass(frozen=True)
class Counted:
    """A bottle's page as built, film counted on the phone, and the build's words for both together."""

    data: dict[str, Any]
    films: list[dict[str, str]]
    says: dict[str, Any]


def counted(results: Results, case: dict[str, Any]) -> Counted:
    """One of the cases, worked out by the core."""
    catalogue = results.catalogue
    rule = Reuse.model_validate(case["rule"] | CERTAIN) if "rule" in case else None
    does = [FilmCapacity.model_validate({"does": case["does"], "per": "1 L"} | CERTAIN)] if "does" in case else []
    formula = catalogue.formulas[FORMULA].model_copy(update={"reuse": rule, "capacity": tuple(does)})
    catalogue = replace(catalogue, formulas={**catalogue.formulas, FORMULA: formula})
    writer = writer_of(replace(results, catalogue=catalogue))
    through = [yaml.safe_load(line) for line in case.get("through", ())]
    films = [dict(zip(("day", "format"), film.split(" "), strict=True)) for film in case["counted"]]
    lines = [{"day": day, "format": film, "count": count} for (day, film), count in _lines(case["counted"])]
    before, after = (state_of(_bottle(case["volume"], all_), catalogue) for all_ in (through, through + lines))
    says = {
        "rolls": rolls_words(after.rolls, writer),
        "loads": after.loads,
        "litre": rolls_words(after.litre, writer),
        "next": time_words(after.next, writer) if after.next else "",
        "left": "" if after.left is None else writer.show.number(significant(after.left, 3)),
        "spent": after.spent,
        "over": after.over,
    }
    return Counted(json.loads(bottle_data(before, writer)), films, says)


def _lines(films: list[str]) -> list[tuple[list[str], int]]:
    return [(at.split(" "), count) for at, count in sorted(Counter(films).items())]


def _bottle(volume: str, through: list[dict[str, Any]]) -> Bottle:
    return Bottle.model_validate(
        {"id": "counted", "formula": FORMULA, "volume": volume, "mixed": "2026-11-19", "through": through}
    )
