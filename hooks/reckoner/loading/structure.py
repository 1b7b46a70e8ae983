"""A tree of text to a record, all faults collected, each in the author's words with its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Literal, TypeVar, get_args, get_origin

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from reckoner.loading.retired import written_instead
from reckoner.loading.source import MOST_FAULTS, Parsed
from reckoner.problems import Location, Problem, closest
from reckoner.records.catalogue import Path, Places, Tree
from reckoner.records.record import Record, record_in
from reckoner.records.values import MOST_LINES

R = TypeVar("R", bound=Record)


def to_record(parsed: Parsed, kind: type[R]) -> tuple[R | None, tuple[Problem, ...]]:
    """Build a record, or None and every reason why not."""
    if parsed.tree is None:
        return None, _first(parsed.problems)
    if not isinstance(parsed.tree, dict):
        fault = Problem(parsed.places.at(), "the file holds no keys (write key: value lines)")
        return None, (*parsed.problems, fault)
    record, problems = tree_to_record(parsed.tree, parsed.places, kind)
    if parsed.problems:
        # Rows that could not be read are told already; that nothing is left then is no fault of its own.
        problems = tuple(problem for problem in problems if problem.message != _WORDS["too_short"])
    return (None if parsed.problems else record), _first((*parsed.problems, *problems))


def _first(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """As many faults of a file as anyone mends at a time."""
    if len(problems) <= MOST_FAULTS:
        return problems
    ordered = sorted(problems)
    return (
        *ordered[:MOST_FAULTS],
        Problem(ordered[MOST_FAULTS].at, "more faults follow in this file (mend these first)"),
    )


def tree_to_record(tree: Tree, places: Places, kind: type[R]) -> tuple[R | None, tuple[Problem, ...]]:
    """As ``to_record``, for a tree from any kind of file."""
    try:
        return kind.model_validate(tree), ()
    except ValidationError as error:
        details: list[dict[str, Any]] = [dict(detail) for detail in error.errors(include_url=False)]
        # Suggestions for thousands of misspelt keys take long and help nobody.
        nearest = sorted(details, key=lambda detail: _place(detail, places, tree))[: MOST_FAULTS + 1]
        meant = set(_meant(nearest, kind, tree))
        return None, tuple(
            _problem(detail, places, kind, tree)
            for detail in nearest
            if not _echo(detail, details)
            and not (detail["type"] == "missing" and _in_file(tuple(detail["loc"]), tree) in meant)
        )


def _meant(details: list[dict[str, Any]], kind: type[Record], tree: Tree) -> Iterator[Path]:
    """Where the keys belong that misspelt ones are taken for: if one is missing there, that is no second fault."""
    for detail in details:
        path = _in_file(tuple(detail["loc"]), tree)
        if detail["type"] == "extra_forbidden" and not written_instead(_kind_at(kind, path[:-1]), str(path[-1])):
            yield (*path[:-1], closest(str(path[-1]), sorted(_keys_at(kind, path[:-1]))) or "")


def _place(detail: dict[str, Any], places: Places, tree: Tree) -> Location:
    path = _in_file(tuple(detail["loc"]), tree)
    about = getattr(detail.get("ctx", {}).get("error"), "key", None)
    if detail["type"] == "extra_forbidden":
        return places.key(*path)
    return places.at(*path, about) if about else places.at(*path)


def _echo(detail: dict[str, Any], details: list[dict[str, Any]]) -> bool:
    """Pydantic calls a list too short when its items have faults; those are told already."""
    begin = tuple(detail["loc"])
    return detail["type"] == "too_short" and any(
        len(other["loc"]) > len(begin) and tuple(other["loc"][: len(begin)]) == begin for other in details
    )


def _problem(detail: dict[str, Any], places: Places, kind: type[Record], tree: Tree) -> Problem:
    # Pydantic names the tagged parts of a type in the path; the file has only keys and numbers.
    path = _in_file(tuple(detail["loc"]), tree)
    error_type = str(detail["type"])
    message = _message(error_type, detail)
    advice = written_instead(_kind_at(kind, path[:-1]), str(path[-1])) if path else ""
    if advice and (error_type == "extra_forbidden" or isinstance(detail["input"], list)):
        message = f"key '{path[-1]}' is of an earlier form of these files ({advice})"
    elif error_type == "extra_forbidden":
        message = _unknown_key(path, kind)
    elif error_type == "missing":
        key = path[-1]
        # Only a table has a place for what is not there.
        empty = f"the cell '{key}' is empty (fill it in)"
        message = empty if path in places.values else f"key '{key}' is missing (add {key}: {_wanted(path, kind)})"
    return Problem(_place(detail, places, tree), message)


def _in_file(loc: Path, tree: Tree) -> Path:
    path: list[str | int] = []
    inside: Any = tree
    for step in loc:
        in_mapping = isinstance(inside, dict) and step in inside
        in_list = isinstance(inside, list) and isinstance(step, int) and step < len(inside)
        if in_mapping or in_list:
            inside = inside[step]
        elif step is not loc[-1]:
            continue
        path.append(step)
    return tuple(path)


def _unknown_key(path: Path, kind: type[Record]) -> str:
    known = sorted(_keys_at(kind, path[:-1]))
    word = str(path[-1])
    guess = closest(word, known)
    hint = f"did you mean '{guess}'?" if guess else "the keys here are " + ", ".join(known)
    if not guess and word in kind.by_key() and "id" in kind.by_key():
        hint = f"write {word}: beside id:, at the top of the file"
    return f"unknown key '{word}' ({hint})"


def _wanted(path: Path, kind: type[Record]) -> str:
    """What to write for a key that is missing: one of its words, where it has some."""
    field = _fields_at(kind, path[:-1]).get(str(path[-1]))
    choices = get_args(field.annotation) if field and get_origin(field.annotation) is Literal else ()
    return f"to this record, with one of: {', '.join(choices)}" if choices else "to this record"


def _keys_at(kind: type[Record], path: Path) -> list[str]:
    return list(_fields_at(kind, path))


def _fields_at(kind: type[Record], path: Path) -> dict[str, FieldInfo]:
    inner = _kind_at(kind, path)
    return inner.by_key() if inner else {}


def _kind_at(kind: type[Record], path: Path) -> type[Record] | None:
    """The kind of record at a path of keys and places in lists; None where there is none."""
    for step in path:
        if isinstance(step, int):
            continue
        field = kind.by_key().get(str(step))
        inner = record_in(field.annotation) if field else None
        if inner is None:
            return None
        kind = inner
    return kind


#: Pydantic's error types in plain words. Whatever is not here falls back to a general sentence, never to a traceback.
_WORDS = {
    "string_type": "a single value is needed here (write one value, not a list or keys)",
    "is_instance_of": "a single value is needed here (write one value, not a list or keys)",
    "tuple_type": "a list is needed here (begin each item on its own line with a hyphen)",
    "dict_type": "keys are needed here (write key: value lines, indented)",
    "model_type": "keys are needed here (write key: value lines, indented)",
    "bool_type": "yes or no is needed here (write yes or no)",
    "bool_parsing": "yes or no is needed here (write yes or no)",
    "int_type": "a whole number is needed here (write digits)",
    "too_short": "the list is empty (write at least one item)",
}


def _message(error_type: str, detail: dict[str, Any]) -> str:
    if error_type == "value_error":
        return str(detail["ctx"]["error"])
    if error_type == "literal_error":
        if not isinstance(detail["input"], str):
            return _WORDS["string_type"]
        return _choice(str(detail["input"]), str(detail["ctx"]["expected"]))
    if error_type == "string_pattern_mismatch":
        return (
            f"'{detail['input']}' has the wrong shape ({_SHAPES.get(detail['ctx']['pattern'], 'check the spelling')})"
        )
    if error_type in {"too_short", "too_long"} and detail["ctx"]["actual_length"]:
        if error_type == "too_long" and detail["ctx"]["max_length"] == MOST_LINES:
            return (
                f"{detail['ctx']['actual_length']} in the list, which may have {MOST_LINES} (leave out what is no part)"
            )
        count = detail["ctx"].get("min_length") or detail["ctx"]["max_length"]
        return f"{detail['ctx']['actual_length']} in the list where {count} are needed (write {count})"
    return _WORDS.get(error_type, f"the value does not fit here ({detail['msg']})")


_SHAPES = {
    r"^[A-Z]{3}$": "write a currency code of three capitals, as EUR",
    r"^\d{2,7}-\d{2}-\d$": "write a CAS number, as 7757-83-7",
    r"^[a-z]{2}(_[A-Z]{2})?$": "write a locale, as en_GB",
    r"^H\d{3}[A-Za-z]{0,2}$": "write the code of a hazard statement, as H319",
    r"^EUH\d{3}$": "write the code of a supplemental statement, as EUH031",
    r"^(H\d{3}[A-Za-z]{0,2}|EUH\d{3}|P\d{3}(\+P\d{3})*)$": "write a statement's code, as H319 or P280",
    r"^https?://[A-Za-z0-9./_~%-]+$": "write a web address, as https://example.org/waste",
}


def _choice(word: str, expected: str) -> str:
    choices = re.findall(r"'([^']*)'", expected)
    first = [choice for choice in choices if choice.split()[0] == word.lower().removesuffix("s")]
    guess = first[0] if len(first) == 1 else closest(word, choices)
    hint = f"did you mean '{guess}'?" if guess else "write one of: " + ", ".join(choices)
    return f"'{word}' is not a choice here ({hint})"
