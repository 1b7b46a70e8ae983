"""Kit or own summed up: what each way costs over a plan, and which is cheapest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from reckoner.calc.kit_or_own import Comparison
from reckoner.calc.sides import Run
from reckoner.pages.basket_view import Say
from reckoner.pages.kit_pictures import MIXING
from reckoner.pages.parts import Shower


@dataclass(frozen=True)
class TotalLine:
    """What one way costs over the plan."""

    name: str
    paid: str
    each: str
    facts: tuple[str, ...]


def short_labels(found: Comparison) -> list[str]:
    """Short names for the columns: Kit, Lab; numbered where two are of one kind."""
    kinds = Counter(one.kit.kind for one in found.alternatives)
    seen: Counter[str] = Counter()
    labels = []
    for one in found.alternatives:
        seen[one.kit.kind] += 1
        number = f" {seen[one.kit.kind]}" if kinds[one.kit.kind] > 1 else ""
        labels.append(one.kit.kind.capitalize() + number)
    return labels


def _plans(found: Comparison, labels: list[str]) -> list[tuple[str, int, Run]]:
    """Name, rolls in a session and what happened over the plan, of each way."""
    ways: list[tuple[str, int, Run | None]] = []
    if found.own is not None:
        ways.append((MIXING, found.own.session, found.own.plan))
    ways += [(label, one.session, one.plan) for label, one in zip(labels, found.alternatives, strict=True)]
    return [(name, session, run) for name, session, run in ways if run is not None]


def cheapest(found: Comparison, labels: list[str], shower: Shower) -> str:
    """The cheapest way over the plan, and by how much; empty where there is only one."""
    ways = _plans(found, labels)
    if len(ways) < 2:
        return ""
    (name, _, best), (_, _, second) = sorted(ways, key=lambda way: (way[2].spent()[-1], way[0]))[:2]
    say = Say(shower)
    less = say.exact(second.spent()[-1] - best.spent()[-1])
    way = name if name == MIXING else f"The {name.lower()}"
    return f"{way} is cheapest for this plan: {say.exact(best.spent()[-1])}, {less} less than the next."


def totals(found: Comparison, labels: list[str], shower: Shower) -> Iterable[TotalLine]:
    """What each way costs over the plan, and what of it is lost."""
    say = Say(shower)
    for name, session, run in _plans(found, labels):
        paid, parts = run.spent()[-1], run.parts()
        facts = [f"sessions of {session}"] if run.mixed and session > 1 and found.question.rolls else []
        thrown, mixed = sum(run.thrown.values()), sum(run.mixed.values())
        if thrown:
            facts.append(f"{thrown} of {mixed} batches poured away unfinished, worth {say.exact(parts.poured)}")
        elif mixed:
            facts.append("nothing poured away unfinished")
        if parts.left:
            end = "left in packs, with nothing to come" if found.question.ends else "still good in packs at the end"
            facts.append(f"{end}, and not taken off: {say.exact(parts.left)}")
        if parts.dead:
            facts.append(f"dead in packs: {say.exact(parts.dead)}")
        orders = f"{run.orders} {'order' if mixed else 'parcel'}{'' if run.orders == 1 else 's'}"
        facts.append(f"delivery of {orders}: {say.exact(parts.delivery)}")
        if run.small_orders:
            facts.append(f"{run.small_orders} of them below what the supplier sends: buy ahead")
        each = say.exact(paid / found.question.rolls) if found.question.rolls else ""
        yield TotalLine(name, say.exact(paid), each, tuple(facts))
