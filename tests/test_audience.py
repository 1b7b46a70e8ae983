"""A club's handbook holds nothing of what its owner keeps private: no word, no figure, no file name, no message."""

from __future__ import annotations

import gzip
import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from bad_input import VALID
from full_records import common_records, filler_of, own_records, write
from handbook_command.command import main
from handbook_plugin.navigation import DEFAULT
from reckoner.audience import CLUB, for_audience, marked_private
from reckoner.build import load_checked
from reckoner.loading.kinds import FILE_KINDS
from reckoner.records.catalogue import Catalogue
from reckoner.records.values import Record
from site_build import ROOT, Site, build_here
from site_fixtures import Once
from small import TODAY, chemical, formula, load, process, supplier

#: Begins every planted word: letters that stand together nowhere else.
MARK = "zqj"
#: Keys of a formula that exclude others, or that another formula would have to fit.
LEFT_OUT = tuple(
    f"{of}.{key}"
    for of, keys in {
        "Formula": ("ingredients", "make_up_with", "published_for", "replenishment", "formerly", "ph", "adjust"),
        "Reuse": ("add",),
        "OtherTemperatures": ("table",),
    }.items()
    for key in keys
)
PUBLIC_NOTE = {"day": "2026-11-01", "text": "for all to read", "public": "yes"}


class Planter:
    """Plants a word of its own in every free text."""

    def __init__(self) -> None:
        self.words: dict[str, str] = {}
        self.filler = filler_of(self.text, {"DatedNote.public": "no"})
        self.record = self.filler.record

    def text(self, at: str) -> str:
        """A new word for a text at ``Class.key``."""
        word = f"{MARK}{len(self.words):04d}x"
        self.words[word] = at
        return word


def base(folder: Path) -> None:
    """A public handbook beside which private things can stand."""
    shutil.copytree(VALID, folder)
    write(folder, common_records(filler_of(lambda at: "a public text")))


def hidden(folder: Path) -> Planter:
    """Everything that can be private, with a word planted in each text of it."""
    planter = Planter()
    trees = own_records(planter.filler, MARK)
    listed = next(tree for name, tree in trees.items() if name.endswith("2026-11-20.yml"))
    # Private rows in a public list, a private list of a public supplier, and the same as a table.
    seen = {**listed, "private": "no", "complete": "no", "date": "2026-11-21"}
    rows = [
        {**listed["offers"][0], "note": planter.text("Offer.note")},
        public_offer(),
        {**listed["offers"][0], "pack": "70 g"},
    ]
    trees["prices/one/2026-11-21.yml"] = {**seen, "source": public_source(), "offers": rows}
    trees["prices/one/2026-11-20.yml"] = listed
    # A member's folder is private whole: what stands in it need not say so.
    bath = planter.record(type_named("Formula"), *LEFT_OUT, id=f"{MARK}-theirs", private="no")
    trees[f"members/{MARK}/member.yml"] = planter.record(type_named("Member"))
    trees[f"members/{MARK}/solutions/{MARK}-theirs.yml"] = bath
    write(folder, trees)
    table = "chemical,form,pack,price,private,note\nsodium-sulfite,anhydrous,3 kg,31.77 EUR,yes," + planter.text("csv")
    (folder / "prices/two/2026-11-19.csv").write_text(f"{table}\nsodium-sulfite,anhydrous,1 kg,9 EUR,,\n", "utf-8")
    notes = [{**planter.record(type_named("DatedNote")), "public": "no"}, PUBLIC_NOTE]
    logged(folder, notes)
    trees = {f"kits/{MARK}-open.yml": planter.record(type_named("Kit"), id=f"{MARK}-open")}
    write(folder, {**trees, "plans/open.yml": plan(compare=[f"{MARK}-open"], avoid=[MARK])})
    return planter


def shown(folder: Path) -> None:
    """The same handbook from which everything private was removed by hand."""
    offers = {"date": "2026-11-21", "source": public_source(), "offers": [public_offer()]}
    write(folder, {"prices/one/2026-11-21.yml": offers, "plans/open.yml": plan()})
    table = "chemical,form,pack,price\nsodium-sulfite,anhydrous,1 kg,9 EUR\n"
    (folder / "prices/two/2026-11-19.csv").write_text(table, "utf-8")
    logged(folder, [PUBLIC_NOTE])


def public_offer() -> dict[str, str]:
    return {"chemical": "sodium-sulfite", "form": "anhydrous", "pack": "1 kg", "price": "8 EUR"}


def public_source() -> dict[str, str]:
    return {"certainty": "invented", "checked": "2026-11-21"}


def plan(**more: Any) -> dict[str, Any]:
    return {
        "id": "open",
        "name": "A plan for all",
        "over": "6 months",
        "wants": [{"process": "fixing", "litres": "2 L"}],
        **more,
    }


def logged(folder: Path, notes: list[Any]) -> None:
    file = folder / "solutions/fixers/fixer.yml"
    file.write_text(file.read_text("utf-8") + f"log: {json.dumps(notes)}\n", "utf-8")


