"""Every hazard record against the table of harmonised entries: ``annex_vi.yml`` beside this file names its source.

A record may be stricter where it says so and whose word that is (``beyond:``), and never milder.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml

from reckoner.calc.hazards.jar import jar_label
from reckoner.calc.results import Results
from reckoner.records.catalogue import Catalogue
from reckoner.records.hazard import Hazards
from reckoner.records.values import Strength
from reckoner.warn.safety import older_adaptations
from small import SOURCE, chemical, results

TABLE: dict[str, Any] = yaml.load((Path(__file__).parent / "annex_vi.yml").read_text("utf-8"), yaml.CBaseLoader)
ENTRIES: dict[str, Any] = TABLE["entries"]
NEWEST = "ATP 23"


def test_every_chemical_was_looked_up(demo: Catalogue) -> None:
    assert ENTRIES.keys() | set(TABLE["none"]) == demo.chemicals.keys()
    assert len(ENTRIES) + len(TABLE["none"]) == len(demo.chemicals)


def entered(demo: Catalogue, name: str) -> Hazards:
    """The one record that follows the entry."""
    (record,) = (record for record in demo.chemicals[name].hazards if record.status == "harmonised")
    return record


def beyond(record: Hazards) -> set[str]:
    """Statements that the record says are not the entry's."""
    assert all(len(entry.why) > 20 for entry in record.beyond)
    return {entry.h for entry in record.beyond}


@pytest.mark.parametrize("name", ENTRIES)
def test_index_and_adaptation_are_the_table_s(name: str, demo: Catalogue) -> None:
    record, entry = entered(demo, name), ENTRIES[name]
    assert record.index == entry["index"]
    assert record.index in str(record.source.citation)
    atp = int(entry["atp"])
    assert (f"ATP {atp}," if atp else "first text") in record.edition


@pytest.mark.parametrize("name", ENTRIES)
def test_classes_are_the_table_s(name: str, demo: Catalogue) -> None:
    """The asterisk of a minimum classification too; ``**`` and ``***`` are no minimum."""
    record = entered(demo, name)
    here = {f"{entry.hazard} {entry.h}{'*' if entry.minimum else ''}" for entry in record.classes}
    table = set(ENTRIES[name]["classes"])
    assert table - here == set()
    assert {line.rstrip("*").rsplit(" ", 1)[1] for line in here - table} <= beyond(record)


@pytest.mark.parametrize("name", ENTRIES)
def test_limits_are_the_table_s(name: str, demo: Catalogue) -> None:
    """Where a record is beyond the entry, its limit begins no higher."""
    record, more = entered(demo, name), beyond(entered(demo, name))
    here, starts = set(), {}
    for limit in record.limits:
        end = f"{limit.below.percent.normalize():f}" if limit.below else ""
        here.add(f"{limit.hazard} {limit.h} {limit.start.percent.normalize():f}-{end}")
        starts[limit.h] = min(limit.start.percent, starts.get(limit.h, limit.start.percent))
    for difference in set(ENTRIES[name].get("limits", [])) ^ here:
        _, h, span = difference.rsplit(" ", 2)
        assert h in more, difference
        assert starts[h] <= int(span.split("-")[0])


@pytest.mark.parametrize("name", ENTRIES)
def test_factors_estimates_and_supplements_are_the_table_s(name: str, demo: Catalogue) -> None:
    record, entry = entered(demo, name), ENTRIES[name]
    factors = [int(m) for m in entry.get("M", [])]
    assert [record.m_acute, record.m_chronic][: len(factors) or 2] == (factors or [1, 1])
    harmonised = [estimate for estimate in record.acute if estimate.kind == "harmonised ATE"]
    told = {f"{estimate.way} {estimate.value.number.normalize():f}" for estimate in harmonised}
    assert told == set(entry.get("ate", []))
    assert set(entry.get("euh", [])) <= set(record.euh) <= set(entry.get("euh", [])) | beyond(record)


@pytest.mark.parametrize("name", TABLE["none"])
def test_what_has_no_entry_says_so(name: str, demo: Catalogue) -> None:
    for record in demo.chemicals[name].hazards:
        assert record.status != "harmonised"
        assert record.index is None
        assert f"no entry in Annex VI up to {NEWEST}" in record.edition


#: (chemical, h, whose word it is): the statement is kept, and the record says whose it is.
STRICTER = [
    ("sodium-sulfide", "EUH031", "this handbook's caution"),
    ("sodium-thiocyanate", "EUH032", "this handbook's caution"),
    ("potassium-thiocyanate", "EUH032", "this handbook's caution"),
    ("potassium-permanganate", "H318", "suppliers' sheets"),
    ("benzotriazole", "H302", "suppliers"),
    ("hydrogen-peroxide", "H272", "BG RCI"),
]


