"""``data/datapackage.json``: every table beside it, with a Table Schema each (Data Package, version 1)."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from reckoner.calc.results import Results
from reckoner.outputs.tables import Column, Table

PACKAGE = "data/datapackage.json"
HOLDS = "Weighing lists of every formula, baskets of every plan, and what the owner changes of the library's records."
GUARD = "A cell that begins with =, +, -, @ or a tab has an apostrophe before it, so that no spreadsheet runs it."


def data_package(tables: Iterable[Table], results: Results) -> str:
    """The descriptor as JSON text; it is of the day that the handbook was built for."""
    catalogue = results.catalogue
    described = {
        "profile": "tabular-data-package",
        "name": "handbook",
        "title": catalogue.settings.title,
        "description": f"{HOLDS} {GUARD}",
        "created": f"{catalogue.today.isoformat()}T00:00:00Z",
        "resources": [_resource(table) for table in tables],
    }
    return json.dumps(described, indent=1, ensure_ascii=False) + "\n"


def _resource(table: Table) -> dict[str, Any]:
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": table.path,
        "title": table.title,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "quoteChar": '"', "doubleQuote": True, "header": True},
        "schema": {"fields": [_field(column) for column in table.columns], "missingValues": [""]},
    }


def _field(column: Column) -> dict[str, Any]:
    field: dict[str, Any] = {"name": column.name, "type": column.type, "description": column.description}
    if column.unit:
        field["unit"] = column.unit
    if column.currency:
        field["currency"] = column.currency
    if column.required:
        field["constraints"] = {"required": True}
    return field
