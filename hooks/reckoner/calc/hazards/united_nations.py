"""What the UN's GHS says beyond CLP: the European regulation leaves acute category 5 and aquatic acute 2 and 3 out.

Places with other law may have taken these categories up, so a reader there sees them too.
Source: UN GHS, chapters 3.1 and 4.1, from memory; examples 3.1(a) and 4.1(a) of the UNECE guidance were read.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.acute import ate_of
from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.calc.hazards.finding import Carrier, Finding, HeldAgainst, Rule
from reckoner.calc.hazards.water_life import QUARTER, acute_carriers, weighed
from reckoner.records.acute import BOUNDS, STATEMENTS, UNIT, Route

#: Table 3.1.1 of the UN: category 5 ends at 5000 mg/kg, by mouth and through the skin only.
FIVE = Decimal(5000)
LIKELY: dict[Route, str] = {"oral": "H303", "dermal": "H313"}


def beyond_clp(composition: Composition) -> tuple[Finding, ...]:
    """Findings of the UN's rules where CLP's rules give a milder one or none."""
    return (*acute(composition), *aquatic(composition))


def acute(composition: Composition) -> Iterator[Finding]:
    """3.1.3.6.1 with ingredients of 2000 to 5000 mg/kg in the sum."""
    for route, statement in LIKELY.items():
        counted = [
            (substance, value)
            for substance in composition.substances
            if (value := _estimate(substance, route)) is not None
        ]
        total = sum((substance.percent / value for substance, value in counted), Decimal(0))
        if total == 0:
            continue
        mix, by_clp = 100 / total, _category(_by_clp(composition, route), route)
        category = _category(mix, route)
        if category is None or (by_clp is not None and by_clp <= category):
            continue
        yield Finding(
            f"Acute Tox. {category}",
            statement if category == 5 else STATEMENTS[route][category - 1],
            "UN 3.1.3.6.1",
            HeldAgainst(mix, (*BOUNDS[route], FIVE)[category - 1], UNIT[route], up_to=True),
            tuple(Carrier(substance.chemical, substance.percent, ate=value) for substance, value in counted),
            route,
        )


def _estimate(substance: Substance, route: Route) -> Decimal | None:
    estimate = ate_of(substance, route)
    if estimate is not None or substance.hazards is None or substance.percent < 1:
        return estimate
    values = [value.value.number for value in substance.hazards.acute if value.way == route and value.kind == "LD50"]
    return next((value for value in values if value <= FIVE), None)


def _by_clp(composition: Composition, route: Route) -> Decimal | None:
    total = sum((p.percent / ate for p in composition.substances if (ate := ate_of(p, route)) is not None), Decimal(0))
    return 100 / total if total else None


def _category(mix: Decimal | None, route: Route) -> int | None:
    if mix is None:
        return None
    return next((i for i, bound in enumerate((*BOUNDS[route], FIVE), 1) if mix <= bound), None)


#: Category, statement, rule and weight of table 4.1.1 of the UN for what CLP leaves out.
MILDER_IN_WATER: tuple[tuple[int, str, Rule, Decimal], ...] = (
    (2, "H401", "UN table 4.1.1, tenfold", Decimal(10)),
    (3, "H402", "UN table 4.1.1, hundredfold", Decimal(100)),
)


def aquatic(composition: Composition) -> Iterator[Finding]:
    """Table 4.1.1 of the UN: ten times the weighted sum for category 2, a hundred times for 3."""
    if weighed(acute_carriers(composition)) >= QUARTER:
        return
    for category, statement, rule, factor in MILDER_IN_WATER:
        counted = acute_carriers(composition, factor)
        total = weighed(counted)
        if total >= QUARTER:
            compared = HeldAgainst(total, QUARTER, "% w/w")
            yield Finding(f"Aquatic Acute {category}", statement, rule, compared, counted)
            return
