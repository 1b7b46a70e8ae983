"""Acute toxicity as recorded: the ways into a body, figures with their units, and the categories they fall in.

Tables 3.1.1 and 3.1.2 of Annex I to Regulation (EC) No 1272/2008, read as reprinted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BeforeValidator, InstanceOf, WithJsonSchema, model_validator

from reckoner.problems import ValueFault
from reckoner.records.values import Record, Text
from reckoner.units import parse_number

#: What is breathed is a gas, a vapour, or dust or mist; each has bounds of its own.
Inhaled = Literal["gas", "vapour", "dust or mist"]
Route = Literal["oral", "dermal", "gas", "vapour", "dust or mist"]
INHALED: tuple[Inhaled, ...] = ("gas", "vapour", "dust or mist")

DoseUnit = Literal["mg/kg", "mg/L", "ppmV"]
UNIT: dict[Route, DoseUnit] = {
    "oral": "mg/kg",
    "dermal": "mg/kg",
    "gas": "ppmV",
    "vapour": "mg/L",
    "dust or mist": "mg/L",
}
#: Table 3.1.1: upper ends of categories 1 to 4.
BOUNDS: dict[Route, tuple[Decimal, ...]] = {
    "oral": tuple(Decimal(b) for b in ("5", "50", "300", "2000")),
    "dermal": tuple(Decimal(b) for b in ("50", "200", "1000", "2000")),
    "gas": tuple(Decimal(b) for b in ("100", "500", "2500", "20000")),
    "vapour": tuple(Decimal(b) for b in ("0.5", "2", "10", "20")),
    "dust or mist": tuple(Decimal(b) for b in ("0.05", "0.5", "1", "5")),
}
#: Table 3.1.2: the point estimate that stands for a category.
ESTIMATES: dict[Route, tuple[Decimal, ...]] = {
    "oral": tuple(Decimal(e) for e in ("0.5", "5", "100", "500")),
    "dermal": tuple(Decimal(e) for e in ("5", "50", "300", "1100")),
    "gas": tuple(Decimal(e) for e in ("10", "100", "700", "4500")),
    "vapour": tuple(Decimal(e) for e in ("0.05", "0.5", "3", "11")),
    "dust or mist": tuple(Decimal(e) for e in ("0.005", "0.05", "0.5", "1.5")),
}
_BREATHED = ("H330", "H330", "H331", "H332")
STATEMENTS: dict[Route, tuple[str, ...]] = {
    "oral": ("H300", "H300", "H301", "H302"),
    "dermal": ("H310", "H310", "H311", "H312"),
    "gas": _BREATHED,
    "vapour": _BREATHED,
    "dust or mist": _BREATHED,
}


def category_of(route: Route, value: Decimal) -> int | None:
    """The category of a figure, 1 to 4; None above them all."""
    return next((number for number, bound in enumerate(BOUNDS[route], 1) if value <= bound), None)


@dataclass(frozen=True)
class Dose:
    """A figure with its unit: ``mg/kg`` body weight, ``mg/L`` of air, ``ppmV``."""

    number: Decimal
    unit: str


def parse_dose(text: str) -> Dose:
    """Read ``300 mg/kg``, ``1.5 mg/L`` or ``100 ppmV``."""
    match = re.match(r"(\S+)\s*(mg/kg|mg/L|ppmV)\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no figure of acute toxicity (write it as 300 mg/kg, 1.5 mg/L or 100 ppmV)")
    number = parse_number(match[1])
    if number == 0:
        raise ValueFault(f"'{text}' is zero (write a figure above zero)")
    return Dose(number, match[2])


def _dose(value: object) -> object:
    return parse_dose(value.strip()) if isinstance(value, str) else value


class AcuteValue(Record):
    """An acute toxicity estimate of Annex VI or a measured lethal dose or concentration.

    Attributes:
        way: by mouth (oral), through the skin (dermal), or breathed as gas, vapour, dust or mist.
        value: in mg/kg by mouth and through the skin, in ppmV of a gas, else in mg/L, for four hours.
    """

    way: Route
    value: Annotated[
        InstanceOf[Dose], BeforeValidator(_dose), WithJsonSchema({"type": "string", "examples": ["300 mg/kg"]})
    ]
    kind: Literal["harmonised ATE", "LD50", "LC50"]
    source: Text

    @model_validator(mode="after")
    def _unit_of_its_route(self) -> AcuteValue:
        if self.value.unit != UNIT[self.way]:
            raise ValueFault(
                f"{self.value.unit} is no unit of '{self.way}' (write the figure in {UNIT[self.way]})", "value"
            )
        return self
