"""Sensitisation, CMR and aspiration: Annex I, 3.4 to 3.7 and 3.10."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.finding import (
    Carrier,
    Finding,
    HeldAgainst,
    Rule,
    Share,
    carriers,
    has,
    ratio_sum,
    share_of,
    single,
    summed,
)
from reckoner.records.hazard import ClassCode

TENTH = Decimal("0.1")
#: Note 11 of Annex VI.
BORON = Decimal("0.3")
#: 3.10.3.3.1.1 of Annex I.
ASPIRATED = Decimal(10)

#: (classes, statement, limit, elicitation for EUH208): tables 3.4.5 and 3.4.6.
SENSITISERS: tuple[tuple[tuple[ClassCode, ...], str, Decimal, Decimal], ...] = (
    (("Resp. Sens. 1", "Resp. Sens. 1B"), "H334", Decimal(1), TENTH),
    (("Resp. Sens. 1A",), "H334", TENTH, Decimal("0.01")),
    (("Skin Sens. 1", "Skin Sens. 1B"), "H317", Decimal(1), TENTH),
    (("Skin Sens. 1A",), "H317", TENTH, Decimal("0.01")),
)


@dataclass(frozen=True)
class _Sensitiser:
    """A sensitiser of a bath.

    Attributes:
        share: against the limit that classifies the bath.
        elicits: % w/w from which it is named.
    """

    hazard: ClassCode
    h: str
    share: Share
    elicits: Decimal

    @property
    def named(self) -> bool:
        """Below its limit, and enough for those whom it has sensitised already."""
        return not self.share.reaches and self.share.percent >= self.elicits

    def finding(self, hazard: str, h: str, rule: Rule, limit: Decimal) -> Finding:
        """What is said of it."""
        share = replace(self.share, limit=limit)
        return Finding(hazard, h, rule, single(share), carriers([share]))


def sensitisation(composition: Composition) -> Iterator[Finding]:
    """3.4.3: not additive; below the limit but above elicitation it is named by EUH208."""
    sensitisers = tuple(_sensitisers(composition))
    reached = [sensitiser for sensitiser in sensitisers if sensitiser.share.reaches]
    for sensitiser in reached:
        yield sensitiser.finding(sensitiser.hazard, sensitiser.h, "table 3.4.5", sensitiser.share.limit)
    if not reached:
        yield from (
            sensitiser.finding("EUH208", "EUH208", "table 3.4.6", sensitiser.elicits)
            for sensitiser in sensitisers
            if sensitiser.named
        )


def also_named(composition: Composition) -> tuple[Finding, ...]:
    """Annex II 2.8: where one sensitiser classifies the bath, the others above elicitation are named beside it."""
    sensitisers = tuple(_sensitisers(composition))
    over = {sensitiser.share.substance.chemical for sensitiser in sensitisers if sensitiser.share.reaches}
    if not over:
        return ()
    others = (
        sensitiser for sensitiser in sensitisers if sensitiser.named and sensitiser.share.substance.chemical not in over
    )
    return tuple(
        sensitiser.finding(sensitiser.hazard, sensitiser.h, "table 3.4.6, beside the class", sensitiser.elicits)
        for sensitiser in others
    )


def _sensitisers(composition: Composition) -> Iterator[_Sensitiser]:
    for classes, h, generic, elicits in SENSITISERS:
        for substance in composition.substances:
            if has(substance, *classes):
                share = share_of(substance, generic, *classes)
                yield _Sensitiser(classes[0], h, share, share.limit / 10 if share.own else elicits)


#: (class, limit): tables 3.5.2, 3.6.2 and 3.7.2, not additive.
CMR: tuple[tuple[ClassCode, Decimal], ...] = (
    ("Muta. 1A", TENTH),
    ("Muta. 1B", TENTH),
    ("Muta. 2", Decimal(1)),
    ("Carc. 1A", TENTH),
    ("Carc. 1B", TENTH),
    ("Carc. 2", Decimal(1)),
    ("Repr. 1A", Decimal("0.3")),
    ("Repr. 1B", Decimal("0.3")),
    ("Repr. 2", Decimal(3)),
    ("Lact.", Decimal("0.3")),
)


def cmr(composition: Composition) -> Iterator[Finding]:
    """3.5 to 3.7, each substance by itself, but boron compounds summed (note 11 of Annex VI)."""
    for hazard, generic in CMR:
        for substance in composition.substances:
            if not has(substance, hazard) or _summed(substance, hazard):
                continue
            share = share_of(substance, generic, hazard)
            if share.reaches:
                yield Finding(hazard, _statement(substance, hazard), "3.5 to 3.7", single(share), carriers([share]))
    yield from _boron(composition)


def _summed(substance: Substance, hazard: ClassCode) -> bool:
    """Note 11 sums the reproductive classes of boron compounds; their other classes stand by themselves."""
    return substance.hazards is not None and substance.hazards.boron and hazard == "Repr. 1B"


def _boron(composition: Composition) -> Iterator[Finding]:
    """Note 11: 0.3 % of all boron compounds of Repr. 1B together."""
    shares = [
        share_of(substance, BORON, "Repr. 1B") for substance in composition.substances if _summed(substance, "Repr. 1B")
    ]
    if shares and ratio_sum(shares) >= 1:
        statement = _statement(shares[0].substance, "Repr. 1B")
        yield Finding("Repr. 1B", statement, "Annex VI, note 11", summed(shares), carriers(shares))


def _statement(substance: Substance, hazard: ClassCode) -> str:
    """The statement of a class in an ingredient's record, be it that of a specific limit."""
    assert substance.hazards is not None, "has a class"
    statements = [(entry.hazard, entry.h) for entry in substance.hazards.classes]
    statements += [(limit.hazard, limit.h) for limit in substance.hazards.limits]
    # A boron compound may be counted in the sum without the class itself.
    return next((h for name, h in statements if name == hazard), "H360FD")


def aspiration(composition: Composition) -> Iterator[Finding]:
    """3.10.3.3: 10 % and thin enough, 20.5 mm2/s at 40 °C; a bath is taken to be as thin as water."""
    carrying = [
        substance for substance in composition.substances if has(substance, "Asp. Tox. 1") and substance.percent >= 1
    ]
    total = sum((substance.percent for substance in carrying), Decimal(0))
    if total >= ASPIRATED:
        carried = tuple(Carrier(substance.chemical, substance.percent) for substance in carrying)
        yield Finding("Asp. Tox. 1", "H304", "3.10.3.3", HeldAgainst(total, ASPIRATED, "% w/w"), carried)
