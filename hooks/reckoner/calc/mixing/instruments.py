"""Which balance or cylinder holds an amount, and the figure rounded once to its step."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from reckoner.records.settings import Balance, Cylinder, Settings
from reckoner.rounding import round_half_up, up

Tool = Balance | Cylinder


@dataclass(frozen=True)
class Measured:
    """An amount as it is weighed or measured.

    Attributes:
        rounded: to the instrument's step, half up, but for what the other parts of a dilution leave; may be zero where
            the amount is below half a step.
        unit: g or mL.
        instrument: name from the settings.
        step: of the instrument, in the same unit.
        error: the instrument's accuracy, else one whole step.
        portions: how many times it must be filled.
    """

    rounded: Decimal
    unit: str
    instrument: str
    step: Decimal
    error: Decimal
    portions: int


def measure(exact: Decimal, unit: str, settings: Settings) -> Measured:
    """Choose the finest instrument that holds the amount in one go, else the largest, filled several times."""
    tool = _choose(exact, tools_for(unit, settings))
    step = tool.step.base
    portions = max(1, up(exact / holds(tool)))
    return Measured(round_half_up(exact, step), unit, tool.name, step, stated_error(tool) * portions, portions)


def tools_for(unit: str, settings: Settings) -> tuple[Tool, ...]:
    """Balances for g, cylinders for mL, the finest first."""
    tools: tuple[Tool, ...] = settings.balances if unit == "g" else settings.cylinders
    return tuple(sorted(tools, key=lambda tool: (tool.step.base, tool.capacity.base, tool.name)))


def stated_error(tool: Tool) -> Decimal:
    """The error of one filling: the maker's accuracy, else a whole step."""
    return tool.accuracy.base if isinstance(tool, Balance) and tool.accuracy else tool.step.base


def _choose(exact: Decimal, tools: tuple[Tool, ...]) -> Tool:
    return next((tool for tool in tools if holds(tool) >= exact), None) or max(tools, key=holds)


def holds(tool: Tool) -> Decimal:
    """What goes on it besides the cup."""
    vessel = tool.vessel.base if isinstance(tool, Balance) and tool.vessel else Decimal(0)
    return tool.capacity.base - vessel
