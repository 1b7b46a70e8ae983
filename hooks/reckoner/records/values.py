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

from pydantic import BeforeValidator, InstanceOf, WithJsonSchema

from reckoner.digits import misread, with_digits
from reckoner.money import Money, parse_money
from reckoner.problems import HIDDEN, ValueFault
from reckoner.records.record import Record as Record
from reckoner.records.spans import Range as Range
from reckoner.records.spans import parse_capacity as parse_capacity
from reckoner.records.spans import parse_clock as parse_clock
from reckoner.records.spans import parse_duration as parse_duration
from reckoner.records.spans import parse_ph as parse_ph
from reckoner.records.spans import parse_temperature as parse_temperature
from reckoner.units import ABSURD, VANISHING, Amount, parse_amount, parse_number, parse_published


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


#: Lines that a formula, a process or a plan may have; characters of a text, and of any other single value.
MOST_LINES, LONGEST_TEXT, LONGEST_VALUE = 200, 5000, 200
_ID = re.compile(r"[a-z0-9]+(?:[.-][a-z0-9]+)*\Z")
_HIDDEN = re.compile(f"[{HIDDEN}]")


def _text(value: object) -> object:
    if not isinstance(value, str):
        return value
    if len(value) > LONGEST_TEXT:
        raise ValueFault(f"the text has {len(value)} characters (keep it under {LONGEST_TEXT})")
    if not value.strip():
        raise ValueFault("the value is empty (write something, or leave the key out)")
    hidden = _HIDDEN.search(value)
    if hidden:
        raise ValueFault(
            f"the text holds the hidden character U+{ord(hidden[0]):04X} (delete it, or type the text again)"
        )
    return " ".join(value.split())


def _parsed(parse: Callable[[str], Any], figures: bool = True) -> BeforeValidator:
    """Run ``parse`` on text; leave ready values (in tests) and wrong structure to the type behind it.

    Where it fails, and would not if letters that look like digits were digits, these are named.
    """

    def run(value: object) -> object:
        if isinstance(value, str) and len(value) > LONGEST_VALUE:
            raise ValueFault(f"the value has {len(value)} characters (keep it under {LONGEST_VALUE})")
        if not isinstance(value, str):
            return value
        text = value.strip()
        try:
            return parse(text)
        except ValueFault as fault:
            mended, letters = with_digits(text)
            if figures and letters and _reads(parse, mended):
                raise ValueFault(misread(text, mended, letters)) from fault
            raise

    return BeforeValidator(run)


def _reads(parse: Callable[[str], Any], text: str) -> bool:
    try:
        parse(text)
    except ValueFault:
        return False
    return True


#: In what is told of a text that can be none.
NO_ID = "is no id"


def parse_id(text: str) -> str:
    """Read an id: small letters, digits and single hyphens (a point stands in film formats such as 6.5x9)."""
    if is_id(text):
        return text
    # Ids of chemicals are spelt as IUPAC does.
    suggestion = re.sub(r"[^a-z0-9]+", "-", text.lower().replace("sulph", "sulf")).strip("-") or "a-name-like-this"
    raise ValueFault(f"'{text}' {NO_ID} (write small letters, digits and hyphens, as {suggestion})")


def is_id(text: str) -> bool:
    """Whether a text can be an id."""
    return _ID.match(text) is not None


def parse_day(text: str) -> date:
    """Read a day in ISO 8601, as 2026-11-25."""
    try:
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            raise ValueError
        day = date.fromisoformat(text)
    except ValueError:
        raise ValueFault(f"'{text}' is no day (write year-month-day, as 2026-11-25)") from None
    if not 1900 <= day.year < 2200:
        raise ValueFault(f"'{text}' is not between 1900 and 2199 (check the year)")
    return day


def parse_positive(text: str) -> Decimal:
    """Read a plain number above zero, such as an exchange rate."""
    number = parse_number(text)
    if number == 0:
        raise ValueFault(f"'{text}' is zero (write a number above zero)")
    if not VANISHING <= number <= ABSURD:
        raise ValueFault(f"'{text}' is beyond all use (check the number)")
    return number


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
    if not match and re.match(r"[\d.,]+\s*%\s*[A-Za-z. ]+\Z", text):
        figure = text.partition("%")[0].strip()
        raise ValueFault(f"'{text}' does not say per cent of what (write {figure} % w/w, % w/v or % v/v)")
    if not match:
        raise ValueFault(f"'{text}' is no strength (write it as 60 % w/w)")
    if not match[2]:
        raise ValueFault(f"'{text}' does not say per cent of what (write {match[1]} % w/w, % w/v or % v/v)")
    percent = parse_number(match[1])
    if percent < VANISHING or percent > (ABSURD if match[2] == "w/v" else 100):
        raise ValueFault(f"'{text}' lies outside 0 to 100 per cent (check the number)")
    return Strength(percent, match[2])


