"""Worked examples and limits of mixtures: the UN's guidance, ECHA's guidance, and rows of Annex VI (ATP 23).

Rows of Annex VI were read in ECHA's table up to ATP 23, Regulation (EU) 2025/1222; they are written here as the table
has them, so that nothing rests on this handbook's own records.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from hazard_cases import bath, classes, hazards
from reckoner.calc.hazards.acute import acute, ate_of
from reckoner.calc.hazards.classify import BathHazards, classify
from reckoner.calc.hazards.composition import Composition, Substance
from reckoner.pages.shared.finding_words import limit_words, value_words
from reckoner.records.acute import BOUNDS, ESTIMATES, UNIT, Route
from reckoner.records.hazard import Hazards

HARMLESS = hazards()
#: What the vectors of Annex VI speak of: skin, eye, sensitising, CMR, organs.
SPOKEN = ("H31", "H334", "H335", "H336", "H34", "H35", "H36", "H37")


def row(*classes: str, limits: tuple[str, ...] = (), **more: Any) -> Hazards:
    """A row of Annex VI; a limit is written ``Skin Irrit. 2 H315 10-25`` or, without an end, ``… 25-``."""
    bands = []
    for text in limits:
        hazard, h, span = text.rsplit(" ", 2)
        start, _, below = span.partition("-")
        end = {"below": f"{below} % w/w"} if below else {}
        bands.append({"hazard": hazard, "h": h, "from": f"{start} % w/w", **end})
    return hazards(*classes, limits=bands, **more)


def measured(way: Route, value: str, entry: str) -> Hazards:
    value = f"{value} {UNIT[way]}"
    kind = "LD50" if way in {"oral", "dermal"} else "LC50"
    return hazards(entry, acute=[{"way": way, "value": value, "kind": kind, "source": "an example"}])


def said(result: BathHazards) -> set[str]:
    """Statements that the vectors name; corrosion stands for the eye damage that goes with it."""
    found = {f.h for f in result.findings if f.h.startswith(SPOKEN)}
    return found - {"H318"} if "H314" in found else found


ACID = ("Skin Irrit. 2 H315 10-25", "Eye Irrit. 2 H319 10-25", "Skin Corr. 1B H314 25-")
PEROXIDE = row(
    "Skin Corr. 1A H314",
    limits=(
        "Skin Corr. 1A H314 70-",
        "Skin Corr. 1B H314 50-70",
        "Skin Irrit. 2 H315 35-50",
        "Eye Dam. 1 H318 8-50",
        "Eye Irrit. 2 H319 5-8",
        "STOT SE 3 H335 35-",
    ),
)
FORMALDEHYDE = row(
    "Carc. 1B H350",
    "Muta. 2 H341",
    "Skin Corr. 1B H314",
    "Skin Sens. 1A H317",
    limits=(
        "Skin Corr. 1B H314 25-",
        "Skin Irrit. 2 H315 5-25",
        "Eye Irrit. 2 H319 5-25",
        "STOT SE 3 H335 5-",
    ),
)
SULFURIC = row(
    "Skin Corr. 1A H314",
    limits=("Skin Corr. 1A H314 15-", "Skin Irrit. 2 H315 5-15", "Eye Irrit. 2 H319 5-15"),
)
FORMIC = row(
    "Skin Corr. 1A H314",
    limits=(
        "Skin Corr. 1A H314 90-",
        "Skin Corr. 1B H314 10-90",
        "Skin Irrit. 2 H315 2-10",
        "Eye Dam. 1 H318 10-",
        "Eye Irrit. 2 H319 2-10",
    ),
)
NITRIC = row("Skin Corr. 1A H314", limits=("Skin Corr. 1A H314 20-", "Skin Corr. 1B H314 5-20"))
CMIT = row(
    "Skin Corr. 1C H314",
    "Eye Dam. 1 H318",
    "Skin Sens. 1A H317",
    "Aquatic Acute 1 H400",
    "Aquatic Chronic 1 H410",
    limits=(
        "Skin Corr. 1C H314 0.6-",
        "Skin Irrit. 2 H315 0.06-0.6",
        "Eye Dam. 1 H318 0.6-",
        "Eye Irrit. 2 H319 0.06-0.6",
        "Skin Sens. 1A H317 0.0015-",
    ),
    m_acute="100",
    m_chronic="100",
)
PHOSPHORIC = row("Skin Corr. 1B H314", limits=ACID)
PROPIONIC = row("Skin Corr. 1B H314", limits=(*ACID, "STOT SE 3 H335 10-"))
AMMONIA = row("Skin Corr. 1B H314", "Aquatic Acute 1 H400", limits=("STOT SE 3 H335 5-",))
DICHROMATE = row(
    "Carc. 1B H350",
    "Muta. 1B H340",
    "Repr. 1B H360FD",
    "Resp. Sens. 1 H334",
    "Skin Sens. 1 H317",
    limits=("Resp. Sens. 1 H334 0.2-", "Skin Sens. 1 H317 0.2-"),
)
HYDROQUINONE = row(
    "Carc. 2 H351", "Muta. 2 H341", "Eye Dam. 1 H318", "Skin Sens. 1 H317", "Aquatic Acute 1 H400", m_acute="10"
)
DTPA = row("Repr. 1B H360D", "STOT RE 2 H373", limits=("Repr. 1B H360D 3-",))
METHANOL = row("STOT SE 1 H370", limits=("STOT SE 1 H370 10-", "STOT SE 2 H371 3-10"))
NITRILOTRIACETATE = row("Carc. 2 H351", limits=("Carc. 2 H351 5-",))

#: (row, % w/w, statements of skin, eye, sensitising, CMR and organs; sub-category of corrosion).
VECTORS = [
    (SULFURIC, "4.9", "", ""),
    (SULFURIC, "5", "H315 H319", ""),
    (SULFURIC, "14.9", "H315 H319", ""),
    (SULFURIC, "15", "H314", "1A"),
    (PHOSPHORIC, "9.9", "", ""),
    (PHOSPHORIC, "10", "H315 H319", ""),
    (PHOSPHORIC, "24.9", "H315 H319", ""),
    (PHOSPHORIC, "25", "H314", "1B"),
    (PROPIONIC, "9.9", "", ""),
    (PROPIONIC, "10", "H315 H319 H335", ""),
    (PROPIONIC, "25", "H314 H335", "1B"),
    (NITRIC, "5", "H314", "1B"),
    (NITRIC, "19.9", "H314", "1B"),
    (NITRIC, "20", "H314", "1A"),
    (FORMIC, "1.9", "", ""),
    (FORMIC, "2", "H315 H319", ""),
    (FORMIC, "10", "H314", "1B"),
    (FORMIC, "90", "H314", "1A"),
    (PEROXIDE, "4.9", "", ""),
    (PEROXIDE, "5", "H319", ""),
    (PEROXIDE, "7.9", "H319", ""),
    (PEROXIDE, "8", "H318", ""),
    (PEROXIDE, "35", "H315 H318 H335", ""),
    (PEROXIDE, "50", "H314 H335", "1B"),
    (PEROXIDE, "70", "H314 H335", "1A"),
    (FORMALDEHYDE, "0.09", "", ""),
    (FORMALDEHYDE, "0.1", "H317 H350", ""),
    (FORMALDEHYDE, "1", "H317 H341 H350", ""),
    (FORMALDEHYDE, "5", "H315 H317 H319 H335 H341 H350", ""),
    (FORMALDEHYDE, "24.9", "H315 H317 H319 H335 H341 H350", ""),
    (FORMALDEHYDE, "25", "H314 H317 H335 H341 H350", "1B"),
    (CMIT, "0.00014", "", ""),
    (CMIT, "0.00015", "", ""),
    (CMIT, "0.0015", "H317", ""),
    (CMIT, "0.06", "H315 H317 H319", ""),
    (CMIT, "0.6", "H314 H317", "1C"),
    (DTPA, "2.9", "", ""),
    (DTPA, "3.0", "H360D", ""),
    (DTPA, "10", "H360D H373", ""),
    (AMMONIA, "0.9", "", ""),
    (AMMONIA, "1", "H315 H319", ""),
    (AMMONIA, "3", "H315 H318", ""),
    (AMMONIA, "5", "H314 H335", "1B"),
    (DICHROMATE, "0.1", "H340 H350", ""),
    (DICHROMATE, "0.2", "H317 H334 H340 H350", ""),
    (DICHROMATE, "0.3", "H317 H334 H340 H350 H360FD", ""),
    (HYDROQUINONE, "1", "H317 H319 H341 H351", ""),
    (HYDROQUINONE, "3", "H317 H318 H341 H351", ""),
    (NITRILOTRIACETATE, "4.9", "", ""),
    (NITRILOTRIACETATE, "5", "H351", ""),
    (METHANOL, "2.9", "", ""),
    (METHANOL, "3", "H371", ""),
    (METHANOL, "9.9", "H371", ""),
    (METHANOL, "10", "H370", ""),
]


@pytest.mark.parametrize(("entry", "share", "statements", "sub"), VECTORS)
def test_rows_of_annex_vi_at_their_limits(entry: Hazards, share: str, statements: str, sub: str) -> None:
    result = bath((share, entry))
    assert said(result) == set(statements.split())
    assert {c[-2:] for c in classes(result) if c.startswith("Skin Corr")} == ({sub} if sub else set())


@pytest.mark.parametrize(("entry", "below", "at"), [(FORMALDEHYDE, "0.0099", "0.01"), (CMIT, "0.00014", "0.00015")])
def test_a_sensitiser_is_named_from_its_level_of_elicitation(entry: Hazards, below: str, at: str) -> None:
    """Table 3.4.6: 0.01 % for category 1A, one tenth of a limit of its own."""
    assert "EUH208" not in classes(bath((below, entry)))
    assert "EUH208" in classes(bath((at, entry)))


@pytest.mark.parametrize(("share", "reached"), [("0.24", set()), ("0.25", {"Aquatic Acute 1", "Aquatic Chronic 1"})])
def test_water_life_by_a_factor_of_a_hundred(share: str, reached: set[str]) -> None:
    """25 % over M = 100 of CMIT/MIT."""
    assert classes(bath((share, CMIT))) & {"Aquatic Acute 1", "Aquatic Chronic 1"} == reached


def test_where_a_row_says_nothing_of_the_eye_the_general_limit_stands() -> None:
    """Nitric acid up to 70 %: 4.9 % lies over the general 3 % of the eye, under 5 % of skin corrosion."""
    assert "H318" in said(bath(("4.9", NITRIC)))
    assert "H318" not in said(bath(("2.9", NITRIC)))
    assert "H314" not in said(bath(("4.9", NITRIC)))


def test_hypochlorite_frees_gas_from_five_per_cent() -> None:
    """Annex VI: EUH031 from 5 %; Aquatic Acute 1 with M 10 from 2.5 %."""
    entry = row("Aquatic Acute 1 H400", m_acute="10", euh=["EUH031"], gas_from="5 % w/w")
    assert classes(bath(("4.9", entry))) == {"Aquatic Acute 1"}
    assert classes(bath(("5", entry))) == {"Aquatic Acute 1", "EUH031"}
    assert classes(bath(("2.4", entry))) == set()


# Acute toxicity


@pytest.mark.parametrize("way", BOUNDS)
@pytest.mark.parametrize("category", [1, 2, 3, 4])
def test_each_way_has_its_bounds(way: Route, category: int) -> None:
    """Table 3.1.1, read: an ATE at the bound is in the category, just above it in the next milder one."""
    bound = BOUNDS[way][category - 1]

    def reached(ate: Decimal) -> list[str]:
        entry = measured(way, str(ate), f"Acute Tox. {category} {_statement(way, category)}")
        result = bath(("100", entry))
        return [f.hazard for f in result.findings if f.route == way]

    assert reached(bound) == [f"Acute Tox. {category}"]
    assert reached(bound * Decimal("1.001")) == ([f"Acute Tox. {category + 1}"] if category < 4 else [])


def _statement(way: Route, category: int) -> str:
    digit = {"oral": "0", "dermal": "1"}.get(way, "3")
    return f"H3{digit}{max(category - 2, 0)}"


#: Table 3.1.2, read: what stands for a category where no figure is known.
STANDS = {
    "oral": ("0.5", "5", "100", "500"),
    "dermal": ("5", "50", "300", "1100"),
    "gas": ("10", "100", "700", "4500"),
    "vapour": ("0.05", "0.5", "3", "11"),
    "dust or mist": ("0.005", "0.05", "0.5", "1.5"),
}


@pytest.mark.parametrize("way", BOUNDS)
def test_what_stands_for_a_category(way: Route) -> None:
    for category, value in enumerate(STANDS[way], 1):
        entry = {"hazard": f"Acute Tox. {category}", "h": _statement(way, category)}
        if way not in {"oral", "dermal"}:
            entry["inhaled"] = way
        record = hazards(classes=[entry], not_classified="no")
        assert ate_of(Substance("p", record, Decimal(1000), Decimal(100)), way) == Decimal(value)
    assert [str(value) for value in ESTIMATES[way]] == list(STANDS[way])


def test_a_class_without_more_is_of_dust_or_mist_and_one_figure_says_it() -> None:
    plain = hazards("Acute Tox. 4 H332")
    assert plain.category("dust or mist") == 4
    assert plain.category("gas") is None
    assert measured("gas", "100", "Acute Tox. 1 H330").category("gas") == 1


def test_un_example_d_by_mouth() -> None:
    """UN example 3.1(d), ST/SG/AC.10/C.4/2008/23: 26 % of 2737, 23 % of 4500, 40 % of 400 mg/kg. UN: ATE 873,
    category 4. CLP leaves out what lies over 2000: 100 / (40 / 400) = 1000, category 4 too."""
    free = hazards()
    found = bath(("26", free), ("23", free), ("40", measured("oral", "400", "Acute Tox. 4 H302"))).findings
    assert [(f.hazard, f.compared.value, f.compared.unit) for f in found] == [("Acute Tox. 4", 1000, "mg/kg")]


def test_un_example_d_by_inhalation_of_vapour() -> None:
    """The same example, vapour: (100 - 11) / ATE = 26/11 + 23/19 + 40/4; 6.6 mg/L, category 3."""
    result = bath(
        ("26", measured("vapour", "11", "Acute Tox. 4 H332")),
        ("23", measured("vapour", "19", "Acute Tox. 4 H332")),
        ("40", measured("vapour", "4", "Acute Tox. 3 H331")),
        ("11", None),
    )
    (found,) = result.findings
    assert (found.hazard, found.h, limit_words(found)) == ("Acute Tox. 3", "H331", "10 mg/L")
    # 89 / (2.3636 + 1.2105 + 10) = 6.56, which the paper prints as 6.6.
    assert value_words(found, str) == "ATE of the bath 6.56"
    assert [part.percent for part in result.unknown] == [Decimal(11)]


def test_the_same_figures_as_dust_are_no_class() -> None:
    """4 mg/L of dust or mist is category 4 (to 5 mg/L), of vapour category 3 (2 to 10 mg/L)."""
    assert "Acute Tox. 4" in classes(bath(("100", measured("dust or mist", "4", "Acute Tox. 4 H332"))))
    assert "Acute Tox. 3" in classes(bath(("100", measured("vapour", "4", "Acute Tox. 3 H331"))))


def test_echa_example_11() -> None:
    """ECHA guidance v6.0, 3.1.5.3, example 11 (second-hand): (100 - 92) / ATE = 0.054; 148.1, category 3."""
    entries = (("4", "125", "3 H301"), ("3", "1500", "4 H302"), ("0.2", "10", "2 H300"))
    parts = [(share, measured("oral", value, f"Acute Tox. {entry}")) for share, value, entry in entries]
    (found,) = bath(*parts, ("92", None)).findings
    assert (found.hazard, value_words(found, str)) == ("Acute Tox. 3", "ATE of the bath 148.15")


@pytest.mark.parametrize(
    ("share", "category"), [("20", 2), ("19.9", 3), ("4", 3), ("3.9", 4), ("0.5", 4), ("0.49", None)]
)
def test_formaldehyde_as_a_gas(share: str, category: int | None) -> None:
    """ATE 100 ppmV (ATP 22): 500 ppmV at 20 %, 2500 at 4 %, 20000 at 0.5 %; an ingredient of category 2 counts from
    0.1 %. Derived from table 3.1.1 in the notes on GisChem sheet 180."""
    entry = hazards(
        classes=[{"hazard": "Acute Tox. 2", "h": "H330", "minimum": "yes"}],
        not_classified="no",
        acute=[{"way": "gas", "value": "100 ppmV", "kind": "harmonised ATE", "source": "Annex VI"}],
    )
    assert entry.category("gas") == 2
    expected = set() if category is None else {f"Acute Tox. {category}"}
    assert classes(bath((share, entry))) == expected


def test_ways_of_breathing_are_summed_apart() -> None:
    """Half the dose as gas and half as dust reach no bound: units that cannot be added are not added."""
    gas, dust = measured("gas", "20000", "Acute Tox. 4 H332"), measured("dust or mist", "5", "Acute Tox. 4 H332")
    assert classes(bath(("50", gas), ("50", dust))) == set()
    assert [limit_words(finding) for finding in acute(bath(("100", gas)).composition)] == ["20000 ppmV"]


def test_un_example_4_1_a() -> None:
    """UN example 4.1(a), read: Acute 1 M 10 and Chronic 1 M 10 0.01 %, Chronic 2 1 %, Chronic 4 25 %: chronic 4 only
    (26.01 % without weights)."""
    first = hazards("Aquatic Acute 1 H400", "Aquatic Chronic 1 H410", m_acute="10", m_chronic="10")
    result = bath(
        ("0.01", first), ("1.0", hazards("Aquatic Chronic 2 H411")), ("25", hazards("Aquatic Chronic 4 H413"))
    )
    assert {(f.hazard, f.h, f.compared.value) for f in result.findings} == {
        ("Aquatic Chronic 4", "H413", Decimal("26.01"))
    }


def test_a_range_is_reckoned_with_its_upper_end() -> None:
    """A published exercise (Verlag Dashoefer 2014): a sheet says 3 to 7 % of Skin Corr. 1; 7 % is corrosive, the true
    4 % only irritant."""
    entry = hazards("Skin Corr. 1 H314")
    assert "Skin Corr. 1" in classes(bath(("7", entry)))
    assert "Skin Irrit. 2" in classes(bath(("4", entry)))


# Organs

#: (row, % below, % at, class, limit told).
ORGANS = [
    (row("STOT RE 1 H372", limits=("STOT RE 1 H372 5-", "STOT RE 2 H373 0.2-5")), "4.9", "5", "STOT RE 1", "5 %"),
    (row("STOT RE 1 H372", limits=("STOT RE 1 H372 5-", "STOT RE 2 H373 0.2-5")), "0.19", "0.2", "STOT RE 2", "0.2 %"),
    (row("STOT RE 2 H373", limits=("STOT RE 2 H373 0.2-",)), "0.19", "0.2", "STOT RE 2", "0.2 %"),
    (row("STOT SE 3 H335", limits=("STOT SE 3 H335 0.5-",)), "0.49", "0.5", "STOT SE 3", "0.5 %"),
    (row("Skin Irrit. 2 H315", limits=("STOT SE 3 H335 0.5-",)), "0.49", "0.5", "STOT SE 3", "0.5 %"),
    (row("STOT SE 2 H371", limits=("STOT SE 2 H371 3-",)), "2.9", "3", "STOT SE 2", "3 %"),
    (METHANOL, "2.9", "3", "STOT SE 2", "3 %"),
    (METHANOL, "9.9", "10", "STOT SE 1", "10 %"),
    # A limit above the general one holds as well.
    (row("STOT SE 3 H336", limits=("STOT SE 3 H336 35-",)), "34", "35", "STOT SE 3", "35 %"),
]


@pytest.mark.parametrize(("entry", "below", "at", "reached", "limit"), ORGANS)
def test_organs_by_limits_of_their_own(entry: Hazards, below: str, at: str, reached: str, limit: str) -> None:
    """Article 10(1) of CLP: a specific limit stands before the general one of tables 3.8.3 and 3.9.4."""
    assert reached not in classes(bath((below, entry)))
    told = [limit_words(f) for f in bath((at, entry)).findings if f.hazard == reached]
    assert told == [limit]


def test_irritants_of_the_airways_add_up_by_share_over_limit() -> None:
    """3.8.3.4.5: 2.5 of 5 % and 9.9 of 20 % are 0.995, with 10 % they are 1."""
    own, general = row("STOT SE 3 H335", limits=("STOT SE 3 H335 5-",)), hazards("STOT SE 3 H335")
    assert classes(bath(("2.5", own), ("9.9", general))) == set()
    (found,) = bath(("2.5", own), ("10", general)).findings
    assert (found.hazard, limit_words(found)) == ("STOT SE 3", "1")
    assert "against 5 %" in value_words(found, str)
    assert "against 20 %" in value_words(found, str)
    # Narcotic effects are another sum (3.8.3.4.6).
    assert classes(bath(("10", hazards("STOT SE 3 H336")), ("10", general))) == set()


# Sensitisers, borates, chromates


def test_other_sensitisers_are_named_beside_the_one_that_classifies() -> None:
    """Annex II 2.8: not EUH208 any more, but named on the label; 0.1 % elicits (table 3.4.6)."""
    first, other = hazards("Skin Sens. 1 H317"), hazards("Skin Sens. 1 H317")
    assert bath(("1", first), ("0.09", other)).also_named == ()
    result = bath(("1", first), ("0.1", other))
    assert [(f.chemicals, value_words(f, str), limit_words(f)) for f in result.also_named] == [
        (("p1",), "0.1 %", "0.1 %")
    ]
    assert "EUH208" not in classes(result)
    assert bath(("0.9", first), ("0.1", other)).also_named == ()


def test_chromates_count_as_chromate_ion() -> None:
    """Note 3: STOT SE 3 from 5 % of CrO4. One K2Cr2O7 (294.18) gives two (115.99): 78.86 %; 6.35 % are 5.007."""
    entry = row("Skin Corr. 1B H314", limits=("STOT SE 3 H335 5-",))
    for share, reached in (("6.33", False), ("6.35", True)):
        counted = Decimal(share) * Decimal("0.78860")
        part = Substance("dichromate", entry, Decimal(share) * 10, Decimal(share), counted=counted)
        result = classify(Composition((part,), Decimal(1000), "a test"), None)
        assert ("STOT SE 3" in classes(result)) == reached
