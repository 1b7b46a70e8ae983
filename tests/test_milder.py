"""What of a chemical's dangers another record makes less of: each kind is found, and what is stricter is not."""

from __future__ import annotations

from typing import Any

import pytest

from hazard_cases import SOURCE, hazards
from reckoner.calc.hazards import milder as module
from reckoner.calc.hazards.milder import milder
from reckoner.records.chemical import Chemical
from reckoner.records.hazard import Hazards

BURNS = "Skin Corr. 1B H314"
TOXIC = "Acute Tox. 3 H301"
AIR = {"where": "Nowhere", "over": "8 hours", "limit": "2 mg/m3", "source": SOURCE}
LAW = {"where": "Nowhere", "kind": "licence", "text": "a test", "source": SOURCE}


def limit(hazard: str, h: str, start: str) -> list[dict[str, str]]:
    return [{"hazard": hazard, "h": h, "from": f"{start} % w/w"}]


def ld50(value: str) -> list[dict[str, str]]:
    return [{"way": "oral", "value": value, "kind": "LD50", "source": "a test"}]


def chemical(*records: Hazards, forms: tuple[str, ...] = ("solid",), **more: Any) -> Chemical:
    tree = {"id": "x", "name": "x", "use": "a test", "role": "other", "source": SOURCE, **more}
    return Chemical.model_validate(
        {**tree, "forms": [{"id": form, "name": form} for form in forms], "hazards": list(records)}
    )


def record(*classes: str, **more: Any) -> Chemical:
    return chemical(hazards(*classes, **more))


#: The library's record, the owner's, and what is said to be weaker; each row turned round is stricter or the same.
ROWS: list[tuple[Chemical, Chemical, str]] = [
    (record(BURNS), chemical(), "not assessed for solid"),
    (record(BURNS), record(), "no Skin Corr. 1B H314 for solid"),
    (record(BURNS), record("Skin Corr. 1C H314"), "no Skin Corr. 1B H314 for solid"),
    (record(BURNS), record("Skin Irrit. 2 H315"), "no Skin Corr. 1B H314 for solid"),
    (record("Eye Dam. 1 H318"), record("Eye Irrit. 2 H319"), "no Eye Dam. 1 H318 for solid"),
    (record(BURNS, "Eye Dam. 1 H318"), record(BURNS), "no Eye Dam. 1 H318 for solid"),
    (record(TOXIC), record("Acute Tox. 4 H302"), "no Acute Tox. 3 H301 for solid"),
    (record(TOXIC, "Acute Tox. 4 H312"), record(TOXIC), "no Acute Tox. 4 H312 for solid"),
    (record("Skin Sens. 1A H317"), record("Skin Sens. 1 H317"), "no Skin Sens. 1A H317 for solid"),
    (record("Carc. 1A H350"), record("Carc. 1B H350"), "no Carc. 1A H350 for solid"),
    (record("Carc. 1B H350"), record("Carc. 1B H350i"), "no Carc. 1B H350 for solid"),
    (record("Repr. 1B H360FD"), record("Repr. 1B H360D"), "no Repr. 1B H360FD for solid"),
    (record("Repr. 1B H360FD"), record("Repr. 1B H360Fd"), "no Repr. 1B H360FD for solid"),
    (record("STOT SE 3 H335"), record(), "no STOT SE 3 H335 for solid"),
    (record("STOT SE 3 H335", "STOT SE 3 H336"), record("STOT SE 3 H336"), "no STOT SE 3 H335 for solid"),
    (record("STOT RE 1 H372"), record("STOT RE 2 H373"), "no STOT RE 1 H372 for solid"),
    (record("Aquatic Chronic 1 H410"), record("Aquatic Chronic 2 H411"), "no Aquatic Chronic 1 H410 for solid"),
    (record("Ox. Sol. 2 H272"), record("Ox. Sol. 3 H272"), "no Ox. Sol. 2 H272 for solid"),
    (record("Lact. H362"), record(), "no Lact. H362 for solid"),
    (record(euh=["EUH031", "EUH071"]), record(euh=["EUH071"]), "no EUH031 for solid"),
    (
        record(BURNS, limits=limit("Skin Corr. 1B", "H314", "2")),
        record(BURNS, limits=limit("Skin Corr. 1B", "H314", "4")),
        "no limit of 2 % for H314 for solid",
    ),
    (
        record("Skin Irrit. 2 H315"),
        record("Skin Irrit. 2 H315", limits=limit("Skin Irrit. 2", "H315", "25")),
        "only from 25 % H315 for solid",
    ),
    (
        record("Aquatic Acute 1 H400", m_acute=10),
        record("Aquatic Acute 1 H400"),
        "a smaller m_acute for solid",
    ),
    (
        record("Aquatic Chronic 1 H410", m_chronic=100),
        record("Aquatic Chronic 1 H410", m_chronic=10),
        "a smaller m_chronic for solid",
    ),
    (
        record(TOXIC, acute=ld50("60 mg/kg")),
        record(TOXIC, acute=ld50("250 mg/kg")),
        "acute toxicity oral of only 250 mg/kg for solid",
    ),
    (
        record(TOXIC, acute=ld50("60 mg/kg")),
        record(TOXIC),
        "acute toxicity oral of only 100 mg/kg for solid",
    ),
    (record(TOXIC), record(TOXIC, acute=ld50("101 mg/kg")), "acute toxicity oral of only 101 mg/kg for solid"),
    (record(BURNS, boron="yes"), record(BURNS), "not counted with boron compounds for solid"),
    (record(BURNS), record(BURNS, basis="solid"), "counted as solid for solid"),
    (record(BURNS), record(BURNS, limits_count={"formula": "CrO4"}), "limits that count only an ion for solid"),
    (
        record("Flam. Liq. 3 H226"),
        record("Flam. Liq. 3 H226", flammable_from="80 % w/w"),
        "flammable only from 80 % for solid",
    ),
    (record(euh=["EUH031"]), record(euh=["EUH031"], gas_from="2 % w/w"), "gas only from 2 % for solid"),
    (record(BURNS, exposure=[AIR]), record(BURNS), "a workplace exposure limit is gone or changed for solid"),
    (chemical(restrictions=[LAW]), chemical(), "a restriction is gone or changed"),
    (chemical(strong="acid"), chemical(), "no strong: acid"),
    (chemical(cautions=["Burns.", "Cold water."]), chemical(cautions=["Burns."]), "no caution 'Cold water.'"),
    (chemical(), chemical(keep_apart="none known"), "keep_apart: none known"),
]
#: Of two limits of the air neither is the stricter to a machine that reads no units.
EITHER_WAY = (record(BURNS, exposure=[AIR]), record(BURNS, exposure=[{**AIR, "limit": "5 mg/m3"}]))


