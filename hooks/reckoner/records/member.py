"""A member of a club, who keeps formulas of their own in its handbook."""

from __future__ import annotations

from reckoner.records.values import Flag, Record, Text


class Member(Record):
    """Whose a folder below ``members/`` is.

    Attributes:
        name: as the pages of the member's formulas say it.
        private: all that is in the folder is left out of what others are given.
    """

    name: Text
    private: Flag = False
