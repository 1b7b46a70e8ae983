"""What an owner changes of a record of the library: the keys that differ, why, and how sure that is."""

from __future__ import annotations

from typing import Any

from reckoner.records.source import Source
from reckoner.records.values import Flag, Id, Record, Text

#: What decides weights and steps: where these change, the owner's word stands for the record, not the library's.
WORK = frozenset({"ingredients", "dilution", "of", "makes", "start_water", "make_up_with", "steps"})


#: Of a file that says nothing which the library does not say too.
IN_LIBRARY = "all of this stands in the library, word for word"


class OwnChange(Record):
    """Single keys in place of those of the library's record with the same id.

    Attributes:
        id: of the record of the library.
        changes: keys as in a whole record; each takes the place of the library's, the rest stays.
        leaves_out: keys whose list is meant to have less in it than the library's.
        milder_because: needed where a chemical's hazards become milder; it stands on the page.
        private: the changed formula or process is the owner's alone; others are given the library's.
        source: where the change is from, and the day it was last looked at.
    """

    id: Id
    changes: dict[str, Any]
    leaves_out: tuple[Text, ...] = ()
    milder_because: Text | None = None
    private: Flag = False
    source: Source
