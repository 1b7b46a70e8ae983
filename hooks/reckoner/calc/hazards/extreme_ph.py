"""Acids and alkalis by pH: Annex I, 3.2.3.1.2 and 3.3.3.1.2, and what holds where nobody stated a pH.

A bath with a strong acid or alkali and no pH is treated as corrosive: this handbook's own rule, on the safe side. The
fact sheet of the Danish EPA on mixtures of extreme pH (read) lets a solution whose only corrosive has a limit of its
own be classified by that limit, whatever its pH; that class is then told beside, and takes nothing away.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition
from reckoner.calc.hazards.finding import Carrier, Finding, HeldAgainst, Share, has, limit_of
from reckoner.calc.hazards.skin_eye import CORROSIVE, RELEVANT, eye, skin
from reckoner.records.chemical import Chemical, Strong
from reckoner.records.hazard import ClassCode
from reckoner.records.values import Range

#: Classes of skin and eye below corrosion.
IRRITATING: tuple[ClassCode, ...] = ("Skin Irrit. 2", "Eye Dam. 1", "Eye Irrit. 2")
ACID_PH, BASE_PH = Decimal(2), Decimal("11.5")


@dataclass(frozen=True)
class OwnLimit:
    """The class of a bath by the limits of its only corrosive, told beside the class by pH.

    Attributes:
        share: the corrosive against its limit of skin corrosion.
        findings: classes of skin and eye that it reaches by its own limits; none is "no class".
        strong: what the corrosive is, and so which pH it is to be treated by.
    """

    share: Share
    findings: tuple[Finding, ...]
    strong: Strong


def extreme_ph(ph: Range | None) -> Iterator[Finding]:
    """pH 2 or less, 11.5 or more, at either end of a span; a reserve of acid or alkali is not known here."""
    if ph is None or (ph.low > ACID_PH and ph.high < BASE_PH):
        return
    acid = ph.low <= ACID_PH
    end = HeldAgainst(ph.low, ACID_PH, "pH", up_to=True) if acid else HeldAgainst(ph.high, BASE_PH, "pH")
    yield Finding("Skin Corr. 1", "H314", "3.2.3.1.2", end, ())
    yield Finding("Eye Dam. 1", "H318", "3.3.3.1.2", end, ())


def strong_in(composition: Composition, instead: tuple[str, ...] = ()) -> dict[str, Decimal | None]:
    """Strong acids and alkalis of a bath and % w/w of each, in any share: little of one can decide a bath.

    Args:
        instead: those that a formula lets stand in place of an ingredient: None stands for their share.
    """
    held = {
        substance.chemical: substance.percent
        for substance in composition.substances
        if substance.strong and substance.percent
    }
    return dict.fromkeys(instead) | held


def not_stated(composition: Composition, ph: Range | None, instead: tuple[str, ...] = ()) -> Iterator[Finding]:
    """A strong acid or alkali and no pH."""
    strong = strong_in(composition, instead)
    if ph is not None or not strong:
        return
    carried = tuple(Carrier(chemical, percent) for chemical, percent in sorted(strong.items()))
    no_figure = HeldAgainst(None, None, "pH")
    yield Finding("Skin Corr. 1", "H314", "3.2.3.1.2, pH not stated", no_figure, carried)
    yield Finding("Eye Dam. 1", "H318", "3.3.3.1.2, pH not stated", no_figure, carried)


def unstated(composition: Composition, ph: Range | None, chemicals: Mapping[str, Chemical]) -> tuple[str, ...]:
    """Acids and alkalis that harm skin or eye, in a bath without a stated pH: at their strength it may corrode.

    A concentrated solution of carbonate can pass pH 11.5, and no pH by strength was read for those that are not strong
    at 1 %: nothing is classified by it, and the missing pH is said. From 1 % an ingredient counts (3.2.3.3.1 and
    3.3.3.3.1, from memory).
    """
    if ph is not None:
        return ()
    harming = (
        substance
        for substance in composition.substances
        if substance.percent >= RELEVANT and has(substance, *CORROSIVE, *IRRITATING)
    )
    return tuple(
        substance.chemical for substance in harming if chemicals[substance.chemical].role in {"acid", "alkali"}
    )


def own_limit(composition: Composition, ph: Range | None) -> OwnLimit | None:
    """The class by its own limit, of a bath corrosive by pH whose only corrosive is one strong acid or alkali."""
    if not any((*extreme_ph(ph), *not_stated(composition, ph))):
        return None
    corrosive = [substance for substance in composition.substances if substance.strong or has(substance, *CORROSIVE)]
    sole = corrosive[0] if len(corrosive) == 1 else None
    limit = limit_of(sole, *CORROSIVE) if sole else None
    if sole is None or sole.strong is None or limit is None:
        return None
    alone = replace(composition, substances=(sole,))
    return OwnLimit(Share(sole, sole.limited, limit, True), (*skin(alone), *eye(alone)), sole.strong)
