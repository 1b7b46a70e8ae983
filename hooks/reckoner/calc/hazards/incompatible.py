"""What must not meet inside a formula, between neighbouring baths, and on a shelf or in a waste jar."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from reckoner.records.incompatibility import EVERYWHERE, Incompatibilities, Pair, State, SubstanceGroup
from reckoner.records.process import Process

#: States in which a mixed bath meets other things; what jars alone do stands with their chemicals.
OF_A_BATH: frozenset[State] = frozenset({"in a bath", "in waste"})


@dataclass(frozen=True)
class Meeting:
    """A pair that can meet, with the chemicals on each side (ids, or names from outside the catalogue).

    Attributes:
        purpose: of the one bath that holds both; empty where they come from two.
    """

    pair: Pair
    left: tuple[str, ...]
    right: tuple[str, ...]
    purpose: str = ""

    @property
    def by_design(self) -> str:
        """Why a bath of this purpose holds both; empty where that is not meant."""
        design = self.pair.by_design
        return design.why if design and self.purpose in design.purposes else ""

    @property
    def danger(self) -> bool:
        """Whether the two must never meet here."""
        return self.pair.severity == "danger" and not self.by_design


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
        return any(meeting.danger for meeting in self.meetings)


def meetings(
    left: Iterable[str], right: Iterable[str], table: Incompatibilities, purpose: str = ""
) -> tuple[Meeting, ...]:
    """The pairs of which one side is among ``left`` and the other among ``right``, as they meet in a bath.

    What stands in both groups of a pair does not meet itself. ``purpose`` is that of the one bath that holds all.
    """
    ours, theirs = _held(left, table), _held(right, table)
    met = []
    for pair in table.pairs:
        if "in a bath" not in pair.states:
            continue
        for a, b in (pair.groups, pair.groups[::-1]):
            if a in ours and b in theirs and len({*ours[a], *theirs[b]}) > 1:
                met.append(Meeting(pair, ours[a], theirs[b], purpose))
                break
    return tuple(met)


def _held(chemicals: Iterable[str], table: Incompatibilities) -> dict[str, tuple[str, ...]]:
    """The groups that some chemicals stand in, by id, with those chemicals sorted."""
    held: dict[str, tuple[str, ...]] = {}
    for chemical in sorted(set(chemicals)):
        for group in table.groups_of(chemical):
            held[group] = (*held.get(group, ()), chemical)
    return held


def keep_away(
    chemicals: Iterable[str], table: Incompatibilities, states: Iterable[State] = EVERYWHERE
) -> tuple[Meeting, ...]:
    """Everything that a jar or a bath of these chemicals must be kept away from, the dangerous first."""
    held, where = _held(chemicals, table), set(states)
    kept_away = [
        Meeting(pair, held[mine], (table.group(theirs).name,))
        for pair in table.pairs
        for mine, theirs in dict.fromkeys((pair.groups, pair.groups[::-1]))
        if mine in held and not where.isdisjoint(pair.states)
    ]
    return tuple(sorted(kept_away, key=lambda m: (m.pair.severity != "danger", m.right, m.left)))


def never_with(
    chemicals: Iterable[str], table: Incompatibilities, states: Iterable[State] = OF_A_BATH
) -> tuple[SubstanceGroup, ...]:
    """The groups that a bath or a jar must never meet, in the table's order.

    A group that another of them holds whole is left out.
    """
    ours, where = _held(chemicals, table), set(states)
    partners = {
        theirs: table.group(theirs)
        for pair in table.pairs
        if pair.severity == "danger" and not where.isdisjoint(pair.states)
        for mine, theirs in (pair.groups, pair.groups[::-1])
        if mine in ours
    }
    held = {name: {*group.chemicals, *group.also} for name, group in partners.items()}
    wider = {name: [other for other in held if held[name] < held[other]] for name in held}
    return tuple(group for group in table.groups if group.id in partners and not wider[group.id])


def apart_from(
    groups: Iterable[SubstanceGroup], together: Iterable[str]
) -> tuple[tuple[SubstanceGroup, ...], tuple[SubstanceGroup, ...]]:
    """Groups that a bath never meets, and those of which it meets some by design: it holds or is joined with them.

    Args:
        together: chemicals of the bath, and of what its own step joins it with.
    """
    met, all_groups = set(together), tuple(groups)
    designed = tuple(group for group in all_groups if met & set(group.chemicals))
    return tuple(group for group in all_groups if group not in designed), designed


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
