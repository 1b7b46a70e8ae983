"""Dated remarks of the owner's own."""

from __future__ import annotations

from reckoner.records.values import Day, Flag, Record, Text


class DatedNote(Record):
    """What happened on a day: "used decahydrate, pH 10.1". Private unless it says ``public: yes``.

    Attributes:
        day: on which it happened.
        text: what happened.
        public: others may read it.
    """

    day: Day
    text: Text
    public: Flag = False

    @property
    def owners_only(self) -> bool:
        """Private unless marked."""
        return not self.public
