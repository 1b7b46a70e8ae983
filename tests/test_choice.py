"""A choice of the library: what appears, that nothing speaks of the rest, and that no danger loses a word."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from over_library import TODAY, built, lay, page, small_library
from reckoner.audience import CLUB
from reckoner.build import Built
from reckoner.outputs.data_files import data_files
from reckoner.problems import HandbookError
from small import SETTINGS, SOURCE, chemical, formula, supplier

DEMO = Path(__file__).parent.parent / "formulas"
EVERYTHING = "{everything: yes}"
#: An acid stop, two bleaches of chromate and permanganate, a developer with sodium hydroxide, a dilution, a colour
#: developer: each as it is mixed for the tank.
DANGEROUS = (
    "stop-acetic",
    "bleach-dichromate",
    "bleach-permanganate",
    "bw-caustic-contrast-working",
    "bw-p-aminophenol-1-50",
    "ecn2-developer",
)
#: A small choice of each kind.
CHOICES = (
    "{formulas: [bleach-dichromate]}",
    "{formulas: [stock-potassium-iodide]}",
    "{processes: [cyanotype]}",
    "{purposes: [toner]}",
)
_LINK = re.compile(r'href="([^"#]*)')
_TAG = re.compile(r"</?a\b[^>]*>")


@cache
def chosen(choice: str, with_prices: bool = False) -> Built:
    """The demonstration's settings over a choice, with the rest of its own files or with none of them."""
    with TemporaryDirectory() as folder:
        data = Path(folder) / "formulas"
        own = shutil.ignore_patterns("library", *(() if with_prices else ("prices", "shelf.yml", "plans", "kits")))
        shutil.copytree(DEMO, data, ignore=own)
        settings = (DEMO / "settings.yml").read_text("utf-8")
        assert EVERYTHING in settings
        (data / "settings.yml").write_text(settings.replace(EVERYTHING, choice), "utf-8")
        return built(data)


def of_a_formula(made: Built, formula_id: str) -> dict[str, list[str]]:
    """Lines of its page, bench sheet and label, without what may differ.

    That is: the addresses of links, "Used in" and the step of a process on the label, and from that the label's size
    and how many fit a sheet.
    """
    sheet = page(made, f"solutions/{formula_id}.md")
    sheet = re.sub(r"## Used in\n.*?(?=\n## )", "", sheet, flags=re.S)
    label = page(made, f"labels/{formula_id}.md").partition("</section>")[0].partition('class="hb-label"')[2]
    texts = {"page": sheet, "bench": page(made, f"bench/{formula_id}.md"), "label": label}
    texts["label"] = re.sub(r" · Step \d+ of [^<]*", "", texts["label"])
    return {name: [line for line in _TAG.sub("", text).splitlines() if line] for name, text in texts.items()}


@pytest.mark.sweep
@pytest.mark.parametrize("formula_id", DANGEROUS)
def test_no_word_of_a_danger_differs_in_a_small_choice(formula_id: str) -> None:
    """Whole page, bench sheet and label: classes, cautions, precautions, elements, what must never meet."""
    everything = of_a_formula(chosen(EVERYTHING), formula_id)
    alone = of_a_formula(chosen(f"{{formulas: [{formula_id}]}}"), formula_id)
    assert len(everything["page"]) > 100
    assert "Never together with" in " ".join(everything["page"]) or "never with" in " ".join(everything["page"])
    assert alone == everything


@pytest.mark.sweep
def test_nor_where_prices_shelf_and_plans_are_the_same(demo_results: object) -> None:
    from demo_fixtures import demonstration_pages

    made = chosen("{formulas: [bleach-dichromate]}", with_prices=True)
    whole = Built(made.results, demonstration_pages(), (), ())
    assert of_a_formula(made, "bleach-dichromate") == of_a_formula(whole, "bleach-dichromate")


@pytest.mark.sweep
def test_pages_of_chemicals_say_the_same_of_their_dangers() -> None:
    everything, few = chosen(EVERYTHING), chosen("{formulas: [bleach-dichromate]}")
    for chemical_id in few.results.catalogue.chemicals:
        here, there = (
            _TAG.sub("", page(made, f"chemicals/{chemical_id}.md").partition("## Where it is used")[0])
            for made in (few, everything)
        )
        assert here == there


