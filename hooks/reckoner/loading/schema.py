"""JSON Schemas of the data files, generated from the records so that editors check as one types.

They describe what an editor parses (YAML 1.2) and use draft-07 keywords only: ``$defs`` becomes ``definitions``.
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from reckoner.loading.combine import RECORDS
from reckoner.loading.kinds import FILE_KINDS, TABLES, FileKind
from reckoner.loading.left_out import CHANGES
from reckoner.records.own_change import OwnChange


@cache
def schema_text(kind: FileKind) -> str:
    """The schema of one kind of file as JSON text with a final newline."""
    schema = _draft07(kind.record.model_json_schema(by_alias=True))
    if kind in RECORDS:
        schema = _whole_or_changed(schema)
    schema = {"$schema": "http://json-schema.org/draft-07/schema#", "title": kind.name, **schema}
    return json.dumps(schema, indent=2, ensure_ascii=False, sort_keys=True) + "\n"


def schemas() -> dict[str, str]:
    """File name to text for every kind kept as YAML."""
    return {f"{kind.name}.json": schema_text(kind) for kind in FILE_KINDS if kind not in TABLES}


def _whole_or_changed(whole: dict[str, Any]) -> dict[str, Any]:
    """A record, or single keys in place of those of the library's record of that id."""
    definitions = whole.pop("definitions", {})
    changed = _draft07(OwnChange.model_json_schema(by_alias=True))
    keys = {"type": "object", "additionalProperties": False, "properties": whole["properties"]}
    changed["properties"][CHANGES] |= keys
    definitions |= changed.pop("definitions", {})
    return {"definitions": definitions, "if": {"required": [CHANGES]}, "then": changed, "else": whole}


def _draft07(node: Any) -> Any:
    if isinstance(node, dict):
        changed = {("definitions" if key == "$defs" else key): _draft07(value) for key, value in node.items()}
        if isinstance(changed.get("$ref"), str):
            changed["$ref"] = changed["$ref"].replace("#/$defs/", "#/definitions/")
        changed.pop("title", None) if isinstance(changed.get("title"), str) else None
        return changed
    if isinstance(node, list):
        return [_draft07(item) for item in node]
    return node
