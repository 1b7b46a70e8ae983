"""Every file of the site that is no page: figures for programs, tables for a spreadsheet, a feed."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.calc.results import Results
from reckoner.outputs.data_package import PACKAGE, data_package
from reckoner.outputs.export import handbook_json, handbook_schema
from reckoner.outputs.export_changes import changes_table
from reckoner.outputs.export_lists import list_table
from reckoner.outputs.export_plans import basket_table
from reckoner.outputs.feed import price_feed
from reckoner.outputs.tables import Table
from reckoner.pages.prices.price_words import FEED


def data_files(results: Results, site_url: str = "", directories: bool = True) -> Iterator[tuple[str, str]]:
    """Paths in the site's tree with their text; ``site_url`` and ``directories`` are for the addresses in the feed."""
    yield "data/handbook.json", handbook_json(results)
    yield "data/handbook.schema.json", handbook_schema()
    tables = tuple(csv_tables(results))
    for table in tables:
        yield f"data/{table.path}", table.csv
    yield PACKAGE, data_package(tables, results)
    feed = price_feed(results, site_url, directories)
    if feed:
        yield FEED, feed


def csv_tables(results: Results) -> Iterator[Table]:
    """Every table that is given away: what an audience must not see has left the results before."""
    for formula in results.formulas.values():
        yield list_table(formula, results)
    for plan in results.plans.values():
        yield basket_table(plan.bought, results)
    if changes := changes_table(results):
        yield changes
