"""What the UN's GHS says beyond CLP: the European regulation leaves acute category 5 and aquatic acute 2 and 3 out.

Places with other law may have taken these categories up, so a reader there sees them too.
Source: UN GHS, chapters 3.1 and 4.1, from memory; examples 3.1(a) and 4.1(a) of the UNECE guidance were read.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from reckoner.calc.hazards.acute import ate_of
from reckoner.calc.hazards.composition import Composition, Part
from reckoner.calc.hazards.finding import Carrier, Comparison, Finding, Rule
from reckoner.calc.hazards.water_life import QUARTER, acute_carriers, weighed
from reckoner.records.acute import BOUNDS, STATEMENTS, UNIT, Way

#: Table 3.1.1 of the UN: category 5 ends at 5000 mg/kg, by mouth and through the skin only.
FIVE = Decimal(5000)
LIKELY: dict[Way, str] = {"oral": "H303", "dermal": "H313"}


def beyond_clp(composition: Composition) -> tuple[Finding, ...]:
    """Findings of the UN's rules where CLP's rules give a milder one or none."""
    return (*acute(composition), *aquatic(composition))


def acute(composition: Composition) -> Iterator[Finding]:
    """3.1.3.6.1 with ingredients of 2000 to 5000 mg/kg in the sum."""
    for way, statement in LIKELY.items():
        counted = [(part, value) for part in composition.parts if (value := _estimate(part, way)) is not None]
        total = sum((part.percent / value for part, value in counted), Decimal(0))
        if total == 0:
            continue
        mix, by_clp = 100 / total, _category(_by_clp(composition, way), way)
        category = _category(mix, way)
        if category is None or (by_clp is not None and by_clp <= category):
            continue
        yield Finding(
            f"Acute Tox. {category}",
            statement if category == 5 else STATEMENTS[way][category - 1],
            "UN 3.1.3.6.1",
            Comparison(mix, (*BOUNDS[way], FIVE)[category - 1], UNIT[way], up_to=True),
            tuple(Carrier(part.chemical, part.percent, ate=value) for part, value in counted),
            way,
        )


def _estimate(part: Part, way: Way) -> Decimal | None:
    found = ate_of(part, way)
    if found is not None or part.hazards is None or part.percent < 1:
        return found
    values = [value.value.number for value in part.hazards.acute if value.way == way and value.kind == "LD50"]
    return next((value for value in values if value <= FIVE), None)


def _by_clp(composition: Composition, way: Way) -> Decimal | None:
    total = sum((p.percent / ate for p in composition.parts if (ate := ate_of(p, way)) is not None), Decimal(0))
    return 100 / total if total else None


def _category(mix: Decimal | None, way: Way) -> int | None:
    if mix is None:
        return None
    return next((i for i, bound in enumerate((*BOUNDS[way], FIVE), 1) if mix <= bound), None)


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
            compared = Comparison(total, QUARTER, "% w/w")
            yield Finding(f"Aquatic Acute {category}", statement, rule, compared, counted)
            return
