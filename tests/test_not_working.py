"""Formulas that do not work as written say so on every page, label, list and figure that names them."""

from __future__ import annotations

import re
from html import unescape

import pytest

from reckoner.editions.single_file import SINGLE_FILE
from reckoner.records.catalogue import Catalogue
from site_build import Site
from small import chemical, formula, page_text, process, results

SAYS = "Does not work as written: do not process film in it."
WHY = "tin falls out"
KEY = f"does_not_work: {{why: {WHY}, certainty: from memory}}\n"
FILES = {
    "chemicals/tin.yml": chemical("tin", "[{id: solid, name: solid, formula: SnCl2}]"),
    "solutions/a/broken.yml": formula("broken", "[{chemical: tin, form: solid, amount: 2 g}]", more=KEY),
    "solutions/a/working.yml": formula("working", "[{formula: broken, amount: 100 mL}]"),
    "solutions/a/diluted.yml": (
        formula("diluted", "[]").replace("ingredients: []\n", "dilution: 1+9\nof: [working]\n")
    ),
    "solutions/a/instead.yml": formula(
        "instead", "[{chemical: tin, form: solid, amount: 2 g, or: [{formula: broken, amount: 9 mL}]}]"
    ),
    "solutions/a/sound.yml": formula("sound", "[{chemical: tin, form: solid, amount: 2 g}]"),
    "processes/pr.yml": process("sound", "diluted"),
    "shelf.yml": "bottles:\n  - {id: b1, formula: diluted, volume: 1 L, mixed: 2026-11-20}\n",
}
#: Formulas that second readings found unable to work (computed equilibria or memory; from 60 to 90 % sure): of the six
#: baths of the colour reversal process the fixer alone was not doubted.
CANNOT = {
    "e6-first-developer", "e6-reversal", "e6-colour-developer", "e6-pre-bleach", "e6-bleach",
    "bw-p-aminophenol-concentrate",
}  # fmt: skip


def test_it_is_rolled_up_through_solutions_dilutions_and_alternatives() -> None:
    assert dict(results(FILES).not_working) == dict.fromkeys(("broken", "working", "diluted", "instead"), ("broken",))


@pytest.mark.parametrize("name", ["broken", "working", "diluted", "instead"])
@pytest.mark.parametrize("address", ["solutions/{}.md", "bench/{}.md", "labels/{}.md"])
def test_every_page_of_it_says_so_outside_every_fold(name: str, address: str) -> None:
    text = page_text(results(FILES), address.format(name))
    unfolded = re.sub(r"<details.*?</details>", "", text, flags=re.S)
    assert SAYS in unfolded
    assert address.startswith("labels") or WHY in unfolded
    if address.startswith("labels"):
        labels = text.count('class="hb-label"')
        assert unfolded.count(SAYS) == labels > 0
    else:
        # On top, and once more in each weighing table: whoever jumps to a size has not seen the top.
        assert unfolded.count(SAYS) == 3


@pytest.mark.parametrize("address", ["solutions/sound.md", "bench/sound.md", "labels/sound.md"])
def test_a_sound_formula_says_nothing(address: str) -> None:
    assert SAYS not in page_text(results(FILES), address)


def test_lists_process_and_bottle_name_it() -> None:
    found = results(FILES)
    entries = re.findall(r"<li>.*?</li>", page_text(found, "solutions/index.md"), flags=re.S)
    assert {re.search(r">(\w+)</a>", line)[1]: SAYS in line for line in entries} == {  # type: ignore[index]
        "broken": True, "diluted": True, "instead": True, "working": True, "sound": False,
    }  # fmt: skip
    rows = re.findall(r"<tr><th scope=\"row\">.*?</tr>", page_text(found, "choose/fixer.md"), flags=re.S)
    assert sorted(SAYS in row for row in rows) == [False, True, True, True, True]
    of_process = page_text(found, "processes/pr.md")
    assert of_process.count(SAYS) == 2, "on top and at its step"
    assert f"It is made with broken: {WHY} (from memory)." in of_process
    assert "diluted" in page_text(found, "processes/index.md").split("do not work as written")[1]
    for page in ("bottles/b1.md", "bottles/labels/b1.md", "index.md"):
        assert SAYS in page_text(found, page), page


def test_the_formulas_that_cannot_work_are_marked(demo: Catalogue) -> None:
    assert {i for i, f in demo.formulas.items() if f.does_not_work} == CANNOT


def test_built_pages_json_and_the_one_file_say_so(site: Site) -> None:
    figures = {one["id"]: one["does_not_work"] for one in site.figures["formulas"]}
    marked = {i for i, faulty in figures.items() if faulty}
    assert marked >= CANNOT
    assert figures["bw-p-aminophenol-1-50"] == ["bw-p-aminophenol-concentrate"]
    for formula_id in marked:
        assert SAYS in site.page(f"solutions/{formula_id}")
        assert SAYS in site.page(f"bench/{formula_id}")
        assert SAYS in site.page(f"labels/{formula_id}")
    processes = {one["id"]: one["baths_that_do_not_work"] for one in site.figures["processes"]}
    assert set(processes["colour-reversal"]) == CANNOT - {"bw-p-aminophenol-concentrate"}
    for process_id, faulty in processes.items():
        assert (SAYS in site.page(f"processes/{process_id}")) == bool(faulty), process_id


def test_the_one_file_says_so_with_each_of_them(site: Site) -> None:
    whole = unescape((site.folder / SINGLE_FILE).read_text("utf-8"))
    for name in sorted(CANNOT | {"bw-p-aminophenol-1-50"}):
        title = next(one["name"] for one in site.figures["formulas"] if one["id"] == name)
        section = re.search(rf"<h2>{re.escape(title)}</h2>(.*?)</section>", whole, re.S)
        assert section is not None, name
        assert SAYS in section[1], name
