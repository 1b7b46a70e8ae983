"""Which balance or cylinder holds an amount, and the figure rounded once to its step."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from reckoner.records.settings import Balance, Cylinder, Settings
from reckoner.rounding import round_half_up

Tool = Balance | Cylinder


@dataclass(frozen=True)
class Measured:
    """An amount as it is weighed or measured.

    Attributes:
        rounded: to the instrument's step, half up; may be zero where the amount is below half a step.
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
    tools: tuple[Tool, ...] = settings.balances if unit == "g" else settings.cylinders
    tool = _choose(exact, tools)
    step = tool.step.base
    portions = max(1, int((exact / _holds(tool)).to_integral_value(rounding=ROUND_CEILING)))
    stated = tool.accuracy.base if isinstance(tool, Balance) and tool.accuracy else step
    return Measured(round_half_up(exact, step), unit, tool.name, step, stated * portions, portions)


def _choose(exact: Decimal, tools: tuple[Tool, ...]) -> Tool:
    ordered = sorted(tools, key=lambda tool: (tool.step.base, tool.capacity.base, tool.name))
    fitting = [tool for tool in ordered if _holds(tool) >= exact]
    return fitting[0] if fitting else max(ordered, key=_holds)


def _holds(tool: Tool) -> Decimal:
    """What goes on it besides the cup."""
    vessel = tool.vessel.base if isinstance(tool, Balance) and tool.vessel else Decimal(0)
    return tool.capacity.base - vessel