@pytest.mark.sweep
def test_what_to_do_in_an_accident_and_the_words_of_codes_are_the_same() -> None:
    everything, few = chosen(EVERYTHING), chosen("{formulas: [bleach-dichromate]}")
    assert page(few, "accident.md") == page(everything, "accident.md")
    codes = [re.findall(r"<dt .*", page(made, "hazard-codes.md")) for made in (everything, few)]
    assert len(codes[0]) > 50
    assert codes[0] == codes[1]
    law = page(few, "law.md")
    assert "Potassium dichromate" in law
    assert set(re.findall(r"chemicals/([a-z0-9-]+)/", law)) <= set(few.results.catalogue.chemicals)


def test_a_choice_without_any_pair_has_not_lost_the_table(tmp_path: Path) -> None:
    """Of what stands in no pair nothing is said, and that is no missing file."""
    small_library(tmp_path)
    mine = formula("mine", "[{chemical: sodium-thiosulfate, form: pentahydrate, amount: 9 g}]")
    made = built(lay(tmp_path, {"solutions/mine.yml": mine}, "{purposes: [toner]}"))
    assert made.results.catalogue.incompatibilities is not None
    assert made.results.catalogue.incompatibilities.pairs == ()
    assert [problem for problem in made.problems if "incompatibilities" in problem.at.file] == []


def test_what_is_left_of_the_table_names_what_is_absent_without_a_link() -> None:
    made = chosen("{formulas: [bleach-dichromate]}")
    assert "formaldehyde" not in made.results.catalogue.chemicals
    apart = page(made, "keep-apart.md")
    assert "Formaldehyde" in apart
    assert "chemicals/formaldehyde" not in "".join(page.markdown for page in made.pages)
    # Of two that are both absent nothing is said.
    held = made.results.catalogue.chemicals.keys()
    table = made.results.catalogue.incompatibilities
    assert table is not None
    assert all(any(held & set(table.group(name).chemicals) for name in pair.groups) for pair in table.pairs)


def test_look_alikes_that_are_absent_are_named_without_a_link() -> None:
    made = chosen("{formulas: [stock-potassium-iodide]}")
    text = page(made, "chemicals/potassium-iodide.md")
    alike = made.results.catalogue.look_alikes
    assert alike is not None
    absent = {
        other
        for group in alike.others("potassium-iodide")
        for other in group.chemicals
        if other not in made.results.catalogue.chemicals
    }
    assert absent
    for other in absent:
        assert made.results.catalogue.known_chemicals[other].name.split(" (")[0] in text
        assert f"chemicals/{other}" not in text


@pytest.mark.parametrize("choice", CHOICES)
def test_every_address_has_a_page(choice: str) -> None:
    made = chosen(choice)
    there = {_address(page.path) for page in made.pages}
    there |= {_address(path.name) for path in (DEMO / "library" / "pages").glob("*.md")}
    for shown in made.pages:
        for href in _LINK.findall(shown.markdown):
            if href and not re.match(r"[a-z]+:|.*\.(html|csv|json|xml)$", href):
                target = _resolved(_address(shown.path), href)
                assert target in there, f"{shown.path} leads to {href}"


def _address(path: str) -> str:
    path = path.removesuffix(".md").removesuffix("index")
    return f"{path.rstrip('/')}/" if path else ""


def _resolved(here: str, href: str) -> str:
    parts = here.rstrip("/").split("/") if here else []
    for step in href.split("/"):
        if step == "..":
            parts = parts[:-1]
        elif step not in ("", "."):
            parts.append(step)
    return f"{'/'.join(parts)}/" if parts else ""


@pytest.mark.parametrize("choice", CHOICES)
def test_figures_and_tables_name_only_what_is_there(choice: str) -> None:
    made = chosen(choice)
    catalogue = made.results.catalogue
    figures = json.loads(dict(data_files(made.results))["data/handbook.json"])
    assert {record["id"] for record in figures["chemicals"]} == set(catalogue.chemicals)
    named = set(_under(figures, ("chemical", "not_assessed", "missing", "runs_out_first", "ph_not_stated")))
    assert named <= set(catalogue.chemicals)
    assert set(_under(figures, ("formula", "baths"))) <= set(catalogue.formulas)
    tables = [text for path, text in data_files(made.results) if path.endswith(".csv")]
    absent = catalogue.known_chemicals.keys() - catalogue.chemicals.keys()
    assert absent
    for table in tables:
        assert not absent & set(table.replace("\r\n", ",").split(","))


