"""How figures, dates and names read on a page. Rounding has happened in ``calc``; this only formats."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache, lru_cache

from babel.dates import format_date
from babel.numbers import format_currency, get_decimal_symbol
from markupsafe import Markup

from reckoner.calc.film.temperature import other_scale
from reckoner.money import Money
from reckoner.records.source import Source
from reckoner.records.values import Dilution, Range, Strength
from reckoner.rounding import significant
from reckoner.units import Amount, Proportion

#: Everything that Markdown or HTML could take for markup becomes a numeric reference: text from data stays text.
_SPECIAL = re.compile(r"[&<>\"'`*_{}\[\]#|~^=\\$]")
_LEADING = re.compile(r"\A(?:[-+]|\d+[.)])")
NBSP = "\u00a0"
#: The old units in the words a reader knows.
UNIT_WORDS = {
    "oz_avdp": "oz avdp",
    "lb_avdp": "lb avdp",
    "dram_avdp": "dram avdp",
    "US_fl_oz": "US fl oz",
    "US_fl_dram": "US fl dram",
    "US_minim": "US minim",
    "US_pt": "US pt",
    "US_qt": "US qt",
    "US_gal": "US gal",
    "imp_fl_oz": "imp. fl oz",
    "imp_fl_drachm": "imp. fl drachm",
    "imp_minim": "imp. minim",
    "imp_pt": "imp. pt",
    "imp_gal": "imp. gal",
    "sheets_8x10": "sheets 8×10 in",
    "m2": "m²",
    "sq_in": "sq in",
}


#: An HTML parser looks for these inside a script element; JSON reads their codes as the same characters.
_IN_SCRIPT = {ord(character): f"\\u{ord(character):04x}" for character in "<>&\u2028\u2029"}


@lru_cache(maxsize=8192)
def escape(text: str) -> Markup:
    """Text from data for Markdown or HTML: nothing in it is ever markup.

    >>> str(escape("<b> 1_2"))
    '&#60;b&#62; 1&#95;2'
    """
    escaped = _SPECIAL.sub(lambda match: f"&#{ord(match[0])};", text)
    leading = _LEADING.match(escaped)
    if leading:
        last = leading[0][-1]
        escaped = leading[0][:-1] + f"&#{ord(last)};" + escaped[leading.end() :]
    return Markup(escaped)


def inside_script(data: object) -> Markup:
    """Data as JSON for a script element."""
    return Markup(json.dumps(data, ensure_ascii=False, separators=(",", ":")).translate(_IN_SCRIPT))


@dataclass(frozen=True)
class Display:
    """Formats for one locale."""

    locale: str

    @property
    def sign(self) -> str:
        """The decimal sign."""
        return _decimal_sign(self.locale)

    def number(self, value: Decimal) -> str:
        """A plain number with the locale's decimal sign and no grouping: 1000, not 1,000, at the bench."""
        text = format(value, "f")
        if "." in text:
            text = text.rstrip("0").rstrip(".")
        return text.replace(".", self.sign)

    def written(self, value: Decimal) -> str:
        """A number with the decimals that its author wrote: 106.0."""
        return format(value, "f").replace(".", self.sign)

    def stepped(self, value: Decimal, step: Decimal, unit: str) -> str:
        """A rounded amount with as many decimals as the instrument shows."""
        places = max(0, -int(step.normalize().as_tuple().exponent))
        text = format(value.quantize(Decimal(1).scaleb(-places)), "f").replace(".", self.sign)
        return f"{text}{NBSP}{unit}"

    def exactish(self, value: Decimal, unit: str, figures: int = 3) -> str:
        """A figure to a few significant figures, where no instrument sets the step."""
        return f"{self.number(significant(value, figures))}{NBSP}{unit}"

    def amount(self, amount: Amount) -> str:
        """An amount as its author wrote it."""
        return f"{self.number(amount.number)}{NBSP}{UNIT_WORDS.get(amount.unit, amount.unit)}"

    def published(self, amounts: tuple[Amount, ...]) -> str:
        """An old-unit amount, its parts one after the other."""
        return " ".join(self.amount(amount) for amount in amounts)

    def range(self, value: Range) -> str:
        """A value or span with its unit."""
        if value.unit == "min:sec":
            ends = [_clock(value.low), _clock(value.high)]
            return ends[0] if value.single else "–".join(ends)
        unit = UNIT_WORDS.get(value.unit, value.unit)
        if value.single and value.low == 1 and unit.endswith("s") and " " not in unit:
            unit = unit[:-1]
        numbers = self.number(value.low) if value.single else f"{self.number(value.low)}–{self.number(value.high)}"
        return f"{numbers}{NBSP}{unit}" if unit else numbers

    def two_scales(self, value: Range, tolerance: Range | None = None) -> tuple[str, str]:
        """A temperature as its source writes it, then in the other scale in brackets."""
        other, other_tolerance = other_scale(value, tolerance)
        return _scale(value, tolerance, self.written), f"({_scale(other, other_tolerance, self.number)})"

    def both_scales(self, value: Range, tolerance: Range | None = None) -> str:
        """The same as one text."""
        return " ".join(self.two_scales(value, tolerance))

    def strength(self, strength: Strength) -> str:
        """A strength such as 60 % w/w."""
        return f"{self.number(strength.percent)}{NBSP}%{NBSP}{strength.basis}"

    def dilution(self, dilution: Dilution) -> str:
        """Parts with plus signs."""
        return "+".join(self.number(part) for part in dilution.parts)

    def money(self, money: Money) -> str:
        """A sum to the currency's minor unit; below that, as less than one."""
        rounded = money.rounded
        if rounded == 0 and money.number > 0:
            return "<" + _currency(money.step, money.currency, self.locale)
        return _currency(rounded, money.currency, self.locale)

    def part(self, share: Money, exact: Money) -> str:
        """A whole share of a sum; where it is nothing although there was something, less than a minor unit."""
        return self.money(share if share.number else exact * Decimal("1e-6") if exact.number else exact)

    def day(self, day: date) -> str:
        """A day with the month as a word, so that no reader can turn day and month round."""
        return _day(day, self.locale)

    def percent(self, fraction: Proportion) -> str:
        """A fraction as per cent, two significant figures."""
        return f"{self.number(significant(fraction * 100, 2))}{NBSP}%"


def source_text(source: Source) -> str:
    """Where a record is from and how sure it is, in one phrase."""
    words = {
        "published": "published text read",
        "from memory": "from memory, not compared with the publication",
        "common practice": "common practice, no single source",
        "own practice": "own practice, no publication",
        "computed": "computed",
        "invented": "invented for this demonstration",
    }[source.certainty]
    return f"{source.citation} — {words}" if source.citation else words


@lru_cache(maxsize=8192)
def _currency(number: Decimal, currency: str, locale: str) -> str:
    return str(format_currency(number, currency, locale=locale))


@lru_cache(maxsize=2048)
def _day(day: date, locale: str) -> str:
    return str(format_date(day, "d MMM y", locale=locale))


@cache
def _decimal_sign(locale: str) -> str:
    return str(get_decimal_symbol(locale))


def _scale(value: Range, tolerance: Range | None, number: Callable[[Decimal], str]) -> str:
    ends = number(value.low) if value.single else f"{number(value.low)}–{number(value.high)}"
    spread = f"{NBSP}±{NBSP}{number(tolerance.high)}" if tolerance else ""
    return f"{ends}{spread}{NBSP}{value.unit}"


def _clock(seconds: Decimal) -> str:
    minutes, rest = divmod(int(seconds), 60)
    return f"{minutes}:{rest:02d}"
