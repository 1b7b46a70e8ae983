"""What must not meet, against data sheets and handbooks that were read, and against lists recalled from memory."""

from __future__ import annotations

from itertools import product

import pytest

from reckoner.calc.hazards.incompatible import OF_A_BATH, keep_away, meetings
from reckoner.records.catalogue import Catalogue
from reckoner.records.incompatibility import EVERYWHERE, Incompatibilities

BISULFITES = ("sodium-bisulfite", "sodium-metabisulfite", "potassium-metabisulfite")
OXIDISERS = ("potassium-permanganate", "potassium-dichromate", "sodium-persulfate", "hydrogen-peroxide")
ALKALIS = ("sodium-hydroxide", "potassium-carbonate", "trisodium-phosphate")
ACIDS = ("acetic-acid", "citric-acid", "sulfuric-acid", "sodium-bisulfate")
ORGANICS = ("metol", "propylene-glycol", "catechol")
#: One side, the other side, the source.
PAIRS: tuple[tuple[tuple[str, ...], tuple[str, ...], str], ...] = (
    # Univ. of Oklahoma HSC, EHS manual 2018, appendix C (read): acetic acid; chromic and nitric acid, peroxides.
    (("acetic-acid", "propionic-acid", "citric-acid"), (OXIDISERS[0], OXIDISERS[1], OXIDISERS[3]), "Oklahoma, read"),
    (("sodium-sulfide",), ACIDS, "Chemical Products Corp., sheet 501 (2015), read"),
    (("sodium-persulfate",), ("sodium-sulfite", "acetic-acid", "sodium-hydroxide", "ammonium-thiosulfate", "metol",
      "sodium-chloride", "ammonium-bromide", "hydrogen-peroxide"), "FMC, persulfates, read"),
    (("hydroxylamine-sulfate",), ALKALIS, "ICSC 0897 (2006), read"),
    (("formaldehyde",), ("sodium-bisulfite", "sodium-hydroxide", "potassium-permanganate", "ferric-ammonium-edta"),
      "NTP/Radian 1991, read"),
    (("formaldehyde",), ("hydrogen-peroxide",), "GESTIS 010520, read"),
    (("sodium-hydroxide",), ("ammonium-bromide", "sulfuric-acid"), "GisChem 4408, read"),
    (("sodium-thiosulfate", "ammonium-thiosulfate"), (*OXIDISERS, *ACIDS), "GisChem 6436, read"),
    (("potassium-permanganate",), ("propylene-glycol", "sulfuric-acid"), "Sax and others, second-hand"),
    # From memory: the list of pairs that a second reading of the handbook missed.
    (("sodium-sulfide",), (*BISULFITES, "stannous-chloride", "potassium-alum", "hedp", "p-aminophenol-hydrochloride",
      *OXIDISERS), "memory"),
    (("potassium-ferricyanide",), (*BISULFITES, "hedp", *OXIDISERS), "memory"),
    (("potassium-nitrate", "ammonium-nitrate"), ORGANICS, "memory"),
    (OXIDISERS[:1], OXIDISERS[1:], "memory"),
    (("sodium-persulfate", "potassium-dichromate"), ("sodium-chloride", "potassium-bromide"), "memory"),
    (("hydroxylamine-sulfate", "stannous-chloride", "sodium-thiocyanate"), OXIDISERS, "memory"),
    (("potassium-thiocyanate",), OXIDISERS, "memory"),
    (("hexamine", "sodium-formaldehyde-bisulfite", "ethylenediamine"), ACIDS, "memory"),
    (("acetic-acid",), ("sodium-hydroxide", "potassium-hydroxide"), "memory"),
    (("trisodium-phosphate",), ("ammonium-thiosulfate", "ammonium-bromide"), "memory"),
    (("sodium-formaldehyde-bisulfite",), ALKALIS, "memory"),
)  # fmt: skip
SINGLE = sorted({(a, b) for left, right, _ in PAIRS for a, b in product(left, right)})


def names(table: Incompatibilities, chemical: str) -> set[str]:
    """Chemicals that some pair names as what a chemical must be kept from."""
    found: set[str] = set()
    for pair in table.pairs:
        for mine, theirs in (pair.groups, pair.groups[::-1]):
            if chemical in table.group(mine).chemicals:
                found |= set(table.group(theirs).chemicals)
    return found


@pytest.mark.parametrize(("one", "other"), SINGLE)
def test_each_names_the_other(demo: Catalogue, one: str, other: str) -> None:
    assert demo.incompatibilities is not None
    assert other in names(demo.incompatibilities, one)
    assert one in names(demo.incompatibilities, other)


#: What stands in no catalogue and what it must not meet (from memory; silver waste: AbwV Annex 53 B(3), read).
OUTSIDE = [
    ("chlorine bleach", ["sodium-sulfite", "sodium-sulfide", "hydrogen-peroxide", "ethylenediamine", "triethanolamine",
                         "propylene-glycol", "potassium-ferricyanide", "acetic-acid", "ammonium-bromide"]),
    ("selenium toner", ["acetic-acid", "sulfuric-acid", "citric-acid"]),
    ("heat", ["hydroxylamine-sulfate", "ammonium-nitrate", "sodium-persulfate", "potassium-ferricyanide"]),
    ("nitrites", ["ammonium-nitrate", "triethanolamine", "potassium-ferricyanide"]),
]  # fmt: skip


@pytest.mark.parametrize(("name", "chemicals"), OUTSIDE)
def test_things_outside_the_catalogue(demo: Catalogue, name: str, chemicals: list[str]) -> None:
    assert demo.incompatibilities is not None
    for chemical in chemicals:
        met = [m for m in keep_away([chemical], demo.incompatibilities) if m.right[0].startswith(name)]
        assert any(m.pair.severity == "danger" for m in met), chemical


def test_every_chemical_is_in_a_pair_or_says_that_none_is_known(demo: Catalogue) -> None:
    assert demo.incompatibilities is not None
    paired = demo.incompatibilities.paired()
    for chemical in demo.chemicals.values():
        assert (chemical.id in paired) != (chemical.keep_apart == "none known"), chemical.id


#: What a bath holds by design (from memory): the pair, the purpose, and that it is a danger in any other bath.
BY_DESIGN = [
    ("hydroxylamine-sulfate", "potassium-carbonate", "colour developer"),
    ("sodium-persulfate", "sodium-chloride", "bleach"),
]


@pytest.mark.parametrize(("one", "other", "purpose"), BY_DESIGN)
def test_by_design_in_its_bath_and_a_danger_elsewhere(demo: Catalogue, one: str, other: str, purpose: str) -> None:
    table = demo.incompatibilities
    assert table is not None
    assert [m.danger for m in meetings([one], [other], table, purpose) if m.pair.by_design] == [False]
    assert any(m.danger for m in meetings([one], [other], table, "toner"))
    for states in (["solid or concentrate"], ["in waste"]):
        assert any(m.danger for m in keep_away([one], table, states)), "jars and waste keep their warning"


def test_a_pair_of_jars_alone_is_no_matter_of_a_bath(demo: Catalogue) -> None:
    table = demo.incompatibilities
    assert table is not None
    jars = [pair for pair in table.pairs if pair.states == ("solid or concentrate",)]
    assert jars
    for pair in jars:
        sides = [table.group(name).chemicals for name in pair.groups]
        assert pair not in [m.pair for m in meetings(*sides, table)]
        for side in sides:
            assert pair not in [m.pair for m in keep_away(side, table, OF_A_BATH)]
            assert not side or pair in [m.pair for m in keep_away(side, table, EVERYWHERE)]
