"""Formulas worked out at volumes that the settings do not name, as text of their weighing lists."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import yaml

from reckoner.calc.bath import formula_result
from reckoner.calc.mixing.scaling import litre_lists
from reckoner.calc.prices.costing import Market
from reckoner.calc.prices.offers import priced_offers, sold
from reckoner.calc.results import Results
from reckoner.pages.formula.batch_view import AmountView, batch_view
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.units import Amount, parse_amount

CASES: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent / "cases" / "rescale.yml").read_text("utf-8"))


def writer_of(results: Results) -> PageWriter:
    return PageWriter(results, Display(results.catalogue.settings.locale), Links("bench/any.md"))


def at_volumes(results: Results, formulas: Iterable[str], volumes: Iterable[str]) -> Results:
    """The same results with only the named formulas, worked out at other volumes (mL)."""
    sizes: tuple[Amount, ...] = tuple(parse_amount(f"{volume} mL") for volume in volumes)
    first = results.catalogue.settings.first_batch.litres
    settings = results.catalogue.settings.model_copy(update={"batch_sizes": sizes, "first_batch": sizes[0]})
    catalogue = replace(results.catalogue, settings=settings)
    for_a_litre = litre_lists(catalogue.formulas, catalogue.chemicals)
    market = Market(
        sold(priced_offers(catalogue)), for_a_litre, catalogue.chemicals, settings.currency, settings.tap_water
    )
    rollup = market.rollup
    worked = {i: formula_result(for_a_litre[i], catalogue, rollup, market, first) for i in formulas}
    return replace(results, catalogue=catalogue, formulas=worked)


def lists(results: Results, formula: str) -> list[dict[str, Any]]:
    """Each batch of a formula as the page words it; ordinary spaces for the narrow ones."""
    result, writer = results.formulas[formula], writer_of(results)
    return [
        {
            "volume": _plain(view.title),
            "start": _plain(view.start),
            "rows": [
                {
                    "asked": _amount(row.asked),
                    **({"jar": _amount(row.jar)} if row.jar else {}),
                    **({"advice": _plain(row.advice)} if row.advice else {}),
                }
                for row in view.rows
            ],
        }
        for view in (batch_view(batch, result, writer) for batch in result.batches)
    ]


def _amount(amount: AmountView) -> str:
    return _plain(f"{amount.figure} on the {amount.instrument}")


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ")
