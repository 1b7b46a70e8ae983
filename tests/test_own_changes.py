"""What the owner's records change of the library's stands on the page, in the figures and among the sources."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from data_layers import LIBRARY as SHIPPED
from over_library import built, lay, page, small_library
from reckoner.audience import CLUB
from reckoner.build import Built
from reckoner.outputs.data_files import data_files
from reckoner.pages.shared.display import NBSP, Display
from reckoner.pages.shared.value_words import ValueWords
from reckoner.records.catalogue import Catalogue
from reckoner.records.values import Record

FIXER = "solutions/fixers/fixer.yml"
SULFITE = "chemicals/sodium-sulfite.yml"
KEEPS = "keeping: [{state: full bottle, time: 6 months, certainty: common practice}]\n"
HARM = (
    "hazards:\n  - {forms: [anhydrous], classes: [{hazard: Skin Corr. 1B, h: H314}], jurisdiction: a test,\n"
    "     edition: a test, status: self-classification, source: {certainty: invented, checked: 2026-10-01}}\n"
)
#: The library's records with what the tests change.
LIBRARY = {FIXER: ("source:", f"{KEEPS}source:"), SULFITE: ("source:", f"{HARM}source:")}
OWN = "source: {certainty: own practice, checked: 2026-11-20}\n"


def changed(folder: Path, files: dict[str, str], audience: str = "personal") -> Built:
    small_library(folder, LIBRARY)
    return built(lay(folder, files), audience=audience)


def figures(made: Built) -> dict[str, Any]:
    files = dict(data_files(made.results))
    figures: dict[str, Any] = json.loads(files["data/handbook.json"])
    jsonschema.validate(figures, json.loads(files["data/handbook.schema.json"]))
    return figures


def record_of(figures: dict[str, Any], kind: str, record_id: str) -> dict[str, Any]:
    return next(record for record in figures[kind] if record["id"] == record_id)


def block(text: str) -> str:
    """The block on a page, without the spaces that do not break."""
    begin = text.index('<div class="hb-own"')
    return text[begin : text.index("</div>", begin)].replace(NBSP, " ").replace("&#39;", "'")


def test_a_changed_key_is_told_with_both_values_and_dates(tmp_path: Path) -> None:
    change = "keeping: [{state: full bottle, time: 1 years, certainty: own practice}]"
    made = changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{{change}}}\n{OWN}"})
    told = block(page(made, "solutions/fixer.md"))
    assert "Changed in this handbook." in told
    assert "The library's record is of 25 Nov 2026, the change here of 20 Nov 2026: own practice, no" in told
    line = "keeping, full bottle: library 6 months (25 Nov 2026), here 1 year (20 Nov 2026, own practice)"
    assert f"<li>{line}</li>" in told
    assert record_of(figures(made), "formulas", "fixer")["changed"] == [
        {"key": "keeping.0.time", "library": "6 months", "here": "1 year"},
        {"key": "keeping.0.certainty", "library": "common practice", "here": "own practice"},
    ]


def test_a_whole_record_is_told_key_by_key(tmp_path: Path) -> None:
    whole = (
        "id: fixer\nname: Our fixer\npurpose: fixer\nstrength: working\nmakes: 1 L\nstart_water: 700 mL\ningredients:\n"
        "  - {chemical: sodium-thiosulfate, form: pentahydrate, amount: 240 g}\n"
        "  - {chemical: sodium-sulfite, form: anhydrous, amount: 15 g}\ncautions: [Wear gloves.]\n"
        f"disposal: silver-bearing\n{OWN}"
    )
    made = changed(tmp_path, {FIXER: whole})
    told = block(page(made, "solutions/fixer.md"))
    assert "The library's record is of 25 Nov 2026, the one here in its place of 20 Nov 2026: own practice" in told
    dates = "(25 Nov 2026)", "(20 Nov 2026, own practice)"
    for key, library, here in (
        ("name", "Plain fixer", "Our fixer"),
        ("ingredients, Sodium thiosulfate", "250 g", "240 g"),
        ("keeping", "full bottle, 6 months, common practice", "none"),
    ):
        assert f"<li>{key}: library {library} {dates[0]}, here {here} {dates[1]}</li>" in told
    assert told.count("<li>") == 3


def test_where_nothing_is_changed_nothing_is_said(tmp_path: Path) -> None:
    made = changed(tmp_path, {})
    assert [page.path for page in made.pages if "hb-own" in page.markdown] == []
    assert all(formula["changed"] == [] for formula in figures(made)["formulas"])
    assert "data/own-changes.csv" not in dict(data_files(made.results))


@pytest.mark.parametrize(
    ("change", "own"),
    [
        (
            "ingredients: [{chemical: sodium-thiosulfate, form: pentahydrate, amount: 240 g},"
            " {chemical: sodium-sulfite, form: anhydrous, amount: 15 g}]",
            True,
        ),
        ("makes: 900 mL", True),
        ("start_water: 600 mL", True),
        ("keeping: [{state: full bottle, time: 1 weeks, certainty: own practice}]", False),
        ("notes: [Ours.]", False),
    ],
)
def test_bench_sheet_and_label_say_whose_weights_they_are(tmp_path: Path, change: str, own: bool) -> None:
    made = changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{{change}}}\n{OWN}"})
    line = "The weights are this handbook&#39;s own, not the library&#39;s."
    for path in ("bench/fixer.md", "labels/fixer.md"):
        assert (line in page(made, path)) is own, path
    assert line not in page(made, "bench/fixer-half.md")


def test_a_changed_entry_is_one_difference_also_where_the_list_grows(tmp_path: Path) -> None:
    keeping = "[{state: working, time: 1 days, certainty: invented}, "
    keeping += "{state: full bottle, time: 9 months, certainty: common practice}]"
    made = changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{keeping: {keeping}}}\n{OWN}"})
    assert record_of(figures(made), "formulas", "fixer")["changed"] == [
        {"key": "keeping.1.time", "library": "6 months", "here": "9 months"},
        {"key": "keeping", "library": None, "here": "working, 1 day, invented"},
    ]


def test_a_changed_text_is_one_difference_also_where_the_list_grows(tmp_path: Path) -> None:
    change = "cautions: [Wear long gloves., Ask.]"
    made = changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{{change}}}\n{OWN}"})
    assert record_of(figures(made), "formulas", "fixer")["changed"] == [
        {"key": "cautions", "library": "Wear gloves.", "here": "Wear long gloves."},
        {"key": "cautions", "library": None, "here": "Ask."},
    ]


def test_what_changes_places_is_not_taken_for_the_same(tmp_path: Path) -> None:
    """The order of a list says what is weighed first."""
    lines = "{chemical: sodium-sulfite, form: anhydrous, amount: 15 g}, "
    lines += "{chemical: sodium-thiosulfate, form: pentahydrate, amount: 250 g}"
    made = changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{ingredients: [{lines}]}}\n{OWN}"})
    keys = [each["key"] for each in record_of(figures(made), "formulas", "fixer")["changed"]]
    assert {"ingredients.0.chemical", "ingredients.1.chemical"} <= set(keys)


def test_a_class_that_is_left_out_is_told_in_words(tmp_path: Path) -> None:
    record = HARM.replace("\n", " ").replace("Skin Corr. 1B", "Skin Corr. 1C").removeprefix("hazards:   - ").strip()
    change = f"id: sodium-sulfite\nchanges: {{hazards: [{record}]}}\nmilder_because: Another grade.\n{OWN}"
    told = block(page(changed(tmp_path, {SULFITE: change}), "chemicals/sodium-sulfite.md"))
    assert "class Skin Corr. 1B (H314) of anhydrous: library yes (25 Nov 2026), here no (20 Nov 2026," in told
    assert "class Skin Corr. 1C (H314) of anhydrous: library no (25 Nov 2026), here yes (20 Nov 2026," in told
    assert "classes" not in told


def test_a_remark_beside_a_weight_is_no_weight(tmp_path: Path) -> None:
    lines = "{chemical: sodium-thiosulfate, form: pentahydrate, amount: 250 g, note: ours}, "
    lines += "{chemical: sodium-sulfite, form: anhydrous, amount: 15 g}"
    made = changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{ingredients: [{lines}]}}\n{OWN}"})
    assert "ingredients, Sodium thiosulfate, note: library none" in block(page(made, "solutions/fixer.md"))
    assert "The weights are" not in page(made, "bench/fixer.md")


def test_a_milder_chemical_says_so_and_why(tmp_path: Path) -> None:
    change = f"id: sodium-sulfite\nchanges: {{hazards: []}}\nmilder_because: Another grade.\n{OWN}"
    made = changed(tmp_path, {SULFITE: change})
    told = block(page(made, "chemicals/sodium-sulfite.md"))
    assert "Milder than the library's record: not assessed for anhydrous. Reason: Another grade." in told
    held = "anhydrous: Skin Corr. 1B H314 (self-classification, a test)"
    assert f"hazards: library {held} (25 Nov 2026), here none" in told
    line = "Recorded here with less danger than in the library: Sodium sulfite. Why stands on that page."
    pages = ("solutions/fixer.md", "solutions/fixer-half.md", "bench/fixer.md", "bench/fixer-half.md")
    for path in (*pages, "processes/fixing.md"):
        assert line in page(made, path), path
    for path in ("labels/fixer.md", "labels/fixer-half.md"):
        assert "<p>Less danger recorded than in the library: Sodium sulfite.</p>" in page(made, path), path
    out = record_of(figures(made), "chemicals", "sodium-sulfite")
    assert (out["milder"], out["milder_because"]) == (["not assessed for anhydrous"], "Another grade.")


def test_a_chemical_made_milder_is_the_owners_word_alone(tmp_path: Path) -> None:
    """Metol without its sensitising class: no law that its record names says so, wherever its jar is told of."""
    record = yaml.safe_load((SHIPPED / "chemicals" / "metol.yml").read_text("utf-8"))["hazards"]
    milder = [{**record[0], "classes": [entry for entry in record[0]["classes"] if entry["h"] != "H317"]}]
    stricter = [{**record[0], "classes": [*record[0]["classes"], {"hazard": "Eye Irrit. 2", "h": "H319"}]}]
    told = "the word of this handbook&#39;s owner, milder than the library&#39;s record: own practice"
    law = "harmonised; European Union, index 650-031-00-4"
    pages = ("chemicals/metol.md", "solutions/bw-mq-borax.md")
    for name, hazards, because, own in (
        ("milder", milder, "milder_because: A test.\n", True),
        ("stricter", stricter, "", False),
    ):
        change = f"id: metol\nchanges: {{hazards: {json.dumps(hazards, default=str)}}}\n{because}{OWN}"
        made = built(lay(tmp_path / name, {"chemicals/metol.yml": change}, "{formulas: [bw-mq-borax]}"))
        assert [(told in page(made, path), law in page(made, path)) for path in pages] == [(own, not own)] * 2
        for path in ("solutions/bw-mq-borax.md", "bench/bw-mq-borax.md"):
            assert ("Recorded here with less danger than in the library: Metol." in page(made, path)) is own, path
        short = "<p>Less danger recorded than in the library: Metol.</p>"
        assert (short in page(made, "labels/bw-mq-borax.md")) is own


def test_a_stricter_chemical_says_what_it_adds(tmp_path: Path) -> None:
    change = "id: sodium-sulfite\nchanges:\n  cautions: [Never breathe it.]\n"
    made = changed(tmp_path, {SULFITE: change + OWN})
    told = block(page(made, "chemicals/sodium-sulfite.md"))
    assert "cautions: library none (25 Nov 2026), here Never breathe it. (20 Nov 2026, own practice)" in told
    assert "Milder" not in told
    assert "with less danger" not in "".join(page.markdown for page in made.pages)


def test_a_process_says_what_is_changed(tmp_path: Path) -> None:
    made = changed(tmp_path, {"processes/fixing.yml": f"id: fixing\nchanges: {{darkness: None at all.}}\n{OWN}"})
    told = block(page(made, "processes/fixing.md"))
    assert "darkness: library Safelight until the paper is fixed. (25 Nov 2026), here None at all." in told
    assert [each["key"] for each in record_of(figures(made), "processes", "fixing")["changed"]] == ["darkness"]


def test_many_differences_stand_in_a_fold_that_counts_them(tmp_path: Path) -> None:
    change = "name: Ours, makes: 900 mL, start_water: 600 mL, idle: Wait., notes: [Ours.], aliases: [ours]"
    told = block(page(changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{{change}}}\n{OWN}"}), "solutions/fixer.md"))
    keys = "name, aliases, makes, start water, idle, notes"
    assert f"<summary>6 differences from the library's record: {keys}</summary>" in told
    assert told.count("<li>") == 6


def test_no_difference_that_speaks_of_danger_is_folded(tmp_path: Path) -> None:
    change = "name: Ours, makes: 900 mL, idle: Wait., notes: [Ours.], aliases: [ours], cautions: [None.], ph: "
    change += "{value: 4.9, certainty: own practice}, disposal: acid"
    told = block(page(changed(tmp_path, {FIXER: f"id: fixer\nchanges: {{{change}}}\n{OWN}"}), "solutions/fixer.md"))
    stands, folded = told.split("<details>")
    for key in ("cautions, 1: library Wear gloves.", "pH: library none", "disposal: library silver-bearing"):
        assert key in stands
    assert "<summary>5 differences from the library's record: name, aliases, makes, idle, notes</summary>" in folded
    assert (stands.count("<li>"), folded.count("<li>")) == (3, 5)


def test_the_table_of_changes_has_every_difference(tmp_path: Path) -> None:
    change = f"id: fixer\nchanges: {{makes: 900 mL, notes: [=1+1]}}\n{OWN}"
    files = dict(data_files(changed(tmp_path, {FIXER: change}).results))
    rows = list(csv.DictReader(io.StringIO(files["data/own-changes.csv"])))
    assert [(row["key"], row["library"], row["here"]) for row in rows] == [
        ("makes", "1 L", "900 mL"),
        ("notes", "", "'=1+1"),
    ]
    assert {(row["library checked"], row["here checked"], row["certainty"]) for row in rows} == {
        ("2026-11-25", "2026-11-20", "own practice")
    }
    package = json.loads(files["data/datapackage.json"])
    fields = next(r for r in package["resources"] if r["path"] == "own-changes.csv")["schema"]["fields"]
    assert [field["name"] for field in fields] == list(rows[0])


def test_values_of_changed_keys_are_counted_as_own(tmp_path: Path) -> None:
    before = changed(tmp_path / "a", {}).results.rests_on.by_certainty
    change = f"id: fixer\nchanges: {{makes: 900 mL, notes: [Ours.], idle: Wait.}}\n{OWN}"
    kept = f"id: fixer-half\nchanges: {{idle: Wait., mixing: [Pour., Stir.]}}\n{OWN}"
    made = changed(tmp_path / "b", {"solutions/fixers/fixer-half.yml": kept})
    after = made.results.rests_on.by_certainty
    assert after.get("own practice", 0) - before.get("own practice", 0) == 3
    assert after["common practice"] == before["common practice"]
    sources = page(made, "sources.md")
    assert "with single keys changed here: <b>1</b>" in sources
    assert ">Plain fixer at half strength</a>. Each page says how." in sources
    # Where weights change, the whole record is the owner's word.
    whole = changed(tmp_path / "c", {FIXER: change}).results.rests_on.by_certainty
    assert whole["common practice"] < before["common practice"]


def test_a_handbook_without_a_library_says_nothing_of_one(tmp_path: Path) -> None:
    small_library(tmp_path)
    data = tmp_path / "formulas"
    for path in (data / "library").iterdir():
        path.rename(data / path.name)
    settings = lay(tmp_path, {}) / "settings.yml"
    settings.write_text(settings.read_text("utf-8").partition("library:")[0], "utf-8")
    assert "Whose records these are" not in page(built(data), "sources.md")


#: Begins every planted word.
MARK = "zqj"


def test_a_private_record_over_the_librarys_is_not_seen_by_others(tmp_path: Path) -> None:
    own = f"id: fixer\nchanges: {{notes: [{MARK}1], makes: 900 mL, private: yes}}\n{OWN}"
    files = {FIXER: own, "processes/fixing.yml": f"id: fixing\nchanges: {{darkness: {MARK}2, private: yes}}\n{OWN}"}
    mine = changed(tmp_path / "mine", files)
    assert f"{MARK}1" in page(mine, "solutions/fixer.md")
    assert f"{MARK}2" in page(mine, "processes/fixing.md")
    theirs, library = changed(tmp_path / "club", files, CLUB), changed(tmp_path / "none", {}, CLUB)
    assert [page.markdown for page in theirs.pages] == [page.markdown for page in library.pages]
    assert dict(data_files(theirs.results)) == dict(data_files(library.results))
    assert MARK not in "".join(map(str, theirs.problems))


def test_private_notes_of_a_public_record_are_not_among_its_differences(tmp_path: Path) -> None:
    log = f"log: [{{day: 2026-11-20, text: {MARK}1}}, {{day: 2026-11-20, text: told, public: yes}}]"
    files = {FIXER: f"id: fixer\nchanges:\n  idle: Wait.\n  {log}\n{OWN}"}
    made = changed(tmp_path, files, CLUB)
    assert "idle: library none" in block(page(made, "solutions/fixer.md"))
    text = "".join(page.markdown for page in made.pages) + "".join(text for _, text in data_files(made.results))
    assert MARK not in text


def test_a_private_record_is_whole_when_others_need_it(tmp_path: Path) -> None:
    """A public formula of the library stands on the private one's id: others see the library's."""
    files = {FIXER: f"id: fixer\nchanges: {{notes: [{MARK}1], private: yes}}\n{OWN}"}
    made = changed(tmp_path, files, CLUB)
    assert made.results.catalogue.formulas["fixer"].notes == ()
    assert made.results.catalogue.formulas["fixer-half"].of == ("fixer",)


def _values(record: Record) -> Iterator[tuple[str, Any]]:
    for name in type(record).model_fields:
        yield name, getattr(record, name)


def test_every_value_has_words(demo: Catalogue) -> None:
    """Else a page fails for the first owner who changes such a key."""
    words = ValueWords(Display("en_GB"), lambda key, text: text)
    records: list[Record] = [*demo.chemicals.values(), *demo.formulas.values(), *demo.processes.values()]
    for record in records:
        for key, value in _values(record):
            assert words.value(value, key)
    assert words.value(Decimal("1.33"), "density") == "1.33 g/mL"
