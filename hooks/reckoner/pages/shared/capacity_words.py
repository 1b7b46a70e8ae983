"""How much film a litre does, in words, with the condition beside each figure."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from reckoner.calc.film.bottles import BottleState
from reckoner.calc.film.capacity import Doing, doing
from reckoner.pages.shared.parts import PageWriter
from reckoner.rounding import significant


def capacity_lines(baths: Iterable[str], writer: PageWriter) -> tuple[str, ...]:
    """A line for each bath whose figures hold on a condition, or are a span; formula ids in, as many or fewer lines."""
    formulas = writer.results.catalogue.formulas
    capacities = ((writer.formula(i).text, doing(formulas[i])) for i in baths)
    return tuple(
        f"{name}: {span(does, writer)}" for name, does in capacities if does and (_conditional(does) or _spans(does))
    )


def least(does: Doing, writer: PageWriter) -> str:
    """The cautious figure, which plans count on: 4 rolls a litre (without replenishment)."""
    return f"{_rolls(does.cautious, writer)} a litre{_how(does.cautious_how)}"


def span(does: Doing, writer: PageWriter) -> str:
    """Both figures; once where they are the same in number and condition."""
    if not _spans(does) and does.cautious_how == does.generous_how:
        return least(does, writer)
    if does.cautious_how == does.generous_how:
        number = writer.show.number(significant(does.cautious, 3))
        return f"{number} to {_rolls(does.generous, writer)} a litre{_how(does.cautious_how)}"
    return f"at least {least(does, writer)}, at most {_rolls(does.generous, writer)}{_how(does.generous_how)}"


def _conditional(does: Doing) -> bool:
    return bool(does.cautious_how or does.generous_how)


def _spans(does: Doing) -> bool:
    return does.cautious != does.generous


def _rolls(rolls: Decimal, writer: PageWriter) -> str:
    return writer.show.exactish(rolls, "roll" if rolls == 1 else "rolls")


def _how(how: str) -> str:
    return f" ({how.rstrip('.')})" if how else ""


def figures_words(state: BottleState, writer: PageWriter) -> str:
    """Film through a bottle: rolls, loads, the bottle's volume, rolls a litre; empty where there was none."""
    if not state.rolls:
        return ""
    loads = "1 load" if state.loads == 1 else f"{state.loads} loads"
    volume = writer.show.amount(state.bottle.volume)
    return f"{rolls_words(state.rolls, writer)} in {loads} through {volume}, {rolls_words(state.litre, writer)} a litre"


def rolls_words(rolls: Decimal, writer: PageWriter) -> str:
    """Rolls to three figures, in the singular where there is one."""
    return f"{writer.show.number(significant(rolls, 3))} {'roll' if rolls == 1 else 'rolls'}"
