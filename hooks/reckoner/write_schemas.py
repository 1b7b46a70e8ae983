"""``python -m reckoner.write_schemas FOLDER`` writes every JSON Schema anew, after a record has changed."""

from __future__ import annotations

import sys
from pathlib import Path

from reckoner.loading.schema import schemas
from reckoner.outputs.export import handbook_schema


def all_schemas() -> dict[str, str]:
    """File name to text: one for each kind of data file, and one for the exported figures."""
    return {**schemas(), "handbook.json": handbook_schema()}


if __name__ == "__main__":
    for name, text in all_schemas().items():
        Path(sys.argv[1], name).write_text(text, "utf-8")
