"""JSON Schemas: current, named in every data file, and accepting every data file as an editor reads it."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from data_layers import below_its_layer
from reckoner.loading.files import kind_of
from reckoner.loading.schema import schemas
from reckoner.write_schemas import all_schemas

ROOT = Path(__file__).parent.parent
SCHEMAS = ROOT / "hooks" / "schema"
DATA = sorted((ROOT / "formulas").rglob("*.yml"))


class EditorLoader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """Scalars as YAML 1.2 has them: no dates, no sexagesimals, and yes and no are text."""


EditorLoader.yaml_implicit_resolvers = {}
EditorLoader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(r"^(true|false)$"), list("tf"))
EditorLoader.add_implicit_resolver("tag:yaml.org,2002:int", re.compile(r"^[-+]?\d+$"), list("-+0123456789"))
EditorLoader.add_implicit_resolver("tag:yaml.org,2002:float", re.compile(r"^[-+]?\d+\.\d*$"), list("-+0123456789"))


def test_schemas_are_current() -> None:
    """Else: ``python -m reckoner.write_schemas schema`` in hooks/."""
    kept = {path.name: path.read_text("utf-8") for path in SCHEMAS.glob("*.json")}
    assert kept == all_schemas()


@pytest.mark.parametrize("name", sorted(schemas()))
def test_schema_is_valid_draft_07(name: str) -> None:
    jsonschema.Draft7Validator.check_schema(json.loads(schemas()[name]))


@cache
def validator(schema: Path) -> jsonschema.Draft7Validator:
    return jsonschema.Draft7Validator(json.loads(schema.read_text("utf-8")))


@pytest.mark.parametrize("path", DATA, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_every_data_file_names_its_schema_and_fits_it(path: Path) -> None:
    text = path.read_text("utf-8")
    first = text.splitlines()[0]
    prefix = "# yaml-language-server: $schema="
    assert first.startswith(prefix)
    named = (path.parent / first.removeprefix(prefix).strip()).resolve()
    kind = kind_of(below_its_layer(path))
    assert kind is not None
    assert named == SCHEMAS / f"{kind.name}.json"
    data: Any = yaml.load(text, Loader=EditorLoader)
    validator(named).validate(data)


def test_schema_refuses_an_unknown_key() -> None:
    schema = json.loads(schemas()["settings.json"])
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"format": 1, "curency": "EUR"}, schema, cls=jsonschema.Draft7Validator)


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        ("id: metol\nchanges: {use: mine}\nsource: {certainty: own practice, checked: 2026-11-30}", True),
        ("id: metol\nchanges: {uses: mine}\nsource: {certainty: own practice, checked: 2026-11-30}", False),
        ("id: metol\nchanges: {use: mine}", False),
        ("id: metol\nuse: mine", False),
    ],
)
def test_an_editor_knows_a_change_of_single_keys(text: str, fits: bool) -> None:
    checker = jsonschema.Draft7Validator(json.loads(schemas()["chemical.json"]))
    assert checker.is_valid(yaml.load(text, Loader=EditorLoader)) == fits