def _under(tree: object, keys: tuple[str, ...], inside: bool = False) -> list[str]:
    """Texts under some keys, at any depth."""
    if isinstance(tree, dict):
        return [text for key, value in tree.items() for text in _under(value, keys, key in keys)]
    if isinstance(tree, list):
        return [text for item in tree for text in _under(item, keys, inside)]
    return [tree] if inside and isinstance(tree, str) else []


def test_a_year_on_only_what_appears_is_told_to_be_old(tmp_path: Path) -> None:
    data = lay(tmp_path, {}, "{formulas: [stock-potassium-iodide]}")
    made = built(data, date(TODAY.year + 4, 11, 25))
    catalogue = made.results.catalogue
    assert set(catalogue.chemicals) == {"water", "potassium-iodide"}
    kinds = {age.kind for age in made.results.past_limit}
    assert {"formula", "chemical", "hazard record"} <= kinds
    shown = {*catalogue.chemicals, *catalogue.formulas, "all"}
    assert {age.subject for age in made.results.past_limit} <= shown
    files = {problem.at.file.rpartition("/")[2].removesuffix(".yml") for problem in made.problems}
    assert files <= {*catalogue.chemicals, *catalogue.formulas, "hazard_phrases", "settings"}
    assert 3 <= len(made.problems) < 12
    unknown = page(made, "not-known.md")
    assert set(re.findall(r"/(?:chemicals|solutions|processes)/([a-z0-9-]+)/", unknown)) <= shown


def test_a_price_list_of_yours_brings_its_chemicals_in(tmp_path: Path) -> None:
    files = {
        "prices/shop/supplier.yml": supplier(),
        "prices/shop/2026-11-01.yml": "date: 2026-11-01\nsource: {certainty: invented, checked: 2026-11-01}\n"
        "offers: [{chemical: hydroquinone, form: solid, pack: 100 g, price: 9 EUR}]\n",
    }
    files["prices/shop/2026-11-01.yml"] = files["prices/shop/2026-11-01.yml"].replace("form: solid", f"form: {_form()}")
    held = built(lay(tmp_path, files, "{formulas: [stock-potassium-iodide]}")).results.catalogue.chemicals
    assert set(held) == {"water", "potassium-iodide", "hydroquinone"}


def _form() -> str:
    text = (DEMO / "library" / "chemicals" / "hydroquinone.yml").read_text("utf-8")
    found = re.search(r"forms:\n\s*- id: (\S+)", text)
    assert found
    return found[1]


def test_kits_and_plans_bring_their_processes(tmp_path: Path) -> None:
    kit = (
        "id: kit\nname: Kit (invented)\nkind: kit\nprocess: still-colour-negative\nprice: 9 EUR\nmakes: 1 L\n"
        "does: 8 rolls\nmixed: 1 months\nday: 2026-11-01\nsource: {certainty: invented, checked: 2026-11-01}\n"
    )
    plan = "id: p\nname: P\nover: 1 years\nwants: [{process: cyanotype, litres: 1 L}]\n"
    data = lay(tmp_path, {"kits/kit.yml": kit, "plans/p.yml": plan}, "{formulas: [stock-potassium-iodide]}")
    held = built(data).results.catalogue
    assert set(held.processes) == {"still-colour-negative", "cyanotype"}
    assert {bath.formula for step in held.processes["cyanotype"].steps for bath in step.baths} <= set(held.formulas)


def test_what_yours_adapts_is_there_and_what_the_librarys_adapts_need_not_be(tmp_path: Path) -> None:
    mine = (
        "id: mine\nname: Mine\nkind: iron print\nadapts: cyanotype\ndarkness: none\ncautions: [gloves]\nsteps:\n"
        "  - {name: Wash, kind: wash, light: room light, certainty: own practice}\n"
        f"{SOURCE}\n"
    )
    data = lay(tmp_path, {"processes/mine.yml": mine}, "{processes: [motion-picture-colour-negative-home]}")
    held = built(data).results.catalogue.processes
    assert set(held) == {"mine", "cyanotype", "motion-picture-colour-negative-home"}
    assert held["mine"].adapts == "cyanotype"
    assert held["motion-picture-colour-negative-home"].adapts is None


