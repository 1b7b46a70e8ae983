"""Trees of example values for any record, read off its JSON Schema: a new key is in them without a word here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from reckoner.records.values import Record

#: Free text is marked in the schemas by this example.
PLAIN = "plain text"


def _plain(at: str) -> str:
    return PLAIN


@cache
def _schema(kind: type[Record]) -> dict[str, Any]:
    return kind.model_json_schema(by_alias=True)


@dataclass(frozen=True)
class Examples:
    """Fills records.

    Attributes:
        text: asked for each free text, by ``Class.key``.
        fixed: ``Class.key`` to what stands there instead of the schema's example: ids that must exist, say.
    """

    text: Callable[[str], str] = _plain
    fixed: Mapping[str, Any] = field(default_factory=dict)

    def record(self, kind: type[Record], *leave: str, needed_only: bool = False, **given: Any) -> dict[str, Any]:
        """A tree with every key of a record and of what is inside it, but for ``leave`` (``Class.key``)."""
        schema = _schema(kind)
        inside = _Inside(schema.get("$defs", {}), frozenset(leave), needed_only)
        return {**self._keys(schema, kind.__name__, inside), **given}

    def key(self, kind: type[Record], key: str) -> Any:
        """The example of one key, with the needed keys only of what is inside it."""
        schema = _schema(kind)
        inside = _Inside(schema.get("$defs", {}), frozenset(), True)
        return self._value(schema["properties"][key], f"{kind.__name__}.{key}", inside)

    def _keys(self, schema: Any, of: str, inside: _Inside) -> dict[str, Any]:
        wanted = schema.get("required", []) if inside.needed_only else schema["properties"]
        return {
            key: self._value(schema["properties"][key], f"{of}.{key}", inside)
            for key in wanted
            if f"{of}.{key}" not in inside.leave
        }

    def _value(self, schema: Any, at: str, inside: _Inside) -> Any:
        if at in self.fixed:
            return self.fixed[at]
        if "$ref" in schema:
            name = schema["$ref"].rsplit("/", 1)[-1]
            return self._keys(inside.classes[name], name, inside)
        if "anyOf" in schema:
            return self._value(schema["anyOf"][0], at, inside)
        if "enum" in schema or "const" in schema:
            return schema.get("const") or schema["enum"][0]
        if schema.get("type") == "array":
            return [self._value(schema["items"], at, inside) for _ in range(schema.get("minItems", 1))]
        example = schema["examples"][0]
        return self.text(at) if example == PLAIN else example


@dataclass(frozen=True)
class _Inside:
    """What a schema refers to, and which keys are wanted."""

    classes: Any
    leave: frozenset[str]
    needed_only: bool
