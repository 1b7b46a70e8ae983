"""Types of single values in the data files: how text becomes a value, and what an editor's schema says of it.

Every scalar arrives as text. A parser either returns the value or raises ``ValueFault`` with what to write instead.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, InstanceOf, WithJsonSchema

from reckoner.money import Money, parse_money
from reckoner.problems import ValueFault
from reckoner.units import Amount, parse_amount, parse_number, parse_published


class Record(BaseModel):
    """What an author writes: frozen, and unknown keys are faults."""

    model_config = ConfigDict(frozen=True, extra="forbid")


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


@dataclass(frozen=True)
class Strength:
    """A stated strength: ``60 % w/w``. ``basis`` is ``w/w``, ``w/v`` or ``v/v``."""

    percent: Decimal
    basis: str


@dataclass(frozen=True)
class Dilution:
    """Parts by volume, water last: ``1+9``, ``1+1+100``; ``1+1`` of two solutions has no water."""

    parts: tuple[Decimal, ...]

    @property
    def total(self) -> Decimal:
        """The sum of all parts."""
        return sum(self.parts, Decimal(0))


_ID = re.compile(r"[a-z0-9]+(?:[.-][a-z0-9]+)*\Z")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
DURATIONS = ("minutes", "hours", "days", "weeks", "months", "years")
TEMPERATURES = ("°C", "°F")
CAPACITY_UNITS = ("rolls", "sheets_8x10", "m2", "sq_in")


def _text(value: object) -> object:
    if not isinstance(value, str):
        return value
    if not value.strip():
        raise ValueFault("the value is empty (write something, or leave the key out)")
    if _CONTROL.search(value):
        raise ValueFault("the text holds a control or direction character (type it again by hand)")
    return " ".join(value.split())


def _parsed(parse: Callable[[str], Any]) -> BeforeValidator:
    """Run ``parse`` on text; leave ready values (in tests) and wrong structure to the type behind it."""

    def run(value: object) -> object:
        return parse(value.strip()) if isinstance(value, str) else value

    return BeforeValidator(run)


def parse_id(text: str) -> str:
    """Read an id: small letters, digits and single hyphens (a point stands in film formats such as 6.5x9)."""
    if _ID.match(text):
        return text
    suggestion = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "a-name-like-this"
    raise ValueFault(f"'{text}' is no id (write small letters, digits and hyphens, as {suggestion})")


def parse_day(text: str) -> date:
    """Read a day in ISO 8601, as 2026-11-25."""
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError
        day = date.fromisoformat(text)
    except ValueError:
        raise ValueFault(f"'{text}' is no day (write year-month-day, as 2026-11-25)") from None
    return day


def parse_flag(text: str) -> bool:
    """Read yes or no (true and false are accepted as an editor may offer them)."""
    if text in {"yes", "true"}:
        return True
    if text in {"no", "false"}:
        return False
    raise ValueFault(f"'{text}' is neither yes nor no (write yes or no)")


def parse_count(text: str) -> int:
    """Read a whole number above zero."""
    if re.fullmatch(r"[1-9]\d{0,6}", text):
        return int(text)
    raise ValueFault(f"'{text}' is no whole number above zero (write digits, as 2)")


def parse_strength(text: str) -> Strength:
    """Read a strength such as ``60 % w/w``."""
    match = re.match(r"(\S+)\s*%\s*(w/w|w/v|v/v)?\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no strength (write it as 60 % w/w)")
    if not match[2]:
        raise ValueFault(f"'{text}' does not say per cent of what (write {match[1]} % w/w, % w/v or % v/v)")
    percent = parse_number(match[1])
    if percent == 0 or (percent > 100 and match[2] != "w/v"):
        raise ValueFault(f"'{text}' lies outside 0 to 100 per cent (check the number)")
    return Strength(percent, match[2])


def parse_tax(text: str) -> Decimal:
    """Read a tax rate: ``20 %``."""
    match = re.match(r"(\S+)\s*%\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no tax rate (write it as 20 %)")
    rate = parse_number(match[1])
    if rate >= 100:
        raise ValueFault(f"'{text}' is no tax rate (write per cent of the price, as 20 %)")
    return rate


def parse_density(text: str) -> Decimal:
    """Read a density in g/mL."""
    match = re.match(r"(\S+)\s+g/mL\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no density (write it as 1.33 g/mL)")
    density = parse_number(match[1])
    if not Decimal("0.5") <= density <= Decimal(5):
        raise ValueFault(f"'{text}' is no density of a liquid or solid in the darkroom (check the number)")
    return density


def parse_dilution(text: str) -> Dilution:
    """Read ``1+9`` or ``1+1+100``.

    >>> parse_dilution("1+9").total
    Decimal('10')
    """
    if re.fullmatch(r"\d+:\d+", text):
        one, other = text.split(":")
        raise ValueFault(f"'{text}' can mean two things (write {one}+{other} for {one} part and {other} of water)")
    pieces = text.split("+")
    if len(pieces) < 2:
        raise ValueFault(f"'{text}' is no dilution (write parts with a plus, as 1+9)")
    parts = tuple(parse_number(piece.strip()) for piece in pieces)
    if any(part == 0 for part in parts):
        raise ValueFault(f"'{text}' has a part of zero (leave that part out)")
    return Dilution(parts)


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
            raise ValueFault(f"'{text}' has the unit '{unit}' (write {hint}, as {example})")
        unit = singular
    if high < low:
        raise ValueFault(f"'{text}' runs backwards (write the smaller value first)")
    return Range(low, high, unit)


def parse_clock(text: str) -> Range:
    """Read minutes and seconds, ``3:15`` or ``0:30-1:00``; held in seconds."""
    ends = []
    for piece in text.split("-"):
        match = re.fullmatch(r"(\d{1,3}):([0-5]\d)", piece.strip())
        if not match:
            raise ValueFault(f"'{text}' is no time (write minutes and seconds, as 3:15 or 0:30-1:00)")
        ends.append(Decimal(int(match[1]) * 60 + int(match[2])))
    if len(ends) > 2 or ends[0] > ends[-1]:
        raise ValueFault(f"'{text}' is no span of time (write the shorter time first, as 0:30-1:00)")
    return Range(ends[0], ends[-1], "min:sec")


def parse_duration(text: str) -> Range:
    """Read a keeping time: ``6 months``, ``2-4 weeks``."""
    return _range(text, DURATIONS, "6 months or 2-4 weeks")


def parse_temperature(text: str) -> Range:
    """Read ``38 °C``, ``80 °F`` or a span of them."""
    return _range(text, TEMPERATURES, "38 °C or 21-38 °C")


def parse_ph(text: str) -> Range:
    """Read a pH or a span of pH."""
    value = _range(text, ("",), "8.6 or 8.5-8.7")
    if value.high > 14:
        raise ValueFault(f"'{text}' is no pH (write a value from 0 to 14)")
    return value


def parse_capacity(text: str) -> Range:
    """Read ``4-10 rolls``, ``30 sheets_8x10``, ``1.5 m2``."""
    return _range(text, CAPACITY_UNITS, "4-10 rolls")


def _scalar(kind: tuple[str, ...], example: str, **more: Any) -> WithJsonSchema:
    types = list(kind) if len(kind) > 1 else kind[0]
    return WithJsonSchema({"type": types, "examples": [example], **more})


def _amount_parser(*dimensions: str) -> Callable[[str], Amount]:
    def parse(text: str) -> Amount:
        return parse_amount(text, dimensions)

    return parse


Text = Annotated[str, BeforeValidator(_text), _scalar(("string", "number", "boolean"), "plain text")]
Id = Annotated[str, _parsed(parse_id), _scalar(("string", "number"), "sodium-sulfite")]
Day = Annotated[InstanceOf[date], _parsed(parse_day), _scalar(("string",), "2026-11-25")]
Flag = Annotated[bool, _parsed(parse_flag), _scalar(("boolean", "string"), "yes")]
Count = Annotated[int, _parsed(parse_count), _scalar(("integer",), "2", minimum=1)]
Number = Annotated[InstanceOf[Decimal], _parsed(parse_number), _scalar(("number", "string"), "2.5")]
AnyAmount = Annotated[InstanceOf[Amount], _parsed(_amount_parser("mass", "volume")), _scalar(("string",), "2.5 g")]
Volume = Annotated[InstanceOf[Amount], _parsed(_amount_parser("volume")), _scalar(("string",), "850 mL")]
Mass = Annotated[InstanceOf[Amount], _parsed(_amount_parser("mass")), _scalar(("string",), "0.01 g")]
Length = Annotated[InstanceOf[Amount], _parsed(_amount_parser("length")), _scalar(("string",), "100 ft")]
Published = Annotated[
    tuple[InstanceOf[Amount], ...], _parsed(parse_published), _scalar(("string",), "3 oz_avdp 145 grain")
]
Price = Annotated[InstanceOf[Money], _parsed(parse_money), _scalar(("string",), "8.90 EUR")]
Percent = Annotated[InstanceOf[Strength], _parsed(parse_strength), _scalar(("string",), "60 % w/w")]
TaxRate = Annotated[InstanceOf[Decimal], _parsed(parse_tax), _scalar(("string",), "20 %")]
Density = Annotated[InstanceOf[Decimal], _parsed(parse_density), _scalar(("string",), "1.33 g/mL")]
Parts = Annotated[InstanceOf[Dilution], _parsed(parse_dilution), _scalar(("string",), "1+9")]
Clock = Annotated[InstanceOf[Range], _parsed(parse_clock), _scalar(("string",), "3:15")]
Duration = Annotated[InstanceOf[Range], _parsed(parse_duration), _scalar(("string",), "6 months")]
Temperature = Annotated[InstanceOf[Range], _parsed(parse_temperature), _scalar(("string",), "38 °C")]
Acidity = Annotated[InstanceOf[Range], _parsed(parse_ph), _scalar(("number", "string"), "8.6")]
Capacity = Annotated[InstanceOf[Range], _parsed(parse_capacity), _scalar(("string",), "4-10 rolls")]
