"""What the YAML parser complains of, in words that tell an author what to mend, at the place to mend."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from reckoner.problems import Location, Problem

#: Deeper nesting than any record has; keeps hostile files from exhausting the stack.
MAX_DEPTH = 20
#: Pattern in the parser's complaint -> (whether the fault stands where the thing began, what to say). The parser in C
#: and the one in Python word a few complaints differently; both are matched. The first that fits is taken.
_COMPLAINTS: tuple[tuple[str, bool, str], ...] = (
    (r"a tab|'\\t'", False, "the line is indented with a tab (indent with spaces)"),
    (r"nesting depth", True, f"nested deeper than {MAX_DEPTH} (write the record flat, as in the examples)"),
    (r"<document start>", False, "a second document begins (keep one record to a file)"),
    (r"end of stream", True, "a quote is never closed (close it; an apostrophe inside single quotes stands twice)"),
    (r"mapping values", False, "a colon cannot stand here (quote a text that holds one, and check how far this line "
     "and the one above are indented)"),
    (r"sequence entries", False, "a list cannot begin here (begin it on a line of its own, below its key)"),
    (r"expected ':'", True, "the line has no colon (write key: value, or indent it as part of the line above)"),
    (r"',' or '\]'", True, "the list is not closed as it should be (add ], and quote a text that holds a colon)"),
    (r"',' or '}'", True, "the braces are not closed as they should be (add }, and quote a text that holds a colon)"),
    (r"cannot start any token", False, "a text cannot begin with this character (put the text in quotes)"),
    (r"escape character|escape code", False, "no such escape in double quotes (use single quotes, or write \\\\)"),
    (r"an alias|an anchor", True, "a text cannot begin with * or & (put the text in quotes)"),
    (r"expected key|'-' indicator|<block end>", False, "the line does not go on from the one above (check how far it "
     "is indented, and quote the whole text where quotes end before it does)"),
)  # fmt: skip


def broken(error: Any, text: str, file: str, quotes: Iterable[tuple[Any, Any]] = ()) -> Problem:
    """One problem from an error of the parser; ``quotes`` are the parser's marks of begin and end of quoted texts."""
    mark = getattr(error, "problem_mark", None)
    if mark is None:
        return Problem(Location(file), "the file is no readable YAML (compare it with another record)")
    lines = text.splitlines()
    complaint = f"{getattr(error, 'context', None) or ''}: {getattr(error, 'problem', None) or 'cannot be read'}"
    if mark.line < len(lines) and re.match(r"\s*\t", lines[mark.line]):
        complaint = "a tab"
    earlier = _quote(quotes, mark, file) or (_first(lines, mark, file) if "<document start>" in complaint else None)
    if earlier is not None:
        return earlier
    for pattern, at_begin, message in _COMPLAINTS:
        if re.search(pattern, complaint):
            begun = getattr(error, "context_mark", None)
            return Problem(_place(begun if at_begin and begun else mark, file), message)
    reason = complaint.partition(": ")[2].replace("\n", " ")
    general = f"broken YAML: {reason} (check indentation, colons and quotes here and in the line above)"
    return Problem(_place(mark, file), general)


def _quote(quotes: Iterable[tuple[Any, Any]], mark: Any, file: str) -> Problem | None:
    """A quote that is left open swallows what follows; the parser stumbles where the next one opens."""
    for begin, end in quotes:
        if begin.index >= mark.index:
            break
        if begin.line < end.line == mark.line:
            message = (
                f"the quote that opens here is closed in line {mark.line + 1}, where more follows (close it where "
            )
            return Problem(
                _place(begin, file), message + "the text ends; an apostrophe inside single quotes stands twice)"
            )
    return None


def _first(lines: list[str], mark: Any, file: str) -> Problem | None:
    """Where no line begins a second document, the first one began something that is whole before the file ends."""
    written = [number for number, line in enumerate(lines) if not re.match(r"\s*(#|---|\Z)", line)]
    before = [number for number in written if number < mark.line]
    if not before or mark.line not in written or lines[before[-1]].startswith("..."):
        return None
    message = (
        f"what begins here is over before line {mark.line + 1} (begin with a key, and let all keys begin as far left)"
    )
    return Problem(Location(file, before[0] + 1), message)


def _place(mark: Any, file: str) -> Location:
    return Location(file, mark.line + 1, mark.column + 1)