@pytest.mark.parametrize(("name", "h", "whose"), STRICTER)
def test_what_is_stricter_says_whose_word_it_is(
    name: str, h: str, whose: str, demo: Catalogue, demo_pages: Mapping[str, str]
) -> None:
    why = {entry.h: entry.why for entry in entered(demo, name).beyond}
    assert whose in why[h]
    page = demo_pages[f"chemicals/{name}.md"].replace("&#39;", "'")
    assert f"{h} goes beyond the entry" in page


def test_read_across_is_told_the_same_way(demo: Catalogue, demo_pages: Mapping[str, str]) -> None:
    """Metaborate as borax; the alkali bromides beside ammonium bromide: a decision, its certainty and who decides."""
    assert "H360FD" in {entry.h for entry in demo.chemicals["sodium-metaborate"].hazards[0].classes}
    for name, of, carried in (
        ("sodium-metaborate", "borax, 005-011-00-4", True),
        ("potassium-bromide", "ammonium bromide, 035-005-00-7", False),
        ("sodium-bromide", "ammonium bromide, 035-005-00-7", False),
        ("sodium-persulfate", "ammonium and potassium persulfate", True),
        ("p-aminophenol-hydrochloride", "the free base, 612-128-00-X", True),
    ):
        record = demo.chemicals[name].hazards[-1]
        assert record.read_across is not None, name
        assert (record.read_across.of.startswith(of), record.read_across.carried) == (True, carried)
        page = demo_pages[f"chemicals/{name}.md"]
        assert re.search(rf"{'taken over from' if carried else 'not taken over from'} {re.escape(of)}", page)
        assert "a decision of this handbook; the supplier" in page
    across = {c.id for c in demo.chemicals.values() for r in c.hazards if r.status == "read across"}
    assert across == {"sodium-metaborate", "sodium-persulfate", "p-aminophenol-hydrochloride"}


def test_the_page_shows_index_adaptation_and_who_decided(demo_pages: Mapping[str, str]) -> None:
    page = demo_pages["chemicals/formaldehyde.md"]
    assert "index 605-001-00-5, entry of ATP 22, in application since 2026-05-01, compared with ATP 23" in page


#: Strength of peroxide, its oxidising class: Annex VI 008-003-00-9 from 50 % (to be confirmed by test); below that the
#: practice of BG RCI, GisChem, second-hand: Ox. Liq. 2 from 20 %, Ox. Liq. 3 from 8 %.
PEROXIDE = [("3", ""), ("7.9", ""), ("8", "H272"), ("30", "H272"), ("50", "H272"), ("69", "H272"), ("70", "H271")]


@pytest.mark.parametrize(("strength", "code"), PEROXIDE)
def test_peroxide_is_an_oxidiser_by_its_strength(strength: str, code: str, demo: Catalogue) -> None:
    peroxide = demo.chemicals["hydrogen-peroxide"]
    form = peroxide.forms[0].model_copy(update={"strength": Strength(Decimal(strength), "w/w")})
    label = jar_label(peroxide, form, peroxide.hazards[0])
    assert {h for h in label.statements if h in {"H271", "H272"}} == ({code} if code else set())


def checked(
    named: str,
    known: str = "[{name: ATP 8, regulation: a, applies: 2026-01-01}, {name: ATP 9, regulation: b, "
    "applies: 2027-02-01}]",
) -> list[str]:
    """What a record that was compared with an adaptation is warned of."""
    against = f"checked_against: {named}," if named else ""
    record = (
        "hazards: [{forms: [solid], not_classified: yes, jurisdiction: European Union, edition: a table, "
        f"{against} status: harmonised, {SOURCE}}}]\n"
    )
    return [
        str(problem)
        for problem in older_adaptations(
            results(
                {
                    "chemicals/stuff.yml": chemical("stuff", "[{id: solid, name: solid}]") + record,
                    "hazard_phrases.yml": f"edition: a\nadaptations: {known}\n"
                    f"phrases: [{{code: H319, text: Irritates.}}]\n{SOURCE}\n",
                }
            )
        )
    ]


def test_a_record_compared_with_an_older_adaptation_is_warned_of() -> None:
    assert checked("ATP 9") == []
    (older,) = checked("ATP 8")
    assert older.startswith("formulas/chemicals/stuff.yml:7:")
    assert "compared with ATP 8; ATP 9, b, applies from 2027-02-01" in older
    (unknown,) = checked("ATP 10")
    assert "unknown adaptation 'ATP 10' (write one of: ATP 8, ATP 9)" in unknown
    (silent,) = checked("")
    assert "write checked_against: ATP 9" in silent
    assert "list it under adaptations:" in checked("ATP 9", "[]")[0]


def test_the_demo_is_compared_with_the_newest(demo_results: Results) -> None:
    phrases = demo_results.catalogue.phrases
    assert phrases is not None
    assert phrases.adaptations[-1].name == NEWEST
    assert older_adaptations(demo_results) == ()