def parse_tax(text: str) -> Decimal:
    """Read a tax rate: ``20 %``."""
    match = re.match(r"(\S+)\s*%\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no rate (write it in per cent, as 20 %)")
    rate = parse_number(match[1])
    if rate >= 100:
        raise ValueFault(f"'{text}' is no rate below 100 per cent (write it as 20 %)")
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


def parse_air_limit(text: str) -> str:
    """Read a limit of the air, kept as it is written: ``25 mg/m3``."""
    match = re.match(r"(\S+)\s+mg/m3\Z", text)
    if not match:
        raise ValueFault(f"'{text}' is no limit of the air (write it as 25 mg/m3)")
    parse_number(match[1])
    return " ".join(text.split())


def parse_dilution(text: str) -> Dilution:
    """Read ``1+9`` or ``1+1+100``.

    >>> parse_dilution("1+9").total
    Decimal('10')
    """
    if re.fullmatch(r"\d+:\d+", text):
        first, other = text.split(":")
        raise ValueFault(f"'{text}' can mean two things (write {first}+{other} for {first} part and {other} of water)")
    stated = re.fullmatch(r"(\d+)\s*(?:/|in|to|-|–)\s*(\d+)", text)
    if stated:
        first, other = stated.groups()
        less = (
            f"{first}+{int(other) - int(first)} for {first} in {other} altogether, " if int(other) > int(first) else ""
        )
        raise ValueFault(f"'{text}' can mean two things (write {less}{first}+{other} for {first} and {other} of water)")
    pieces = text.split("+")
    if len(pieces) < 2:
        raise ValueFault(f"'{text}' is no dilution (write parts with a plus, as 1+9)")
    parts = tuple(parse_number(piece.strip()) for piece in pieces)
    if any(part == 0 for part in parts):
        raise ValueFault(f"'{text}' has a part of zero (leave that part out)")
    if not all(VANISHING <= part <= ABSURD for part in parts):
        raise ValueFault(f"'{text}' is beyond all use (check the numbers)")
    return Dilution(parts)


def _scalar(kind: tuple[str, ...], example: str, **more: Any) -> WithJsonSchema:
    types = list(kind) if len(kind) > 1 else kind[0]
    return WithJsonSchema({"type": types, "examples": [example], **more})


def _amount_parser(*dimensions: str) -> Callable[[str], Amount]:
    def parse(text: str) -> Amount:
        return parse_amount(text, dimensions)

    return parse


Text = Annotated[str, BeforeValidator(_text), _scalar(("string", "number", "boolean"), "plain text")]
Id = Annotated[str, _parsed(parse_id, figures=False), _scalar(("string", "number"), "sodium-sulfite")]
Day = Annotated[InstanceOf[date], _parsed(parse_day), _scalar(("string",), "2026-11-25")]
Flag = Annotated[bool, _parsed(parse_flag), _scalar(("boolean", "string"), "yes")]
Count = Annotated[int, _parsed(parse_count), _scalar(("integer",), "2", minimum=1)]
Number = Annotated[InstanceOf[Decimal], _parsed(parse_positive), _scalar(("number", "string"), "2.5")]
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
AirLimit = Annotated[str, _parsed(parse_air_limit), _scalar(("string",), "25 mg/m3")]
Parts = Annotated[InstanceOf[Dilution], _parsed(parse_dilution), _scalar(("string",), "1+9")]
Clock = Annotated[InstanceOf[Range], _parsed(parse_clock), _scalar(("string",), "3:15")]
Duration = Annotated[InstanceOf[Range], _parsed(parse_duration), _scalar(("string",), "6 months")]
Temperature = Annotated[InstanceOf[Range], _parsed(parse_temperature), _scalar(("string",), "38 °C")]
Acidity = Annotated[InstanceOf[Range], _parsed(parse_ph), _scalar(("number", "string"), "8.6")]
Capacity = Annotated[InstanceOf[Range], _parsed(parse_capacity), _scalar(("string",), "4-10 rolls")]