def classes() -> Iterator[type[Record]]:
    """Every record class that any data file may hold."""
    todo = [Record]
    while todo:
        kind = todo.pop()
        todo += kind.__subclasses__()
        if kind.__module__.startswith("reckoner."):
            yield kind


def type_named(name: str) -> type[Record]:
    return next(kind for kind in classes() if kind.__name__ == name)


def records(value: Any) -> Iterator[Record]:
    """Every record inside a value."""
    if isinstance(value, Record):
        yield value
        for name in type(value).model_fields:
            yield from records(getattr(value, name))
    elif isinstance(value, tuple):
        for item in value:
            yield from records(item)


def all_records(catalogue: Catalogue) -> list[Record]:
    tops: list[Any] = [
        *catalogue.members.values(),
        catalogue.settings,
        catalogue.shelf,
        *(listed.prices for listed in catalogue.price_lists),
    ]
    for table in (catalogue.formulas, catalogue.processes, catalogue.kits, catalogue.plans, catalogue.suppliers):
        tops += table.values()
    return [record for top in tops for record in records(top)]


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Planter]:
    root = tmp_path_factory.mktemp("private") / "project"
    project(root)
    planter = hidden(root / "formulas")
    write_page(root, f"{MARK}-cellar.md", f"---\ntitle: {MARK}9001x\nprivate: true\n---\n\n# {MARK}9002x\n")
    navigate(root, {f"{MARK}9003x": [{f"{MARK}9004x": f"{MARK}-cellar.md"}]})
    return root, planter


def project(root: Path) -> None:
    root.mkdir()
    (root / "hooks").symlink_to(ROOT / "hooks")
    shutil.copytree(ROOT / "handbook", root / "handbook")
    shutil.copy(ROOT / "mkdocs.yml", root)
    base(root / "formulas")


def navigate(root: Path, *more: dict[str, Any]) -> None:
    """Write the navigation down, so that no page is in it for being there."""
    with (root / "mkdocs.yml").open("a", encoding="utf-8") as settings:
        settings.write(yaml.safe_dump({"nav": [*DEFAULT, *more]}))


def write_page(root: Path, name: str, text: str) -> None:
    (root / "handbook" / name).write_text(text, "utf-8")


@pytest.fixture(scope="module")
def club(planted: tuple[Path, Planter], once: Once) -> Site:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HANDBOOK_AUDIENCE", "club")
        patch.setenv("HANDBOOK_URL", "https://club.example/")
        return once("club", lambda folder: build_here(folder / "site", root=planted[0]))


def contents(folder: Path) -> dict[str, bytes]:
    """Every file by name; what is packed is unpacked."""
    found = {}
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            raw = path.read_bytes()
            found[path.relative_to(folder).as_posix()] = (
                gzip.decompress(raw) if path.suffix in {".gz", ".pack"} else raw
            )
    return found


def test_every_class_that_can_be_private_is_planted(planted: tuple[Path, Planter]) -> None:
    """A record that is given a private mark fails here until it is planted."""
    can_be = {kind.__name__ for kind in classes() if "private" in kind.model_fields or "owners_only" in vars(kind)}
    # A change of the library's becomes the record that it changes: ``test_own_private.py`` plants that.
    can_be -= {"Record", "OwnChange"}
    catalogue, _ = load_checked(planted[0] / "formulas", TODAY)
    assert can_be == {type(record).__name__ for record in all_records(catalogue) if record.owners_only}


def test_every_key_of_what_is_private_is_planted(planted: tuple[Path, Planter]) -> None:
    """Each key of each record inside something private is written in one of them at least."""
    catalogue, _ = load_checked(planted[0] / "formulas", TODAY)
    inside = [r for record in all_records(catalogue) if record.owners_only for r in records(record)]
    written = {(type(r).__name__, key) for r in inside for key in r.model_fields_set}
    wanted = {(type(r).__name__, key) for r in inside for key in type(r).model_fields}
    assert wanted - written == set()
    words = set(planted[1].words.values())
    assert {"Bottle.measured", "ShelfPack.note", "DatedNote.text", "Offer.note", "Supplier.note", "Plan.note"} <= words
    assert len(planted[1].words) > 100


@pytest.mark.process
def test_the_owners_own_build_shows_them(planted: tuple[Path, Planter], tmp_path: Path) -> None:
    """Else the search below would find nothing whatever was left in."""
    built = build_here(tmp_path / "site", root=planted[0])
    assert built.exit_code == 0, built.log
    everything = b"".join(contents(built.folder).values()).decode("utf-8", "replace")
    seen = {at for word, at in planted[1].words.items() if word in everything}
    assert {"Bottle.measured", "Formula.notes", "Remark.text", "Plan.note", "Supplier.name"} <= seen
    assert f"{MARK}9002x" in everything
    assert "Built for its owner" in everything


def test_no_byte_of_a_clubs_build_is_private(planted: tuple[Path, Planter], club: Site) -> None:
    found = contents(club.folder)
    assert [name for name in found if MARK in name.lower()] == []
    assert [name for name, raw in found.items() if MARK.encode() in raw.lower()] == []
    assert {"data/handbook.json", "search/search_index.json", "sitemap.xml", "data/price-changes.xml"} <= set(found)
    assert MARK not in club.log
    assert "Built for the club" in club.page("")
    assert not (club.folder / "shelf").exists()
    assert [name for name, raw in found.items() if name.endswith(".html") and b'shelf/"' in raw] == []
    assert "for all to read" in club.page("solutions/fixer")


