"""Pages on how far to trust the handbook: rules with examples, what rests on which source, and what is not known."""

from __future__ import annotations

import re

from PIL import Image

from reckoner.calc.provenance import provenance
from reckoner.calc.results import Results
from reckoner.calc.unknowns import unknowns
from reckoner.pages.kinds import pages
from reckoner.pages.shared.display import Display
from reckoner.pages.shared.page import Links
from reckoner.pages.shared.parts import PageWriter
from reckoner.pages.trust.unknown_view import unknown_view
from reckoner.pages.trust.worked_view import worked_view
from site_build import ROOT
from small import SOURCE, chemical, formula, load, process, results, supplier

SALT = chemical("salt", "[{id: solid, name: solid, formula: NaCl}]")
BATH = formula("bath", "[{chemical: salt, form: solid, amount: 100 g}]")


def writer(found: Results) -> PageWriter:
    return PageWriter(found, Display("en_GB"), Links("worked-out.md"))


def test_values_count_for_the_nearest_source() -> None:
    """The bath has 5 of its own: purpose, strength, makes, water, amount, and so on; only its named ones may move."""
    plain = provenance(load({"chemicals/salt.yml": SALT, "solutions/bath.yml": BATH}))
    named = BATH.replace(SOURCE, "source: {certainty: from memory, citation: 'A book, index 7', checked: 2026-11-25}")
    keeping = "keeping: [{state: working, time: 1 months, certainty: common practice}]\n"
    found = provenance(load({"chemicals/salt.yml": SALT, "solutions/bath.yml": named + keeping}))
    assert set(found.by_citation) == {"", "A book"}
    moved = found.by_citation["A book"]["from memory"]
    # purpose, strength, makes, water; chemical, form, amount; caution, disposal.
    assert moved == 9
    # State and time of the keeping are common practice, which no book is named for.
    assert found.by_certainty["common practice"] == plain.by_certainty["common practice"] - moved + 2


def test_a_surer_time_counts_as_sure() -> None:
    files = {"chemicals/salt.yml": SALT, "solutions/bath.yml": BATH, "processes/pr.yml": process("bath")}
    timed = files["processes/pr.yml"].replace("kind: bath,", "kind: bath, time: 3:15, time_certainty: computed,")
    before, after = provenance(load(files)), provenance(load({**files, "processes/pr.yml": timed}))
    assert after.by_certainty.get("computed", 0) == before.by_certainty.get("computed", 0) + 1
    assert after.by_certainty["common practice"] == before.by_certainty["common practice"]


def test_each_gap_is_told_and_goes_when_it_is_filled() -> None:
    files = {"chemicals/salt.yml": SALT, "solutions/bath.yml": BATH, "processes/pr.yml": process("bath")}
    gaps = unknowns(results(files))
    assert "salt" in gaps.not_assessed
    assert gaps.unpriced == ("salt",)
    assert gaps.no_capacity == gaps.no_keeping == gaps.no_ph == ("bath",)
    assert gaps.untimed == (("pr", 1),)
    dry = "  - {name: Dry, kind: drying, light: room light, certainty: common practice}\n"
    timed = files["processes/pr.yml"].replace(
        "baths: [{formula: bath, certainty", "baths: [{formula: bath, time: 3:00, certainty"
    )
    after = {**files, "processes/pr.yml": timed.replace("source:", f"{dry}source:", 1)}
    assert unknowns(results(after)).untimed == (), "a bath's own time is one, and drying is in no total"
    assert gaps.doubtful == gaps.unproven == ()
    recalled = BATH.replace(SOURCE, "source: {certainty: from memory, citation: a book, checked: 2026-11-25}")
    assert unknowns(results({**files, "solutions/bath.yml": recalled})).unproven == ("bath",)
    proven = f"{recalled}proven_on: 2026-11-01\n"
    assert unknowns(results({**files, "solutions/bath.yml": proven})).unproven == ()
    full = BATH + (
        "keeping: [{state: working, time: 1 months, certainty: common practice}]\n"
        "capacity: [{does: 4 rolls, per: 1 L, certainty: common practice}]\n"
        "ph: {value: 7, certainty: common practice}\ndoubts: [a doubt]\n"
    )
    offer = "{chemical: salt, form: solid, pack: 1 kg, price: 10.00 EUR}"
    filled = unknowns(
        results(
            {
                **files,
                "solutions/bath.yml": full,
                "prices/shop/supplier.yml": supplier(),
                "prices/shop/2026-11-01.yml": f"date: 2026-11-01\noffers: [{offer}]\n",
            }
        )
    )
    assert filled.unpriced == filled.no_capacity == filled.no_keeping == filled.no_ph == ()
    assert filled.doubtful == ("bath",)


def test_the_page_of_gaps_names_every_one(demo_results: Results) -> None:
    view, gaps = unknown_view(writer(demo_results)), unknowns(demo_results)
    counts = {gap.title.partition(":")[0]: len(gap.lines) for gap in view.gaps}
    assert counts["Chemicals not assessed"] == len(gaps.not_assessed) > 0
    assert counts["Formulas with doubts"] == len(gaps.doubtful) > 0
    assert counts["No price"] == len(gaps.unpriced) > 0


def test_every_rule_is_told_once_with_figures_of_this_build(demo_results: Results) -> None:
    examples = worked_view(writer(demo_results)).examples
    rules = [example.rule for example in examples]
    assert len(set(rules)) == len(rules) > 15
    assert len({example.anchor for example in examples}) == len(examples)
    titles = [example.title for example in examples]
    for start in ("Amount for a batch", "Water", "Cost of a roll", "Hazard", "Basket of a plan", "Age of a record"):
        assert any(title.startswith(start) for title in titles), start
    assert all(example.inputs and re.search(r"\d|H\d|EUH", example.result) for example in examples)


def test_shares_are_of_chemicals_by_their_names(demo_results: Results) -> None:
    """An id as ``sodium-hydroxide`` is for files, not for a reader."""
    shares = [text for example in worked_view(writer(demo_results)).examples for text in example.inputs]
    named = [text for text in shares if text.startswith("share: ") and re.search(r"[a-z]", text[7:])]
    assert named
    ids = {i for i, chemical in demo_results.catalogue.chemicals.items() if "-" in i and i not in chemical.name}
    assert not [text for text in named for i in ids if re.search(rf"(?<![\w-]){i}(?![\w-])", text)]


def test_a_handbook_of_one_formula_has_these_pages_too() -> None:
    made = {
        page.path: page.markdown for page in pages(results({"chemicals/salt.yml": SALT, "solutions/bath.yml": BATH}))
    }
    assert "Chemicals not assessed: " in made["not-known.md"]
    assert "Without a publication:" in made["sources.md"]
    assert "Water" in made["worked-out.md"]


def test_pictures_of_the_readme_are_there_and_small() -> None:
    named = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", (ROOT / "README.md").read_text("utf-8"))
    assert len(named) == 3
    for name in named:
        assert (ROOT / name).stat().st_size < 60_000
        with Image.open(ROOT / name) as image:
            assert image.size == (390, 844)
