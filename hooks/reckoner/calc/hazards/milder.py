"""What of a chemical's recorded dangers is weaker or gone in another record of it. In doubt it is weaker."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.hazards.acute import estimate_of
from reckoner.calc.hazards.water_life import GAS_TRIGGER
from reckoner.records.acute import ESTIMATES, STATEMENTS, UNIT
from reckoner.records.chemical import Chemical
from reckoner.records.hazard import Classification, Hazards, SpecificLimit

#: Classes that are one kind of danger under two names, the graver before the other.
_SAME_DANGER = {"Skin Irrit.": "Skin Corr.", "Eye Irrit.": "Eye Dam."}
#: The least and the largest share of a bath from which a class counts by the rules of Annex I where it has no limit of
#: its own, % w/w; corrosives count sooner for eyes and as irritants.
_GENERAL: dict[str, tuple[Decimal, Decimal]] = {
    **dict.fromkeys(("Skin Corr. 1", "Skin Corr. 1A", "Skin Corr. 1B", "Skin Corr. 1C"), (Decimal(1), Decimal(5))),
    "Eye Dam. 1": (Decimal(1), Decimal(3)),
    **dict.fromkeys(("Skin Irrit. 2", "Eye Irrit. 2"), (Decimal(10), Decimal(10))),
    **dict.fromkeys(("STOT SE 1", "STOT RE 1"), (Decimal(1), Decimal(10))),
    **dict.fromkeys(("STOT SE 2", "STOT RE 2"), (Decimal(10), Decimal(10))),
    "STOT SE 3": (Decimal(20), Decimal(20)),
    "Repr. 2": (Decimal(3), Decimal(3)),
}
_ANY = (Decimal("0.1"), Decimal(1))


@dataclass(frozen=True)
class Loss:
    """One danger that is weaker or gone, in a few words, and the key that holds it."""

    text: str
    key: str


def milder(own: Chemical, library: Chemical) -> Iterator[Loss]:
    """What of the library's dangers is weaker or gone in an owner's record."""
    if library.strong and own.strong != library.strong:
        yield Loss(f"no strong: {library.strong}", "strong")
    for text in library.cautions:
        if text not in own.cautions:
            yield Loss(f"no caution '{text}'", "cautions")
    if own.keep_apart and not library.keep_apart:
        yield Loss("keep_apart: none known", "keep_apart")
    if any(restriction not in own.restrictions for restriction in library.restrictions):
        yield Loss("a restriction is gone or changed", "restrictions")
    for form in own.forms:
        ours, theirs = own.hazards_of(form.id), library.hazards_of(form.id)
        if ours is None and (theirs or (library.hazards and library.form(form.id) is None)):
            yield Loss(f"not assessed for {form.id}", "hazards")
        elif ours is not None and theirs is not None:
            lost = (text for weaker in _WEAKER for text in weaker(ours, theirs))
            yield from (Loss(f"{text} for {form.id}", "hazards") for text in lost)


def _classes(ours: Hazards, theirs: Hazards) -> Iterator[str]:
    for entry in theirs.classes:
        if not any(_as_grave(own, ours, entry, theirs) for own in ours.classes):
            yield f"no {entry.hazard} {entry.h}"
    for code in theirs.euh:
        if code not in ours.euh:
            yield f"no {code}"


def _limits(ours: Hazards, theirs: Hazards) -> Iterator[str]:
    for limit in theirs.limits:
        general = limit.hazard in _hazards(ours) and not _same(limit, ours)
        starts = [_GENERAL.get(limit.hazard, _ANY)[1]] if general else [own.start.percent for own in _same(limit, ours)]
        if not any(start <= limit.start.percent for start in starts):
            yield f"no limit of {limit.start.percent} % for {limit.h}"
    for limit in ours.limits:
        general = limit.hazard in _hazards(theirs) and not _same(limit, theirs)
        if general and limit.start.percent > _GENERAL.get(limit.hazard, _ANY)[0]:
            yield f"only from {limit.start.percent} % {limit.h}"


def _hazards(record: Hazards) -> set[str]:
    return {entry.hazard for entry in record.classes}


def _same(limit: SpecificLimit, record: Hazards) -> list[SpecificLimit]:
    return [other for other in record.limits if (other.hazard, other.h) == (limit.hazard, limit.h)]


def _acute(ours: Hazards, theirs: Hazards) -> Iterator[str]:
    """Estimates of acute toxicity, by figure or category; that a class is gone or weaker is said of the class."""
    for way in ESTIMATES:
        mine, other = ours.category(way), theirs.category(way)
        if mine and other and mine <= other:
            estimate = estimate_of(ours, way, mine)
            if estimate > estimate_of(theirs, way, other):
                yield f"acute toxicity {way} of only {estimate} {UNIT[way]}"


def _shares(ours: Hazards, theirs: Hazards) -> Iterator[str]:
    """How much of it counts, and from where on."""
    for factor in ("m_acute", "m_chronic"):
        if getattr(ours, factor) < getattr(theirs, factor):
            yield f"a smaller {factor}"
    if ours.basis not in (None, theirs.basis):
        yield f"counted as {ours.basis}"
    if ours.limits_count not in (None, theirs.limits_count):
        yield "limits that count only an ion"
    if ours.flammable_from and not (
        theirs.flammable_from and ours.flammable_from.percent <= theirs.flammable_from.percent
    ):
        yield f"flammable only from {ours.flammable_from.percent} %"
    if theirs.euh and _gas_from(ours) > _gas_from(theirs):
        yield f"gas only from {_gas_from(ours)} %"
    if theirs.boron and not ours.boron:
        yield "not counted with boron compounds"


def _gas_from(record: Hazards) -> Decimal:
    return record.gas_from.percent if record.gas_from else GAS_TRIGGER


def _air(ours: Hazards, theirs: Hazards) -> Iterator[str]:
    if any(exposure not in ours.exposure for exposure in theirs.exposure):
        yield "a workplace exposure limit is gone or changed"


_WEAKER: tuple[Callable[[Hazards, Hazards], Iterator[str]], ...] = (_classes, _limits, _shares, _acute, _air)


def _as_grave(own: Classification, ours: Hazards, entry: Classification, theirs: Hazards) -> bool:
    mine, other = _letters(own.h), _letters(entry.h)
    # H360 speaks of fertility and the unborn child, H360F of one of them; H350i of breathing alone.
    said = not mine or (bool(other) and other <= mine)
    return _danger(own, ours) == _danger(entry, theirs) and _rank(own) <= _rank(entry) and said


def _danger(entry: Classification, record: Hazards) -> str:
    """What a class is about, with the way in or the statement where these differ."""
    name = entry.hazard.rpartition(" ")[0] or entry.hazard
    if name == "Acute Tox.":
        ways = [way for way, statements in STATEMENTS.items() if entry.h in statements]
        return f"{name} {record.inhaled(entry) if len(ways) > 1 else ways[0]}"
    return f"{name} {entry.h}" if entry.hazard == "STOT SE 3" else _SAME_DANGER.get(name, name)


def _rank(entry: Classification) -> tuple[int, str]:
    """Category and subcategory, smaller is graver. Without one it is corrosive as 1A is, and sensitises as 1B does."""
    parts = re.search(r" (\d)([A-C]?)\Z", entry.hazard)
    if parts is None:
        return (0, "")
    return (int(parts[1]), parts[2] or ("B" if "Sens." in entry.hazard else "A"))


def _letters(h: str) -> set[str]:
    """The letters behind a statement's number, a capital with its small one: what is presumed is suspected too."""
    return {letter for sign in h[4:] for letter in (sign, sign.lower())}