def said(own: Chemical, library: Chemical) -> list[str]:
    return [loss.text for loss in milder(own, library)]


@pytest.mark.parametrize(("library", "own", "lost"), ROWS, ids=[row[2] for row in ROWS])
def test_what_is_milder_is_said(library: Chemical, own: Chemical, lost: str) -> None:
    assert said(own, library) == [lost]


@pytest.mark.parametrize(("own", "library", "lost"), ROWS, ids=[row[2] for row in ROWS])
def test_what_is_stricter_passes_in_silence(own: Chemical, library: Chemical, lost: str) -> None:
    """Each row the other way round: the owner's record is the stricter one."""
    assert said(own, library) == []


def test_a_limit_of_the_air_that_is_changed_is_said() -> None:
    for own, library in (EITHER_WAY, EITHER_WAY[::-1]):
        assert said(own, library) == ["a workplace exposure limit is gone or changed for solid"]


@pytest.mark.parametrize("entry", ["Skin Corr. 1 H314", "Resp. Sens. 1 H334", "Muta. 2 H341", "Met. Corr. 1 H290"])
def test_the_same_is_not_milder(entry: str) -> None:
    assert said(record(entry), record(entry)) == []


@pytest.mark.parametrize(
    ("library", "own"),
    [
        ("Skin Corr. 1 H314", "Skin Corr. 1A H314"),
        ("Skin Sens. 1 H317", "Skin Sens. 1A H317"),
        ("Skin Sens. 1B H317", "Skin Sens. 1 H317"),
        ("Repr. 1B H360F", "Repr. 1B H360"),
        ("Repr. 2 H361d", "Repr. 1B H360D"),
        ("Skin Irrit. 2 H315", "Skin Corr. 1B H314"),
    ],
)
def test_another_word_for_the_same_or_more_is_not_milder(library: str, own: str) -> None:
    assert said(record(own), record(library)) == []


def test_a_limit_or_figure_below_what_counts_anyhow_is_not_milder() -> None:
    own = record(BURNS, TOXIC, limits=limit("Skin Corr. 1B", "H314", "1"), acute=ld50("100 mg/kg"))
    assert said(own, record(BURNS, TOXIC)) == []


def test_a_limit_between_two_rules_is_not_passed_over() -> None:
    """4 % is less than the 5 % from which a bath corrodes skin, and more than the 1 % from which it irritates."""
    limited = record(BURNS, limits=limit("Skin Corr. 1B", "H314", "4"))
    assert said(record(BURNS), limited) == ["no limit of 4 % for H314 for solid"]
    assert said(limited, record(BURNS)) == ["only from 4 % H314 for solid"]


def test_a_form_of_ones_own_is_assessed_where_the_library_has_looked() -> None:
    library = record(BURNS)
    own = chemical(hazards(BURNS), forms=("solid", "own-solution"))
    assert said(own, library) == ["not assessed for own-solution"]
    assert said(own, chemical()) == []


def test_breathed_as_another_thing_is_another_danger() -> None:
    gas = hazards("Acute Tox. 3 H331").model_copy(
        update={"classes": (hazards("Acute Tox. 3 H331").classes[0].model_copy(update={"inhaled": "gas"}),)}
    )
    assert said(record("Acute Tox. 3 H331"), chemical(gas)) == ["no Acute Tox. 3 H331 for solid"]


def test_every_rule_has_a_row() -> None:
    """A function that nothing in the rows needs is found by taking it out."""
    for rule in module._WEAKER:
        others = tuple(other for other in module._WEAKER if other is not rule)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(module, "_WEAKER", others)
            assert any(said(own, library) != [lost] for library, own, lost in ROWS), rule.__name__
