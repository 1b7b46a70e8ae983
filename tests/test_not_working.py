"""Formulas that do not work as written say so on every page, label, list and figure that names them."""

from __future__ import annotations

import json
import re
from html import unescape

import pytest

from reckoner.editions.lean_search import stand_in
from reckoner.editions.single_file import SINGLE_FILE
from reckoner.pages.kinds import pages
from reckoner.records.catalogue import Catalogue
from site_build import Site
from small import SOURCE, chemical, formula, page_text, process, results, supplier

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


def test_titles_of_search_results_say_so() -> None:
    """ "Fixer, working" alone reads as the opposite."""
    stands = {page.path: stand_in(page) for page in pages(results(FILES))}
    beside = {path: said.partition("</h1>")[0].partition(": ")[2] for path, said in stands.items()}
    for name in ("broken", "working", "diluted", "instead"):
        assert beside[f"solutions/{name}.md"] == "does not work as written", name
    assert beside["bottles/b1.md"] == "does not work as written"
    assert beside["processes/pr.md"] == "has baths that do not work as written"
    assert beside["solutions/sound.md"] == beside["chemicals/tin.md"] == ""


PRICED = {
    **FILES,
    "plans/p.yml": "id: p\nname: p\nwants: [{process: pr, litres: 1 L}]\nover: 1 month\ncompare: [ready]\n",
    "prices/shop/supplier.yml": supplier(),
    "prices/shop/2026-11-01.yml": (
        "date: 2026-11-01\noffers:\n  - {chemical: tin, form: solid, pack: 100 g, price: 2 EUR}\n"
        "  - {chemical: water, form: tap, pack: 1000 L, price: 0.01 EUR}\n"
    ),
    "kits/ready.yml": (
        "id: ready\nname: Ready-made\nkind: kit\nprocess: pr\nprice: 30 EUR\ndelivery: 6 EUR\nmakes: 1 L\n"
        f"does: 8-12 rolls\nmixed: 1-2 months\nday: 2026-11-01\ninvented: yes\n{SOURCE}\n"
    ),
}


def test_shopping_lists_say_so() -> None:
    """What to buy for such a process is said with the warning: on the shelf, in a plan and its list."""
    found = results(PRICED)
    names = "Baths that do not work as written, do not process film in them: diluted."
    shelf = page_text(found, "shelf.md")
    lacks = shelf.partition("What a process lacks")[2]
    assert names in lacks
    plan = page_text(found, "plans/p.md")
    assert names in plan.partition("<h2")[0].partition("\n## ")[0], "before the first section"
    mixed = plan.partition("## What is mixed")[2]
    assert SAYS in mixed
    assert names in page_text(found, "plans/index.md")
    assert names in page_text(found, "kit-or-own.md")
    assert plan.count(names) == 2, "on top, and where kit or own is told in short"


def test_what_the_packs_make_says_so() -> None:
    shelf = "packs:\n  - {chemical: tin, form: solid, pack: 100 g, left: 100 g, bought: 2026-11-20}\n"
    text = page_text(results({**FILES, "shelf.yml": FILES["shelf.yml"] + shelf}), "shelf.md")
    entries = re.findall(r"<li>.*?</li>", text.partition("Can be mixed now")[2].partition("\n## ")[0], flags=re.S)
    assert {re.search(r">(\w+)</a>", line)[1]: SAYS in line for line in entries} == {  # type: ignore[index]
        "broken": True, "diluted": True, "instead": True, "working": True, "sound": False,
    }  # fmt: skip


def test_the_clock_is_told() -> None:
    text = page_text(results(FILES), "processes/pr.md")
    data = json.loads(text.partition('id="hb-schedule">')[2].partition("</script>")[0])
    assert data["beware"] == "Baths that do not work as written, do not process film in them: diluted."


def test_the_clock_names_it_where_it_is_one_of_several() -> None:
    """A sound bath stands first: the clock runs, and the time of the other says what it is."""
    more = (
        process("sound")
        .replace("baths: [", "time: 1:00, baths: [{formula: sound, certainty: common practice},", 1)
        .replace(
            "{formula: sound, certainty: common practice}]",
            ("{formula: broken, time: 2:00, certainty: common practice}]"),
        )
    )
    text = page_text(results({**FILES, "processes/pr.yml": more}), "processes/pr.md")
    data = json.loads(text.partition('id="hb-schedule">')[2].partition("</script>")[0])
    assert not data["beware"]
    labels = [choice["label"] for choice in data["steps"][0]["choices"]]
    assert [label.partition(":")[0] for label in labels] == ["broken (does not work as written)", "sound"]


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


def test_the_built_index_and_names_say_so(site: Site) -> None:
    """The full-text index and the table of exact names lead to such a page with its warning, not its name alone."""
    index = json.loads((site.folder / "search" / "search_index.json").read_text("utf-8"))["docs"]
    script = (site.folder / "assets" / "names.js").read_text("utf-8")
    listed = json.loads(script.partition("=")[2].rstrip().rstrip(";"))["pages"]
    # The home page's address is empty, and stays: what stands third is always the warning.
    assert all(len(page) in (2, 3) and page[1] for page in listed)
    beside = {page[0]: page[2:] for page in listed}
    assert beside[""] == []
    marked = [one["id"] for one in site.figures["formulas"] if one["does_not_work"]]
    for formula_id in marked:
        address = f"solutions/{formula_id}/"
        titles = [entry["title"] for entry in index if entry["location"].partition("#")[0] == address]
        assert titles and all(title.endswith(": does not work as written") for title in titles), formula_id
        assert beside[address] == ["does not work as written"]
    assert beside["processes/colour-reversal/"] == ["has baths that do not work as written"]
    assert sum("work as written" in entry["title"] for entry in index) < 20


def test_the_one_file_says_so_with_each_of_them(site: Site) -> None:
    whole = unescape((site.folder / SINGLE_FILE).read_text("utf-8"))
    for name in sorted(CANNOT | {"bw-p-aminophenol-1-50"}):
        title = next(one["name"] for one in site.figures["formulas"] if one["id"] == name)
        section = re.search(rf"<h2>{re.escape(title)}</h2>(.*?)</section>", whole, re.S)
        assert section is not None, name
        assert SAYS in section[1], name
