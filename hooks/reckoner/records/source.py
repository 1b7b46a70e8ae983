"""Where a value is from and how sure it is: on every record, and on a value that differs from its record."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from reckoner.problems import ValueFault
from reckoner.records.values import Day, Record, Text

#: published: the text of the named publication was read. from memory: the publication is named, its text was not at
#: hand. common practice: no single source. own practice: worked out and used by whoever wrote it. computed: from
#: definitions or molar masses. invented: demo data.
Certainty = Literal["published", "from memory", "common practice", "own practice", "computed", "invented"]


class Source(Record):
    """Provenance of a record.

    Attributes:
        certainty: how sure the values are.
        citation: the publication by title and number; needed where it is published or from memory.
        checked: day on which the values were last compared with the source.
        note: what is uncertain or differs.
    """

    certainty: Certainty
    citation: Text | None = None
    checked: Day
    note: Text | None = None

    @model_validator(mode="after")
    def _named(self) -> Source:
        if self.certainty in {"published", "from memory"} and not self.citation:
            raise ValueFault(f"certainty '{self.certainty}' needs a citation (name the publication's title and number)")
        return self
