"""Whether a jar reaches the strength that a formula asks, and the least strength that does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from reckoner.calc.mixing.molar import HUNDRED
from reckoner.calc.mixing.rollup import Need
from reckoner.calc.mixing.substitution import Conversion, Jar, convert
from reckoner.problems import ValueFault
from reckoner.records.chemical import Chemical
from reckoner.records.values import Strength
from reckoner.rounding import up

WATER_DENSITY = Decimal("0.998")
TENTH, WHOLE = Decimal("0.1"), Decimal(1)
TEN = Decimal(10)


@dataclass(frozen=True)
class TooWeak:
    """A jar that would not fit into the vessel.

    Attributes:
        strength: of the jar, or None where none is stated.
        least: the least strength that has room, rounded up to a whole per cent (a tenth below ten); None where no
            strength of it has.
    """

    jar: Jar
    strength: Strength | None
    least: Strength | None


def reach(need: Need, jar: Jar, chemicals: Mapping[str, Chemical]) -> Conversion | TooWeak:
    """Convert a need to a jar, and judge whether what it takes has room in the vessel.

    Raises:
        ValueFault: the two do not convert, with the reason.
    """
    chemical = chemicals[need.chemical]
    form = chemical.form(need.form)
    assert form is not None, "checks refuse unknown forms"
    conversion = convert(Jar(chemical, form), jar)
    if conversion.unit != "mL" or need.room is None or conversion.factor <= need.room:
        return conversion
    strength = jar.assay or jar.form.strength
    return TooWeak(jar, strength, _least(jar, strength, conversion.factor, need.room))


def reaching(need: Need, jar: Jar, chemicals: Mapping[str, Chemical]) -> Conversion | None:
    """The conversion where a jar fills a need; None where it does not convert or is too weak."""
    verdict = _judged(need, jar, chemicals)
    return verdict if isinstance(verdict, Conversion) else None


def weakness(need: Need, jar: Jar, chemicals: Mapping[str, Chemical]) -> TooWeak | None:
    """Why a jar that converts is too weak for a need, or None."""
    verdict = _judged(need, jar, chemicals)
    return verdict if isinstance(verdict, TooWeak) else None


def _judged(need: Need, jar: Jar, chemicals: Mapping[str, Chemical]) -> Conversion | TooWeak | None:
    try:
        return reach(need, jar, chemicals)
    except ValueFault:
        return None


def asked_of(weak: TooWeak) -> Decimal:
    """The least strength in per cent, to compare by; above all others where none would do."""
    return weak.least.percent if weak.least else HUNDRED + 1


def _least(jar: Jar, strength: Strength | None, factor: Decimal, room: Decimal) -> Strength | None:
    """The least strength on the jar's own basis by which ``factor`` mL become ``room`` mL."""
    if strength is None or room <= 0:
        return None
    wanted = _content(jar, strength.percent, strength) * factor / room
    step = TENTH if strength.percent < TEN else WHOLE
    for count in range(up(strength.percent / step), up(HUNDRED / step) + 1):
        if _content(jar, count * step, strength) >= wanted:
            return Strength((count * step).normalize() + 0, strength.basis)
    return None


def _content(jar: Jar, percent: Decimal, strength: Strength) -> Decimal:
    """What 1 mL of a solution of ``percent`` holds: g for w/w and w/v, mL for v/v; all times a hundred."""
    if strength.basis != "w/w":
        return percent
    return percent * _density(jar, percent, strength)


def _density(jar: Jar, percent: Decimal, strength: Strength) -> Decimal:
    """g/mL, on straight lines between water, the jar and the recorded solutions of the same compound."""
    points = {Decimal(0): WATER_DENSITY}
    for form in jar.chemical.forms:
        stated = form.strength
        if form.formula == jar.form.formula and form.density is not None and stated and stated.basis == "w/w":
            points[stated.percent] = form.density
    if jar.form.density is not None:
        points[strength.percent] = jar.form.density
    table = sorted(points.items())
    for (low, thin), (high, dense) in pairwise(table):
        if low <= percent <= high:
            return thin + (dense - thin) * (percent - low) / (high - low)
    return table[-1][1]
