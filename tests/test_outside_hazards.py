"""Mixture rules against published worked examples, limits of Annex VI, and from just below to at each limit."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_fixtures import demonstration
from hazard_cases import bath, classes, hazards
from reckoner.calc.hazards.classify import label_of
from reckoner.calc.hazards.composition import Substance, compose
from reckoner.calc.hazards.finding import HeldAgainst
from reckoner.calc.mixing.rollup import Need
from reckoner.pages.shared.finding_words import limit_words, rule_words, value_words
from reckoner.records.catalogue import Catalogue
from reckoner.records.hazard import Hazards

D = Decimal
CATALOGUE = demonstration()


def recorded(chemical: str) -> Hazards:
    return CATALOGUE.chemicals[chemical].hazards[0]


def oral(value: str, category: int = 4) -> Hazards:
    acute = [{"way": "oral", "value": f"{value} mg/kg", "kind": "LD50", "source": "a test"}]
    return hazards(f"Acute Tox. {category} H30{2 if category == 4 else 1}", acute=acute)


HARMLESS = hazards()


def test_unknowns_above_ten_per_cent_shorten_the_hundred() -> None:
    """3.1.3.6.2.3: (100 - 40) / (30/900) = 1800 is category 4; by 100 / (30/900) = 3000 it would be none."""
    result = bath(("30", oral("900")), ("40", None), ("30", HARMLESS))
    assert "Acute Tox. 4" in classes(result)
    assert classes(bath(("30", oral("900")), ("10", None), ("60", HARMLESS))) == set()
    assert [part.percent for part in result.unknown] == [D(40)]


def test_unece_skin_example_the_non_additive_rule_and_the_additive_one() -> None:
    """UNECE GHS guidance, chapters 3.2 and 3.3, example (a), skin: 4 % of category 1 (pH 1.8), 5 % of category 2.
    UN: category 1 by the non-additive rule. By sums it would be irritant: 4 % is under 5 %, 10 x 4 + 5 over 10."""
    acid = hazards("Skin Corr. 1 H314")
    irritant = hazards("Skin Irrit. 2 H315")
    made = bath(("4", acid), ("5", irritant), ("91", HARMLESS), ph="4.0", strong={"p0": "acid"})
    assert "Skin Corr. 1" in classes(made)
    additive = bath(("4", hazards("Skin Corr. 1 H314")), ("5", irritant), ("91", HARMLESS), ph="4.0")
    assert "Skin Irrit. 2" in classes(additive)
    assert "Skin Corr. 1" not in classes(additive)


@pytest.mark.parametrize("share", ["0.8", "1.8"])
def test_echa_helpdesk_examples(share: str) -> None:
    """ECHA helpdesk seminar slides 2012, examples 1 and 2: 0.8 % is under the cut-off, 1.8 % under the 10 % limit."""
    assert classes(bath((share, hazards("Skin Irrit. 2 H315")), ("90", HARMLESS))) == set()


def test_m_factor_divides_the_threshold() -> None:
    """Sodium hypochlorite, M = 10: classified from 25 / 10 = 2.5 % (industry association page)."""
    acute = hazards("Aquatic Acute 1 H400", m_acute="10")
    assert classes(bath(("2.49", acute))) == set()
    assert classes(bath(("2.5", acute))) == {"Aquatic Acute 1"}


#: Specific limits of Annex VI to ATP 21: (chemical, % w/w, classes without the eye damage that corrosion implies).
LIMITS = [
    ("sodium-hydroxide", "0.4", set()),
    ("sodium-hydroxide", "0.5", {"Skin Irrit. 2", "Eye Irrit. 2"}),
    ("sodium-hydroxide", "1.9", {"Skin Irrit. 2", "Eye Irrit. 2"}),
    ("sodium-hydroxide", "2.0", {"Skin Corr. 1B"}),
    ("sodium-hydroxide", "4.9", {"Skin Corr. 1B"}),
    ("sodium-hydroxide", "5.0", {"Skin Corr. 1A"}),
    ("potassium-hydroxide", "0.5", {"Skin Irrit. 2", "Eye Irrit. 2"}),
    ("potassium-hydroxide", "2.0", {"Skin Corr. 1B"}),
    ("potassium-hydroxide", "5.0", {"Skin Corr. 1A"}),
    ("acetic-acid", "9.9", set()),
    ("acetic-acid", "10", {"Skin Irrit. 2", "Eye Irrit. 2"}),
    ("acetic-acid", "24", {"Skin Irrit. 2", "Eye Irrit. 2"}),
    ("acetic-acid", "28", {"Skin Corr. 1B"}),
    ("acetic-acid", "60", {"Skin Corr. 1B"}),
    ("acetic-acid", "90", {"Skin Corr. 1A"}),
    ("sulfuric-acid", "4.9", set()),
    ("sulfuric-acid", "5", {"Skin Irrit. 2", "Eye Irrit. 2"}),
    ("sulfuric-acid", "15", {"Skin Corr. 1A"}),
]


@pytest.mark.parametrize(("chemical", "share", "expected"), LIMITS)
def test_specific_limits_of_annex_vi(chemical: str, share: str, expected: set[str]) -> None:
    found = {c for c in classes(bath((share, recorded(chemical)))) if not c.startswith("Acute")}
    if any(c.startswith("Skin Corr") for c in expected):
        expected = expected | {"Eye Dam. 1"}
    assert found == expected


#: Generic limits: (class and statement, % just below, % at, class of the bath).
GENERIC = [
    ("Skin Corr. 1B H314", "4.99", "5", "Skin Corr. 1B"),
    ("Skin Corr. 1B H314", "0.99", "1", "Skin Irrit. 2"),
    ("Skin Irrit. 2 H315", "9.99", "10", "Skin Irrit. 2"),
    ("Eye Dam. 1 H318", "2.99", "3", "Eye Dam. 1"),
    ("Eye Dam. 1 H318", "0.99", "1", "Eye Irrit. 2"),
    ("Eye Irrit. 2 H319", "9.99", "10", "Eye Irrit. 2"),
    ("Skin Sens. 1 H317", "0.999", "1", "Skin Sens. 1"),
    ("Skin Sens. 1 H317", "0.0999", "0.1", "EUH208"),
    ("Skin Sens. 1A H317", "0.0999", "0.1", "Skin Sens. 1A"),
    ("Resp. Sens. 1 H334", "0.999", "1", "Resp. Sens. 1"),
    ("Muta. 1B H340", "0.0999", "0.1", "Muta. 1B"),
    ("Muta. 2 H341", "0.999", "1", "Muta. 2"),
    ("Carc. 1B H350", "0.0999", "0.1", "Carc. 1B"),
    ("Carc. 2 H351", "0.999", "1", "Carc. 2"),
    ("Repr. 1B H360", "0.2999", "0.3", "Repr. 1B"),
    ("Repr. 2 H361", "2.999", "3", "Repr. 2"),
    ("STOT RE 1 H372", "9.99", "10", "STOT RE 1"),
    ("STOT RE 1 H372", "0.99", "1", "STOT RE 2"),
    ("STOT SE 2 H371", "9.99", "10", "STOT SE 2"),
    ("STOT SE 3 H335", "19.99", "20", "STOT SE 3"),
    ("Aquatic Acute 1 H400", "24.99", "25", "Aquatic Acute 1"),
    ("Aquatic Chronic 1 H410", "24.99", "25", "Aquatic Chronic 1"),
    ("Aquatic Chronic 1 H410", "2.49", "2.5", "Aquatic Chronic 2"),
    ("Aquatic Chronic 1 H410", "0.249", "0.25", "Aquatic Chronic 3"),
    ("Aquatic Chronic 2 H411", "2.49", "2.5", "Aquatic Chronic 3"),
    ("Aquatic Chronic 3 H412", "24.99", "25", "Aquatic Chronic 3"),
    ("Aquatic Chronic 4 H413", "24.99", "25", "Aquatic Chronic 4"),
    ("Asp. Tox. 1 H304", "9.99", "10", "Asp. Tox. 1"),
    ("Lact. H362", "0.2999", "0.3", "Lact."),
    ("STOT SE 1 H370", "9.99", "10", "STOT SE 1"),
    ("STOT SE 1 H370", "0.99", "1", "STOT SE 2"),
    ("STOT RE 2 H373", "9.99", "10", "STOT RE 2"),
    ("STOT SE 3 H336", "19.99", "20", "STOT SE 3"),
    ("Skin Sens. 1B H317", "0.999", "1", "Skin Sens. 1"),
    ("Skin Sens. 1A H317", "0.00999", "0.01", "EUH208"),
    ("Resp. Sens. 1 H334", "0.0999", "0.1", "EUH208"),
]


@pytest.mark.parametrize(("entry", "below", "at", "reached"), GENERIC)
def test_each_generic_limit_from_just_below_to_at_it(entry: str, below: str, at: str, reached: str) -> None:
    assert reached not in classes(bath((below, hazards(entry))))
    assert reached in classes(bath((at, hazards(entry))))


def test_boron_compounds_are_summed() -> None:
    """Note 11 of Annex VI: 0.2 % of borax and 0.15 % of boric acid are 0.35 %, over 0.3 %."""
    borax, boric = recorded("borax"), recorded("boric-acid")
    assert classes(bath(("0.2", borax), ("0.09", boric))) == set()
    assert classes(bath(("0.2", borax), ("0.15", boric))) == {"Repr. 1B"}


#: 17 % of one and 15 % of another ingredient of a class: (entry, statement, section, shares told, limit). Where a rule
#: adds, 32 % are told, or the sum of share over limit; where not, each by itself. The ATE is 100 / (32 / 500).
TOLD = [
    ("Asp. Tox. 1 H304", "H304", "3.10.3.3", ["32 %"], "10 %"),
    ("Repr. 2 H361", "H361", "3.5 to 3.7, not additive", ["17 %", "15 %"], "3 %"),
    ("Carc. 2 H351", "H351", "3.5 to 3.7, not additive", ["17 %", "15 %"], "1 %"),
    ("Skin Irrit. 2 H315", "H315", "table 3.2.3, additive", ["sum of share over limit 3.2"], "1 (10 % of irritants)"),
    ("Eye Dam. 1 H318", "H318", "table 3.3.3, additive", ["sum of share over limit 10.67"], "1 (3 %)"),
    ("Eye Irrit. 2 H319", "H319", "table 3.3.3, additive", ["sum of share over limit 3.2"], "1 (10 % of irritants)"),
    ("STOT SE 3 H335", "H335", "3.8.3.4.5, additive", ["32 %"], "20 %"),
    ("STOT RE 1 H372", "H372", "tables 3.8.3 and 3.9.4", ["17 %", "15 %"], "10 %"),
    ("Skin Sens. 1 H317", "H317", "table 3.4.5, not additive", ["17 %", "15 %"], "1 %"),
    ("Aquatic Acute 1 H400", "H400", "table 4.1.1, with M", ["32 %"], "25 %"),
    ("Aquatic Chronic 2 H411", "H411", "table 4.1.2, ten times Chronic 1", ["32 %"], "25 %"),
    ("Aquatic Chronic 1 H410", "H410", "table 4.1.2, Chronic 1 with M", ["32 %"], "25 %"),
    ("Aquatic Chronic 3 H412", "H412", "table 4.1.2, a hundred times Chronic 1", ["32 %"], "25 %"),
    ("Aquatic Chronic 4 H413", "H413", "table 4.1.2, Chronic 1 to 4 without weights", ["32 %"], "25 %"),
    ("Acute Tox. 4 H302", "H302", "3.1.3.6.1, oral", ["ATE of the bath 1562.5"], "2000 mg/kg"),
    ("Acute Tox. 4 H312", "H312", "3.1.3.6.1, dermal", [], ""),
    ("Acute Tox. 3 H311", "H311", "3.1.3.6.1, dermal", ["ATE of the bath 937.5"], "1000 mg/kg"),
    ("STOT SE 2 H371", "H371", "tables 3.8.3 and 3.9.4", ["17 %", "15 %"], "10 %"),
    ("Acute Tox. 4 H332", "H332", "3.1.3.6.1, inhalation", ["ATE of the bath 4.69"], "5 mg/L"),
]


@pytest.mark.parametrize(("entry", "h", "rule", "shares_told", "limit"), TOLD)
def test_a_finding_says_what_it_rests_on(entry: str, h: str, rule: str, shares_told: list[str], limit: str) -> None:
    found = [one for one in bath(("17", hazards(entry)), ("15", hazards(entry))).findings if one.h == h]
    assert [value_words(one, str).partition(":")[0] for one in found] == shares_told
    assert all(rule_words(one).startswith(rule) and limit_words(one) == limit for one in found)
    told = {chemical for one in found for chemical in one.chemicals}
    assert told == ({"p0", "p1"} if shares_told else set())


def test_a_smaller_share_of_a_grave_class_is_told_with_its_own_limit() -> None:
    """Tables 3.8.3 and 3.9.4: 1 to 10 % of category 1 are category 2."""
    (found,) = bath(("2", hazards("STOT RE 1 H372"))).findings
    assert (found.hazard, found.h, found.compared) == ("STOT RE 2", "H373", HeldAgainst(D(2), D(1), "% w/w"))


def test_an_ingredient_of_category_4_counts_from_one_per_cent() -> None:
    """Table 1.1 of Annex I. 24 % of 500 mg/kg alone are 2083, over 2000; with 1.5 % more, 1961. 0.9 % do not count."""
    entry = hazards("Acute Tox. 4 H302")
    assert classes(bath(("24", entry))) == set()
    assert classes(bath(("24", entry), ("1.5", entry))) == {"Acute Tox. 4"}
    assert classes(bath(("24.6", entry), ("0.9", entry))) == set()


def test_a_graver_gas_has_a_trigger_of_its_own() -> None:
    """The law names no amount: this handbook says it from 1 %, or from what the record says."""
    usual, own = hazards(euh=["EUH031"]), hazards(euh=["EUH031"], gas_from="0.2 % w/w")
    assert classes(bath(("0.9", usual))) == set()
    assert classes(bath(("1", usual))) == {"EUH031"}
    assert classes(bath(("0.2", own))) == {"EUH031"}
    assert classes(bath(("0.19", own))) == set()


def test_one_route_without_a_category_does_not_hide_another() -> None:
    """By mouth 100 / (1 / 500) is 50000 and none; through the skin 100 / (50 / 300) is 600 and category 3."""
    found = bath(("1", oral("500")), ("50", hazards("Acute Tox. 3 H311"))).findings
    assert [(one.hazard, one.h) for one in found] == [("Acute Tox. 3", "H311")]


def test_the_cut_off_for_water_life_is_a_tenth_of_a_per_cent_over_m() -> None:
    """Table 1.1: 0.1 % / M. M of 1000 for chronic effects and 1 for acute: 0.0251 % counts, as 25.1 % does with M 1."""
    entry = hazards("Aquatic Chronic 1 H410", m_chronic="1000", m_acute="1")
    assert classes(bath(("0.0251", entry))) == {"Aquatic Chronic 1"}
    other = hazards("Aquatic Acute 1 H400", m_acute="1000", m_chronic="1")
    assert classes(bath(("0.0251", other))) == {"Aquatic Acute 1"}
    # 0.09 % of M 1 lies below the cut-off, however much the weights of Chronic 3 would make of it: 100 x 0.09 < 25.
    assert classes(bath(("0.09", hazards("Aquatic Chronic 1 H410")))) == set()


def test_boron_takes_the_statement_of_its_record() -> None:
    made = bath(("0.3", hazards("Repr. 1B H360F", boron="yes")))
    assert [finding.h for finding in made.findings] == ["H360F"]


def test_a_recorded_density_is_what_a_litre_weighs() -> None:
    """1.25 g/mL: 250 g of salt in a litre of 1250 g are 20 %, and never less than what goes in."""
    salt = [Need("sodium-thiosulfate", "pentahydrate", D(250), "g")]
    heavy = compose(salt, CATALOGUE.chemicals, D("1.25"))
    assert (heavy.mass, heavy.mass_rule) == (1250, "density")
    assert compose(salt, CATALOGUE.chemicals, None).mass == 1000


def test_extreme_ph_classifies_by_itself() -> None:
    assert classes(bath(("1", HARMLESS), ph="2")) == {"Skin Corr. 1", "Eye Dam. 1"}
    assert classes(bath(("1", HARMLESS), ph="11.5")) == {"Skin Corr. 1", "Eye Dam. 1"}
    assert classes(bath(("1", HARMLESS), ph="11.4")) == set()
    assert [value_words(one, str) for one in bath(("1", HARMLESS), ph="11-12").findings] == ["pH 12", "pH 12"]
    assert [value_words(one, str) for one in bath(("1", HARMLESS), ph="2-3").findings] == ["pH 2", "pH 2"]


def test_formaldehyde_sensitises_from_the_limit_of_its_category() -> None:
    """Annex VI since ATP 22: Skin Sens. 1A without a limit of its own, so 0.1 %; EUH208 from 0.01 % (table 3.4.6)."""
    entry = recorded("formaldehyde")
    assert "EUH208" in classes(bath(("0.01", entry)))
    assert "EUH208" not in classes(bath(("0.0099", entry)))
    assert "Skin Sens. 1A" in classes(bath(("0.1", entry)))
    assert "Skin Sens. 1A" not in classes(bath(("0.099", entry)))


@pytest.mark.parametrize(
    ("statements", "pictograms", "signal", "left"),
    [
        (["H314", "H318"], ("GHS05",), "Danger", ("H314",)),
        (["H318", "H315"], ("GHS05",), "Danger", ("H315", "H318")),
        (["H318", "H302"], ("GHS05", "GHS07"), "Danger", ("H302", "H318")),
        (["H301", "H315"], ("GHS06",), "Danger", ("H301", "H315")),
        (["H334", "H317"], ("GHS08",), "Danger", ("H317", "H334")),
        (["H334", "H302"], ("GHS07", "GHS08"), "Danger", ("H302", "H334")),
        (["H400", "H410"], ("GHS09",), "Warning", ("H410",)),
        (["H412"], (), None, ("H412",)),
        (["EUH208", "H319"], ("GHS07",), "Warning", ("H319", "EUH208")),
    ],
)
def test_precedence_of_label_elements(
    statements: list[str], pictograms: tuple[str, ...], signal: str | None, left: tuple[str, ...]
) -> None:
    """CLP Articles 20, 26 and 27; the text was read in translation."""
    label = label_of(statements)
    assert (label.pictograms, label.signal, label.statements) == (pictograms, signal, left)


@pytest.mark.parametrize(("hazard", "signal"), [("Ox. Sol. 2", "Danger"), ("Ox. Sol. 3", "Warning")])
def test_one_statement_of_two_classes_takes_the_signal_word_of_its_class(hazard: str, signal: str) -> None:
    """Annex I, table 2.14.2: H272 stands for categories 2 and 3 of oxidising solids."""
    assert label_of(["H272"], [hazard]).signal == signal


def test_solutions_and_hydrates_enter_as_the_substance_of_the_entry() -> None:
    """100 mL of 60 % acetic acid of 1.064 g/mL holds 63.8 g; 143 g of washing soda crystals hold 53 g of carbonate."""
    needs = [Need("acetic-acid", "solution-60", D(100), "mL"), Need("sodium-carbonate", "decahydrate", D(143), "g")]
    parts = {part.chemical: part for part in compose(needs, CATALOGUE.chemicals, D("1.0")).substances}
    assert abs(parts["acetic-acid"].grams - D("63.8")) < D("0.1")
    assert abs(parts["sodium-carbonate"].grams - D("53.0")) < D("0.1")


def test_a_bath_weighs_at_least_its_ingredients(demo: Catalogue) -> None:
    needs = [Need("sodium-thiosulfate", "pentahydrate", D(1100), "g")]
    composition = compose(needs, demo.chemicals, None)
    assert composition.mass == 1100
    assert composition.mass_rule == "ingredients"


RECORDS = st.sampled_from(sorted(c for c in CATALOGUE.chemicals if CATALOGUE.chemicals[c].hazards))
MIXTURES = st.dictionaries(RECORDS, st.decimals("0.01", "20", places=2), min_size=1, max_size=4)


def shares(mixture: dict[str, Decimal]) -> list[tuple[str, Hazards | None]]:
    return [(str(share), recorded(chemical)) for chemical, share in sorted(mixture.items())]


@given(MIXTURES, st.integers(2, 50))
def test_water_never_adds_a_hazard_by_a_concentration_rule(mixture: dict[str, Decimal], factor: int) -> None:
    """Diluting can turn one class into a milder one of the same kind, but brings no new statement of another kind."""
    strong = {f.h for f in bath(*shares(mixture)).findings}
    weak = {f.h for f in bath(*shares({c: s / factor for c, s in mixture.items()})).findings}
    milder = {"H314": {"H315", "H318", "H319"}, "H318": {"H319"}, "H317": {"EUH208"}, "H334": {"EUH208"}}
    milder |= {"H372": {"H373"}, "H370": {"H371"}, "H410": {"H411", "H412"}, "H411": {"H412"}}
    milder |= {"H300": {"H301", "H302"}, "H301": {"H302"}, "H310": {"H311", "H312"}, "H311": {"H312"}}
    milder |= {"H330": {"H331", "H332"}, "H331": {"H332"}}
    allowed = strong | {m for h in strong for m in milder.get(h, set())}
    assert weak <= allowed


@given(MIXTURES)
def test_order_changes_nothing(mixture: dict[str, Decimal]) -> None:
    forward = bath(*shares(mixture))
    backward = bath(*reversed(shares(mixture)))
    assert {(f.hazard, f.h) for f in forward.findings} == {(f.hazard, f.h) for f in backward.findings}


@given(st.decimals("1", "400", places=1), st.decimals("1", "400", places=1))
def test_splitting_an_ingredient_changes_nothing(first: Decimal, second: Decimal) -> None:
    one = compose([Need("borax", "decahydrate", first + second, "g")], CATALOGUE.chemicals, None)
    two = compose(
        [Need("borax", "decahydrate", first, "g"), Need("borax", "decahydrate", second, "g")], CATALOGUE.chemicals, None
    )
    assert one == two


def test_unknown_ingredients_are_named_with_their_share() -> None:
    composition = compose([Need("bleach-accelerator-pba-1", "dihydrochloride", D(20), "g")], CATALOGUE.chemicals, None)
    assert composition.unknown == (Substance("bleach-accelerator-pba-1", None, D(20), D(2), ("dihydrochloride",)),)