def test_what_only_private_records_need_is_not_seen_by_others(tmp_path: Path) -> None:
    """As if the private formula had been deleted: its chemicals would tell of it."""
    salt = "solutions/mine.yml"
    private = formula("mine", "[{formula: bleach-dichromate, amount: 500 mL}]", "bleach", "private: yes\n")
    choice = "{formulas: [stock-potassium-iodide]}"
    assert "potassium-dichromate" in built(lay(tmp_path, {salt: private}, choice)).results.catalogue.chemicals
    club = built(tmp_path / "formulas", audience=CLUB)
    without = built(lay(tmp_path / "without", {}, choice), audience=CLUB)
    assert [page.path for page in club.pages] == [page.path for page in without.pages]
    assert [page.markdown for page in club.pages] == [page.markdown for page in without.pages]
    assert dict(data_files(club.results)) == dict(data_files(without.results))


def test_a_private_record_over_the_librarys_leaves_what_the_librarys_needs(tmp_path: Path) -> None:
    """The owner's formula asks for other chemicals; others see the library's, with its own."""
    mine = (
        "id: fixer\nchanges:\n  private: yes\n  ingredients: [{chemical: salt, form: solid, amount: 9 g}]\n"
        "leaves_out: [ingredients]\n"
        "source: {certainty: own practice, checked: 2026-11-20}\n"
    )
    files = {
        "solutions/fixers/fixer.yml": mine,
        "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid}]").replace(
            "role:", "keep_apart: none known\nrole:"
        ),
    }
    small_library(tmp_path)
    club = built(lay(tmp_path, files, "{formulas: [fixer]}"), audience=CLUB).results.catalogue
    assert {"sodium-thiosulfate", "sodium-sulfite"} <= set(club.chemicals)
    assert [item.chemical for item in club.formulas["fixer"].items] == ["sodium-thiosulfate", "sodium-sulfite"]


FORMER = {"solutions/fixers/fixer.yml": ("id: fixer\n", "id: fixer\nformerly: [hypo-bath]\n")}


@pytest.mark.parametrize(
    ("files", "choice", "said"),
    [
        ({}, "{formulas: [hypo-bath]}", "settings.yml:20:22: formula 'hypo-bath' is named 'fixer' now (write fixer)"),
        (
            {"solutions/hypo-bath.yml": f"id: hypo-bath\nchanges: {{makes: 900 mL}}\n{SOURCE}\n"},
            EVERYTHING,
            "solutions/hypo-bath.yml:1:5: the library's formula 'hypo-bath' is named 'fixer' now (write id: fixer and "
            "rename the file)",
        ),
        (
            {"solutions/hypo-bath.yml": formula("hypo-bath", "[{formula: fixer, amount: 500 mL}]")},
            EVERYTHING,
            "solutions/hypo-bath.yml:1:5: the library's formula 'hypo-bath' is named 'fixer' now (write id: fixer and "
            "rename the file to stand over it, or take another id)",
        ),
        (
            {"solutions/mine.yml": formula("mine", "[{formula: hypo-bath, amount: 500 mL}]")},
            "{processes: [fixing]}",
            "solutions/mine.yml:7:25: formula 'hypo-bath' is named 'fixer' now (write fixer)",
        ),
        (
            # What names it is not chosen either.
            {"solutions/mine.yml": formula("mine", "[{formula: hypo-bath, amount: 500 mL}]")},
            "{purposes: [toner]}",
            "solutions/mine.yml:7:25: formula 'hypo-bath' is named 'fixer' now (write fixer)",
        ),
    ],
)
def test_a_former_name_is_answered_with_the_one_of_now(
    files: dict[str, str], choice: str, said: str, tmp_path: Path
) -> None:
    small_library(tmp_path, FORMER)
    with pytest.raises(HandbookError) as faults:
        built(lay(tmp_path, files, choice))
    assert f"formulas/{said}" in str(faults.value).splitlines()


def test_a_household_word_of_what_is_not_chosen_is_understood(tmp_path: Path) -> None:
    """Hints look at the whole library, whatever is chosen of it."""
    files = {"solutions/mine.yml": formula("mine", "[{chemical: hypo, form: pentahydrate, amount: 9 g}]")}
    small_library(tmp_path)
    with pytest.raises(HandbookError, match="'hypo' is a name of 'sodium-thiosulfate'"):
        built(lay(tmp_path, files, "{purposes: [toner]}", SETTINGS))
