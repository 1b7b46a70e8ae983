"""A club's build of an own folder over the library: nothing that is its owner's alone goes out, wherever it stands."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from site_build import Site, build_here, own_handbook
from small import SETTINGS, SOURCE, formula, supplier
from test_audience import contents

pytestmark = pytest.mark.process
HYPO = "[{chemical: sodium-thiosulfate, form: pentahydrate, amount: 100 g}]"
OFFER = "{chemical: sodium-thiosulfate, form: pentahydrate, pack: 1 kg, price: 7 EUR, note: WORD}"
FIXED = "baths: [{formula: fixer-plain-hypo, certainty: invented}]"
PROCESS = f"""id: p
name: WORD
private: yes
kind: black-and-white negative
darkness: none
cautions: [gloves]
steps: [{{name: fixing, kind: bath, light: room light, certainty: invented, {FIXED}}}]
{SOURCE}
"""
KIT = f"""id: own
name: WORD
kind: kit
process: black-and-white-negative
price: 9 EUR
makes: 1 L
does: 8 rolls
mixed: 1 months
day: 2026-11-01
private: yes
{SOURCE}
"""
PLAN = "id: own\nname: WORD\nprivate: yes\nover: 1 years\nwants: [{formula: fixer-plain-hypo, litres: 1 L}]\n"
TABLE = "chemical,form,pack,price,private,note\nsodium-thiosulfate,pentahydrate,2 kg,9.00 EUR,yes,WORD\n"
CHANGE = f"private: yes\nleaves_out: [notes]\nchanges:\n  notes: [WORD]\n{SOURCE}\n"
REMARK = f"changes:\n  log: [{{day: 2026-11-01, text: WORD}}]\n{SOURCE}\n"
PICTURE = "<svg xmlns='http://www.w3.org/2000/svg'><text>WORD</text></svg>"
#: What a place is, its file and what stands there: WORD is a word that stands nowhere else.
PLACES = (
    ("a comment in the settings", "formulas/settings.yml", "# WORD\n"),
    ("a formula", "formulas/solutions/w.yml", formula("w", HYPO, more="private: yes\nnotes: [WORD]\n")),
    (
        "a remark in a public formula",
        "formulas/solutions/public.yml",
        formula("public", HYPO, more="log: [{day: 2026-11-01, text: WORD}]\n"),
    ),
    ("a formula over the library's", "formulas/solutions/fixer-plain-hypo.yml", f"id: fixer-plain-hypo\n{CHANGE}"),
    ("a remark over the library's", "formulas/solutions/stop-citric.yml", f"id: stop-citric\n{REMARK}"),
    ("a process", "formulas/processes/p.yml", PROCESS),
    ("a plan", "formulas/plans/own.yml", PLAN),
    ("a kit", "formulas/kits/own.yml", KIT),
    (
        "a supplier",
        "formulas/prices/hidden/supplier.yml",
        "private: yes\n" + supplier().replace("Test supplier", "WORD"),
    ),
    ("a list of that supplier", "formulas/prices/hidden/2026-11-01.yml", f"date: 2026-11-01\noffers: [{OFFER}]\n"),
    (
        "a list",
        "formulas/prices/open/2026-11-02.yml",
        f"private: yes\ndate: 2026-11-02\noffers: [{OFFER.replace('1 kg', '500 g')}]\n",
    ),
    (
        "an offer",
        "formulas/prices/open/2026-11-03.yml",
        f"date: 2026-11-03\noffers: [{OFFER.replace('note', 'private: yes, note')}]\n",
    ),
    ("an offer in a table", "formulas/prices/open/2026-11-04.csv", TABLE),
    (
        "the shelf",
        "formulas/shelf.yml",
        f"packs: [{OFFER.replace('price: 7 EUR', 'bought: 2026-11-01, left: 500 g')}]\n",
    ),
    ("a member's name", "formulas/members/m/member.yml", "name: WORD\nprivate: yes\n"),
    ("a member's formula", "formulas/members/m/solutions/m.yml", formula("m", HYPO, more="notes: [WORD]\n")),
    ("a page and its name", "pages/WORD.md", "---\nprivate: true\n---\n# WORD\n"),
    ("what stands before a page", "pages/front.md", "---\ntitle: Front\nauthor: WORD\n---\n# Front\n"),
    ("a remark in a page", "pages/remark.md", "# Remark\n\nSeen.<!-- WORD -->\n"),
    ("a private page's picture", "pages/pictures/cellar.svg", PICTURE),
    ("a private page", "pages/cellar.md", "---\nprivate: true\n---\n# WORD\n\n![shelf](pictures/cellar.svg)\n"),
    ("a file beside the data", "formulas/notes.txt", "WORD\n"),
    ("a comment in a formula", "formulas/solutions/plain.yml", f"# WORD\n{formula('plain', HYPO)}"),
)
MARK = "qjxwz"
WORDS = {place: f"{MARK}{number:02d}x" for number, (place, _, _) in enumerate(PLACES)}
#: Not even their owner's pages show these.
NEVER_SHOWN = {"a comment in the settings", "a file beside the data", "a comment in a formula", "a remark in a page"}


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder, with a word of its own in each place."""
    root = own_handbook(tmp_path_factory.mktemp("own") / "our handbook")
    shutil.rmtree(root / "formulas")
    chosen = "library: {formulas: [fixer-plain-hypo, stop-citric], processes: [black-and-white-negative]}\n"
    texts = {"formulas/settings.yml": SETTINGS + chosen, "formulas/prices/open/supplier.yml": supplier()}
    for place, name, text in PLACES:
        texts[name.replace("WORD", WORDS[place])] = texts.get(name, "") + text.replace("WORD", WORDS[place])
    for name, text in texts.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, "utf-8")
    return root


def made(root: Path, folder: Path, audience: str, monkeypatch: pytest.MonkeyPatch) -> Site:
    monkeypatch.setenv("HANDBOOK_AUDIENCE", audience)
    built = build_here(folder, root=root)
    assert built.exit_code == 0, built.log
    return built


def test_no_byte_goes_out(planted: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert len(PLACES) >= 20
    given = contents(made(planted, tmp_path / "site", "club", monkeypatch).folder)
    assert [name for name, raw in given.items() if MARK in name or MARK.encode() in raw] == []
    assert "solutions/public/index.html" in given
    assert "solutions/fixer-plain-hypo/index.html" in given, "the library's, where the owner's is private"


def test_the_owner_sees_them(planted: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Else nothing would be there to find, whatever was left in."""
    shown = contents(made(planted, tmp_path / "site", "personal", monkeypatch).folder)
    everything = b"".join(shown.values()).decode("utf-8", "replace") + "".join(shown)
    assert {place for place, word in WORDS.items() if word not in everything} <= NEVER_SHOWN
