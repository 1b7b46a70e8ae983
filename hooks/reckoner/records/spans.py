"""One value or a span of values with a unit: times, keeping times, temperatures, pH, capacities."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from reckoner.problems import ValueFault
from reckoner.units import ABSURD, parse_number

DURATIONS = ("minutes", "hours", "days", "weeks", "months", "years")
TEMPERATURES = ("°C", "°F")
#: The boiling point of water in °F; nothing is made or used hotter.
HOTTEST = 212
CAPACITY_UNITS = ("rolls", "sheets_8x10", "m2", "sq_in")


@dataclass(frozen=True)
class Range:
    """One value or a span of values with its unit as written: ``6-8 weeks``, ``21-38 °C``, ``3:00``.

    Times in ``m:ss`` have the unit ``min:sec`` and are held in seconds.
    """

    low: Decimal
    high: Decimal
    unit: str

    @property
    def single(self) -> bool:
        """True where low and high are the same value."""
        return self.low == self.high


def _range(text: str, units: tuple[str, ...], example: str) -> Range:
    match = re.match(r"(?P<low>[\d.,]+)(?:\s*-\s*(?P<high>[\d.,]+))?\s*(?P<unit>\D\S*)?\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no value or range (write it as {example})")
    low = parse_number(match["low"])
    high = parse_number(match["high"]) if match["high"] else low
    unit = match["unit"] or ""
    if unit not in units:
        singular = unit + "s"
        hint = singular if singular in units else " or ".join(u or "no unit" for u in units)
        if not (singular in units and low == high == 1):
            written = f"the unit '{unit}'" if unit else "no unit"
            raise ValueFault(f"'{text}' has {written} (write {hint}, as {example})")
        unit = singular
    if high < low:
        raise ValueFault(f"'{text}' runs backwards (write the smaller value first)")
    return Range(low, high, unit)


def parse_clock(text: str) -> Range:
    """Read minutes and seconds, ``3:15`` or ``0:30-1:00``; held in seconds."""
    ends = []
    for piece in text.split("-"):
        match = re.fullmatch(r"(\d{1,3}):([0-5]\d)", piece.strip())
        loose = re.fullmatch(
            r"(\d{1,3})\s*(?:m|min|mins|minutes?|')(?:\s*([0-5]?\d)\s*(?:s|sec|secs|seconds?|\"|''))?", text
        )
        if loose:
            raise ValueFault(f"'{text}' is no time as it is written here (write {loose[1]}:{int(loose[2] or 0):02d})")
        if not match:
            raise ValueFault(f"'{text}' is no time (write minutes and seconds, as 3:15 or 0:30-1:00)")
        ends.append(Decimal(int(match[1]) * 60 + int(match[2])))
    if len(ends) > 2 or ends[0] > ends[-1]:
        raise ValueFault(f"'{text}' is no span of time (write the shorter time first, as 0:30-1:00)")
    return Range(ends[0], ends[-1], "min:sec")


def parse_duration(text: str) -> Range:
    """Read a keeping time: ``6 months``, ``2-4 weeks``."""
    span = _range(text, DURATIONS, "6 months or 2-4 weeks")
    if span.high == 0 or span.high > 1000:
        raise ValueFault(f"'{text}' is zero or beyond all use (write it as 6 months or 2-4 weeks)")
    return span


def parse_temperature(text: str) -> Range:
    """Read ``38 °C``, ``80 °F`` or a span of them."""
    plain = re.fullmatch(r"([\d.]+(?:\s*-\s*[\d.]+)?)\s*(?:º|deg\.?|degrees?)?\s*([CcFf])", text)
    if plain:
        raise ValueFault(f"'{text}' is no temperature as it is written here (write {plain[1]} °{plain[2].upper()})")
    span = _range(text, TEMPERATURES, "38 °C or 21-38 °C")
    if span.high > HOTTEST:
        raise ValueFault(f"'{text}' is hotter than any bath (check the number)")
    return span


def parse_ph(text: str) -> Range:
    """Read a pH or a span of pH."""
    value = _range(text, ("",), "8.6 or 8.5-8.7")
    if value.high > 14:
        raise ValueFault(f"'{text}' is no pH (write a value from 0 to 14)")
    return value


def parse_capacity(text: str) -> Range:
    """Read ``4-10 rolls``, ``30 sheets_8x10``, ``1.5 m2``."""
    span = _range(text, CAPACITY_UNITS, "4-10 rolls")
    if span.high == 0 or span.high > ABSURD:
        raise ValueFault(f"'{text}' is zero or beyond all use (check the number)")
    if span.low == 0:
        raise ValueFault(f"'{text}' begins at nothing (write the least that it does, as 4-10 rolls)")
    return span
