"""More of an ingredient in place of water takes no hazard away: each finding stays, or a graver one of its kind."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_fixtures import demonstration, demonstration_results
from hazard_cases import bath, hazards
from reckoner.calc.bath import FormulaResult
from reckoner.calc.hazards.classify import BathHazards, classify
from reckoner.calc.hazards.composition import Composition
from reckoner.records.hazard import Hazards

CATALOGUE = demonstration()
SIGNALS = (None, "Warning", "Danger")

#: Findings of one kind from mild to grave: a later one may stand in the place of an earlier one.
LADDERS = (
    ("Acute Tox. 4 H302", "Acute Tox. 3 H301", "Acute Tox. 2 H300", "Acute Tox. 1 H300"),
    ("Acute Tox. 4 H312", "Acute Tox. 3 H311", "Acute Tox. 2 H310", "Acute Tox. 1 H310"),
    ("Acute Tox. 4 H332", "Acute Tox. 3 H331", "Acute Tox. 2 H330", "Acute Tox. 1 H330"),
    ("Skin Irrit. 2 H315", "Skin Corr. 1C H314", "Skin Corr. 1B H314", "Skin Corr. 1A H314"),
    # Plain category 1 is said of an ingredient without a sub-category and of an extreme pH. It may follow a
    # sub-category or give way to one, under the same statement.
    ("Skin Irrit. 2 H315", "Skin Corr. 1 H314"),
    ("Skin Corr. 1 H314", "Skin Corr. 1C H314", "Skin Corr. 1B H314", "Skin Corr. 1A H314"),
    ("Skin Corr. 1C H314", "Skin Corr. 1 H314"),
    ("Skin Corr. 1B H314", "Skin Corr. 1 H314"),
    ("Skin Corr. 1A H314", "Skin Corr. 1 H314"),
    ("Eye Irrit. 2 H319", "Eye Dam. 1 H318"),
    # Annex II 2.8: of baths that are not classified as sensitising.
    ("EUH208 EUH208", "Skin Sens. 1 H317"),
    ("EUH208 EUH208", "Skin Sens. 1A H317"),
    ("EUH208 EUH208", "Resp. Sens. 1 H334"),
    ("STOT SE 2 H371", "STOT SE 1 H370"),
    ("STOT RE 2 H373", "STOT RE 1 H372"),
    ("Aquatic Chronic 4 H413", "Aquatic Chronic 3 H412", "Aquatic Chronic 2 H411", "Aquatic Chronic 1 H410"),
)


def graver(finding: str) -> set[str]:
    """The finding itself and everything above it on its ladders."""
    above = {step for ladder in LADDERS if finding in ladder for step in ladder[ladder.index(finding) :]}
    return above | {finding}


def found(result: BathHazards) -> set[str]:
    return {f"{finding.hazard} {finding.h}" for finding in result.findings}


def lost(weak: BathHazards, strong: BathHazards) -> set[str]:
    """Findings of the weaker bath that the stronger neither has nor has in a graver form."""
    return {finding for finding in found(weak) if not graver(finding) & found(strong)}


#: (class of an ingredient, % before, % after, finding before, finding after): rungs that one ingredient climbs.
CLIMBED = [
    ("Acute Tox. 3 H301", "5", "34", "Acute Tox. 4 H302", "Acute Tox. 3 H301"),
    ("Acute Tox. 2 H300", "1.7", "10", "Acute Tox. 3 H301", "Acute Tox. 2 H300"),
    ("Acute Tox. 1 H300", "9", "10", "Acute Tox. 2 H300", "Acute Tox. 1 H300"),
    ("Acute Tox. 3 H311", "15", "30", "Acute Tox. 4 H312", "Acute Tox. 3 H311"),
    ("Acute Tox. 2 H310", "24", "25", "Acute Tox. 3 H311", "Acute Tox. 2 H310"),
    ("Acute Tox. 1 H310", "9", "10", "Acute Tox. 2 H310", "Acute Tox. 1 H310"),
    ("Acute Tox. 3 H331", "10", "50", "Acute Tox. 4 H332", "Acute Tox. 3 H331"),
    ("Acute Tox. 2 H330", "9", "10", "Acute Tox. 3 H331", "Acute Tox. 2 H330"),
    ("Acute Tox. 1 H330", "9", "10", "Acute Tox. 2 H330", "Acute Tox. 1 H330"),
    ("Skin Corr. 1C H314", "4", "5", "Skin Irrit. 2 H315", "Skin Corr. 1C H314"),
    ("Skin Corr. 1 H314", "4", "5", "Skin Irrit. 2 H315", "Skin Corr. 1 H314"),
    ("Eye Dam. 1 H318", "2", "3", "Eye Irrit. 2 H319", "Eye Dam. 1 H318"),
    ("Skin Sens. 1 H317", "0.9", "1", "EUH208 EUH208", "Skin Sens. 1 H317"),
    ("Skin Sens. 1A H317", "0.09", "0.1", "EUH208 EUH208", "Skin Sens. 1A H317"),
    ("Resp. Sens. 1 H334", "0.9", "1", "EUH208 EUH208", "Resp. Sens. 1 H334"),
    ("STOT SE 1 H370", "9", "10", "STOT SE 2 H371", "STOT SE 1 H370"),
    ("STOT RE 1 H372", "9", "10", "STOT RE 2 H373", "STOT RE 1 H372"),
    ("Aquatic Chronic 1 H410", "2", "3", "Aquatic Chronic 3 H412", "Aquatic Chronic 2 H411"),
    ("Aquatic Chronic 1 H410", "24", "25", "Aquatic Chronic 2 H411", "Aquatic Chronic 1 H410"),
]


#: (class that stays, its %, class that grows, % before, % after, pH, finding before, finding after): rungs for two.
CLIMBED_BY_TWO = [
    ("Skin Corr. 1C H314", "5", "Skin Corr. 1B H314", "4", "5", None, "Skin Corr. 1C H314", "Skin Corr. 1B H314"),
    ("Skin Corr. 1B H314", "5", "Skin Corr. 1A H314", "4", "5", None, "Skin Corr. 1B H314", "Skin Corr. 1A H314"),
    ("Skin Corr. 1C H314", "5", "Skin Corr. 1 H314", "0.9", "1", None, "Skin Corr. 1C H314", "Skin Corr. 1 H314"),
    ("Skin Corr. 1B H314", "5", "Skin Corr. 1 H314", "0.9", "1", None, "Skin Corr. 1B H314", "Skin Corr. 1 H314"),
    ("Skin Corr. 1A H314", "5", "Skin Corr. 1 H314", "0.9", "1", None, "Skin Corr. 1A H314", "Skin Corr. 1 H314"),
    ("Eye Irrit. 2 H319", "5", "Skin Corr. 1C H314", "4", "5", "2", "Skin Corr. 1 H314", "Skin Corr. 1C H314"),
    (
        "Aquatic Chronic 4 H413",
        "20",
        "Aquatic Chronic 3 H412",
        "5",
        "25",
        None,
        "Aquatic Chronic 4 H413",
        "Aquatic Chronic 3 H412",
    ),
]


@pytest.mark.parametrize(("entry", "before", "after", "mild", "grave"), CLIMBED)
def test_one_ingredient_climbs(entry: str, before: str, after: str, mild: str, grave: str) -> None:
    weak, strong = (found(bath((share, hazards(entry)))) for share in (before, after))
    assert mild in weak - strong
    assert grave in strong - weak


@pytest.mark.parametrize(("stays", "share", "grows", "before", "after", "ph", "mild", "grave"), CLIMBED_BY_TWO)
def test_one_ingredient_takes_another_s_finding_up(
    stays: str, share: str, grows: str, before: str, after: str, ph: str | None, mild: str, grave: str
) -> None:
    weak, strong = (found(bath((share, hazards(stays)), (s, hazards(grows)), ph=ph)) for s in (before, after))
    assert mild in weak - strong
    assert grave in strong - weak


def test_every_rung_is_climbed() -> None:
    """No ladder allows a step that the rules do not take."""
    rungs = {rung for ladder in LADDERS for rung in pairwise(ladder)}
    assert rungs == {row[-2:] for row in (*CLIMBED, *CLIMBED_BY_TWO)}


def raised(composition: Composition, index: int, share: Decimal) -> Composition:
    """One part with a larger share; the others keep theirs, so it stands in the place of water."""
    parts = composition.substances
    return replace(composition, substances=(*parts[:index], replace(parts[index], percent=share), *parts[index + 1 :]))


def growing(start: Decimal, water: Decimal, odd: Decimal) -> list[Decimal]:
    """Shares from the first to all the water, in steps that double; ``odd`` moves them off round figures."""
    return [start, *(start + water * odd / 2**halvings for halvings in range(11, -1, -1)), start + water]


def nothing_is_lost(baths: list[BathHazards]) -> None:
    for weak, strong in pairwise(baths):
        assert lost(weak, strong) == set()
        assert SIGNALS.index(strong.label.signal) >= SIGNALS.index(weak.label.signal)


ODD = st.decimals("0.5", "1", places=4)


def known_baths() -> dict[str, FormulaResult]:
    """Formulas of which a composition is known."""
    return {i: r for i, r in demonstration_results().formulas.items() if r.hazards.composition.substances}


@given(st.deferred(lambda: st.sampled_from(sorted(known_baths()))), st.integers(0, 20), ODD)
def test_more_of_one_ingredient_of_a_formula_takes_nothing_away(formula: str, index: int, odd: Decimal) -> None:
    result = known_baths()[formula]
    composition, ph = result.hazards.composition, result.formula.ph
    index %= len(composition.substances)
    water = max(100 - sum((part.percent for part in composition.substances), Decimal(0)), Decimal(0))
    shares = growing(composition.substances[index].percent, water, odd)
    nothing_is_lost([classify(raised(composition, index, share), ph.value if ph else None) for share in shares])


NAMES = st.sampled_from(sorted(CATALOGUE.chemicals))
MIXTURES = st.dictionaries(NAMES, st.decimals("0.01", "20", places=2), min_size=1, max_size=5)


def recorded(chemical: str) -> Hazards | None:
    """The first record, or None: not assessed, which counts as well."""
    return next(iter(CATALOGUE.chemicals[chemical].hazards), None)


@given(MIXTURES, st.integers(0, 4), ODD, st.sampled_from([None, "1", "7", "13"]))
def test_more_of_one_ingredient_of_any_mixture_takes_nothing_away(
    mixture: dict[str, Decimal], index: int, odd: Decimal, ph: str | None
) -> None:
    grows = sorted(mixture)[index % len(mixture)]
    shares = growing(mixture[grows], 100 - sum(mixture.values(), Decimal(0)), odd)
    baths = [{**mixture, grows: share} for share in shares]
    nothing_is_lost([bath(*((str(s), recorded(c)) for c, s in sorted(b.items())), ph=ph) for b in baths])
