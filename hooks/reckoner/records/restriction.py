"""What the law of a place allows: who may buy a chemical, and how it travels."""

from __future__ import annotations

from typing import Literal

from reckoner.records.source import Source
from reckoner.records.values import AirLimit, Id, Record, Text

RestrictionKind = Literal[
    "not for private persons", "licence", "authorisation", "sales are reported", "limited use", "transport"
]


class Restriction(Record):
    """One restriction on buying, using or sending a chemical.

    Attributes:
        where: country or union whose law it is, as the settings name it.
        forms: ids of the forms it speaks of; all where there is none.
        source: with the day on which the law was looked at; restrictions age as hazard records do.
    """

    where: Text
    kind: RestrictionKind
    forms: tuple[Id, ...] = ()
    text: Text
    source: Source


class ExposureLimit(Record):
    """An occupational limit of what the air may hold, as some country sets it.

    Attributes:
        over: the time it is averaged over.
        of: the part that counts, such as inhalable dust or thoracic mist.
    """

    where: Text
    over: Literal["8 hours", "15 minutes"]
    limit: AirLimit
    of: Text | None = None
    source: Source
