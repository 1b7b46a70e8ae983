"""What must not meet inside a formula, between neighbouring baths, and on a shelf or in a waste jar."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from reckoner.records.incompatibility import Incompatibilities, Pair
from reckoner.records.process import Process


@dataclass(frozen=True)
class Meeting:
    """A pair that can meet, with the chemicals on each side (ids, or names from outside the catalogue)."""

    pair: Pair
    left: tuple[str, ...]
    right: tuple[str, ...]


@dataclass(frozen=True)
class Neighbours:
    """Two baths that follow one another without a wash."""

    first_step: int
    first: str
    second: str
    meetings: tuple[Meeting, ...]

    @property
    def danger(self) -> bool:
        """Whether one of the meetings is never allowed."""
        return any(meeting.pair.severity == "danger" for meeting in self.meetings)


def meetings(left: Iterable[str], right: Iterable[str], table: Incompatibilities) -> tuple[Meeting, ...]:
    """The pairs of which one side is among ``left`` and the other among ``right``.

    What stands in both groups of a pair does not meet itself.
    """
    ours, theirs = set(left), set(right)
    found = []
    for pair in table.pairs:
        one, other = (set(table.group(name).chemicals) for name in pair.groups)
        for a, b in ((one, other), (other, one)):
            if ours & a and theirs & b and len((ours & a) | (theirs & b)) > 1:
                found.append(Meeting(pair, tuple(sorted(ours & a)), tuple(sorted(theirs & b))))
                break
    return tuple(found)


def keep_away(chemicals: Iterable[str], table: Incompatibilities) -> tuple[Meeting, ...]:
    """Everything that a bath of these chemicals must be kept away from, the dangerous first."""
    ours = set(chemicals)
    found = []
    for pair in table.pairs:
        for mine, theirs in (pair.groups, pair.groups[::-1]):
            here = ours & set(table.group(mine).chemicals)
            if here:
                other = table.group(theirs)
                found.append(Meeting(pair, tuple(sorted(here)), (other.name,)))
    return tuple(sorted(found, key=lambda m: (m.pair.severity != "danger", m.right, m.left)))


def neighbours(
    process: Process, chemicals_of: Mapping[str, frozenset[str]], table: Incompatibilities
) -> Iterator[Neighbours]:
    """Neighbouring baths without a wash between them whose chemicals must not meet.

    A wash that is optional or for some film only does not count: it may be left out.
    """
    steps = list(enumerate(process.steps))
    for index, step in steps:
        following = next(((i, s) for i, s in steps[index + 1 :] if s.kind == "bath" or s.keeps_apart), None)
        if step.kind != "bath" or following is None or following[1].kind != "bath":
            continue
        for first in step.baths:
            for second in following[1].baths:
                met = meetings(chemicals_of[first.formula], chemicals_of[second.formula], table)
                if met:
                    yield Neighbours(index, first.formula, second.formula, met)
