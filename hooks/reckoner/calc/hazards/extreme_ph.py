"""Acids and alkalis by pH: Annex I, 3.2.3.1.2 and 3.3.3.1.2, and what holds where nobody stated a pH.

A bath with a strong acid or alkali and no pH is treated as corrosive: this handbook's own rule, on the safe side. The
fact sheet of the Danish EPA on mixtures of extreme pH (read) lets a solution whose only corrosive has a limit of its
own be classified by that limit, whatever its pH; that class is then told beside, and takes nothing away.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition
from reckoner.calc.hazards.finding import Finding, Share, figure, has, limit_of
from reckoner.calc.hazards.skin_eye import CORROSIVE, eye, skin
from reckoner.records.chemical import Strong
from reckoner.records.values import Range

ACID_PH, BASE_PH = Decimal(2), Decimal("11.5")
#: What is said of a bath or jar that a limit of its own leaves without a class.
TREAT: dict[Strong, str] = {
    "acid": "pH below 2: treat as corrosive",
    "alkali": "pH above 11.5: treat as corrosive",
}
NOT_STATED = "pH not stated, treated as corrosive"


@dataclass(frozen=True)
class OwnLimit:
    """The class of a bath by the limits of its only corrosive, told beside the class by pH.

    Attributes:
        share: the corrosive against its limit of skin corrosion.
        findings: classes of skin and eye that it reaches by its own limits; none is "no class".
        treat: what is said beside, as "pH below 2: treat as corrosive".
    """

    share: Share
    findings: tuple[Finding, ...]
    treat: str


def extreme_ph(ph: Range | None) -> Iterator[Finding]:
    """pH 2 or less, 11.5 or more, at either end of a span; a reserve of acid or alkali is not known here."""
    if ph is None or (ph.low > ACID_PH and ph.high < BASE_PH):
        return
    end = ph.low if ph.low <= ACID_PH else ph.high
    limit = "pH 2 or less" if ph.low <= ACID_PH else "pH 11.5 or more"
    yield Finding("Skin Corr. 1", "H314", "3.2.3.1.2, extreme pH", f"pH {figure(end)}", limit, ())
    yield Finding("Eye Dam. 1", "H318", "3.3.3.1.2, extreme pH", f"pH {figure(end)}", limit, ())


def strong_in(composition: Composition, instead: tuple[str, ...] = ()) -> dict[str, str]:
    """Strong acids and alkalis of a bath and how much of each, in any share: little of one can decide a bath.

    Args:
        instead: those that a formula lets stand in place of an ingredient.
    """
    held = {part.chemical: f"{figure(part.percent)} %" for part in composition.parts if part.strong and part.percent}
    return dict.fromkeys(instead, "if it is taken instead") | held


def not_stated(composition: Composition, ph: Range | None, instead: tuple[str, ...] = ()) -> Iterator[Finding]:
    """A strong acid or alkali and no pH."""
    strong = strong_in(composition, instead)
    if ph is not None or not strong:
        return
    share = ", ".join(f"{chemical} {much}" for chemical, much in sorted(strong.items()))
    told = (share, "a pH that is stated, above 2 and below 11.5", tuple(sorted(strong)))
    yield Finding("Skin Corr. 1", "H314", f"{NOT_STATED} (3.2.3.1.2)", *told)
    yield Finding("Eye Dam. 1", "H318", f"{NOT_STATED} (3.3.3.1.2)", *told)


def own_limit(composition: Composition, ph: Range | None) -> OwnLimit | None:
    """The class by its own limit, of a bath corrosive by pH whose only corrosive is one strong acid or alkali."""
    if not any((*extreme_ph(ph), *not_stated(composition, ph))):
        return None
    corrosive = [part for part in composition.parts if part.strong or has(part, *CORROSIVE)]
    sole = corrosive[0] if len(corrosive) == 1 else None
    limit = limit_of(sole, *CORROSIVE) if sole else None
    if sole is None or sole.strong is None or limit is None:
        return None
    alone = replace(composition, parts=(sole,))
    return OwnLimit(Share(sole, sole.limited, limit, True), (*skin(alone), *eye(alone)), TREAT[sole.strong])
