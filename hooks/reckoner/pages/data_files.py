"""Every file of the site that is no page: figures for programs, tables for a spreadsheet, a feed."""

from __future__ import annotations

from collections.abc import Iterator

from reckoner.calc.results import Results
from reckoner.pages.export import handbook_json, handbook_schema
from reckoner.pages.export_plans import basket_csv
from reckoner.pages.feed import FEED, price_feed


def data_files(results: Results, site_url: str = "", directories: bool = True) -> Iterator[tuple[str, str]]:
    """Paths in the site's tree with their text; ``site_url`` and ``directories`` are for the addresses in the feed."""
    yield "data/handbook.json", handbook_json(results)
    yield "data/handbook.schema.json", handbook_schema()
    for plan_id, plan in results.plans.items():
        yield f"data/plan-{plan_id}.csv", basket_csv(plan.bought, results)
    feed = price_feed(results, site_url, directories)
    if feed:
        yield FEED, feed
