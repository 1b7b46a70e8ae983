"""Which library this is."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from reckoner.records.values import Day, Record, Text


class Library(Record):
    """The version of the library, which is that of the package it comes in.

    Attributes:
        version: three numbers; the first rises where an owner has to change a file, the second where records change.
        date: day on which this version was made.
    """

    version: Annotated[Text, Field(pattern=r"^[0-9]+\.[0-9]+\.[0-9]+$")]
    date: Day