def test_a_clubs_build_is_the_build_of_what_is_left(
    club: Site, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Byte for byte as if everything private had been deleted by hand: so no figure can tell of it either."""
    project(tmp_path / "project")
    shown(tmp_path / "project" / "formulas")
    navigate(tmp_path / "project")
    monkeypatch.setenv("HANDBOOK_AUDIENCE", "club")
    monkeypatch.setenv("HANDBOOK_URL", "https://club.example/")
    other = build_here(tmp_path / "site", root=tmp_path / "project")
    assert other.exit_code == 0, other.log
    ours, theirs = contents(club.folder), contents(other.folder)
    assert sorted(ours) == sorted(theirs)
    assert [name for name, raw in ours.items() if raw != theirs[name]] == []


def test_messages_of_a_clubs_build_name_the_lines_as_they_are() -> None:
    """What is left keeps its place, although private rows before it are gone."""
    offers = "[{chemical: salt, form: solid, pack: 1 g, price: 1 EUR, private: yes},\n {chemical: salt, form: solid, "
    files = {
        "chemicals/salt.yml": chemical("salt", "[{id: solid, name: solid, formula: NaCl}]"),
        "solutions/a/fix.yml": formula("fix", "[{chemical: salt, form: solid, amount: 1 g}]"),
        "prices/shop/supplier.yml": supplier(),
        "prices/shop/2026-11-01.yml": f"date: 2026-11-01\noffers:\n {offers}pack: 9 g, price: 2 EUR}}]\n",
        "kits/open.yml": kit("open"),
        "kits/own.yml": kit("own") + "private: yes\n",
        "processes/pr.yml": process("fix"),
        "plans/p.yml": "id: p\nname: p\nover: 1 years\nwants: [{process: pr, litres: 1 L}]\ncompare: [own, open]\n",
    }
    seen = for_audience(load(files), CLUB)
    places = seen.places["formulas/prices/shop/2026-11-01.yml"]
    assert str(places.at("offers", 0, "pack")) == "formulas/prices/shop/2026-11-01.yml:4:38"
    assert ("offers", 1) not in places.values
    assert seen.plans["p"].compare == ("open",)
    assert str(seen.place("plan", "p", "compare", 0)) == "formulas/plans/p.yml:5:16"
    assert ("kit", "own") not in seen.file_of
    assert "formulas/kits/own.yml" not in seen.places


def kit(kit_id: str) -> str:
    return (
        f"id: {kit_id}\nname: {kit_id}\nkind: kit\nprocess: pr\nprice: 9 EUR\nmakes: 1 L\ndoes: 8 rolls\n"
        "mixed: 1 months\nday: 2026-11-01\nsource: {certainty: invented, checked: 2026-11-01}\n"
    )


@pytest.mark.parametrize("word", ["clubs", "CLUB", "public", " ", "personal club"])
def test_an_unknown_audience_is_said(word: str, monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    monkeypatch.setenv("HANDBOOK_AUDIENCE", word)
    assert main(["check", str(VALID)]) == 1
    said = f"HANDBOOK_AUDIENCE is '{word}', which is no audience (write personal or club)"
    assert capsys.readouterr().out.strip() == said


@pytest.mark.process
def test_nothing_is_built_for_an_unknown_audience(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HANDBOOK_AUDIENCE", "clubs")
    built = build_here(tmp_path / "site")
    assert built.exit_code == 1
    assert "HANDBOOK_AUDIENCE is 'clubs', which is no audience (write personal or club)" in built.log
    assert "Traceback" not in built.log
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize(
    ("page", "private"),
    [
        ("---\nprivate: true\n---\nx", True),
        ("---\nprivate: yes\n---\nx", True),
        ("---\r\nprivate: 'true'\r\n---\r\nx", True),
        ("\ufeff---\ntitle: a\nPrivate: on\n...\nx", True),
        ("---\n{title: a, private: true}\n---\nx", True),
        ('---\n"private": true\n---\nx', True),
        ("---\nprivate: ture\n---\nx", True),
        ("---\nprivate: true\ntitle: never closed", True),
        ("private: true\ntitle: as old converters have it\n\nx", True),
        ("---\nprivate: false\n---\nx", False),
        ("---\nprivate: no\n---\nx", False),
        ("---\ntitle: private\n---\nx", False),
        ("# A page\n\nprivate: true\n", False),
        ("", False),
    ],
)
def test_in_doubt_a_handwritten_page_is_private(page: str, private: bool) -> None:
    assert marked_private(page) is private


def test_every_kind_of_file_with_an_id_is_filtered() -> None:
    """The kinds with ids are those that the test's handbook has; a new one must be planted."""
    assert {kind.name for kind in FILE_KINDS if kind.has_id} == {"chemical", "formula", "process", "kit", "plan"}
