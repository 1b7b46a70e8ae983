"""A list in ``changes:`` takes the place of the library's; what it leaves out is asked about, never lost in silence."""

from __future__ import annotations

from pathlib import Path

import pytest

from over_library import TODAY, lay, small_library
from reckoner.build import load_checked
from reckoner.problems import HandbookError

FIXER = "solutions/fixers/fixer.yml"
SULFITE = "chemicals/sodium-sulfite.yml"
OWN = "source: {certainty: own practice, checked: 2026-11-20}\n"
HYPO = "{chemical: sodium-thiosulfate, form: pentahydrate, amount: 250 g}"
SALT = "{chemical: sodium-sulfite, form: anhydrous, amount: 15 g}"
NOTED = ("source:", "notes: [One., Two.]\nkeeping:\n  - {state: working, time: 1 weeks, certainty: invented}\nsource:")
ADVICE = "write the whole list; where they are meant to go, write leaves_out: [{}] beside changes:"


def faults(folder: Path, changes: str, more: str = "", name: str = FIXER) -> list[str]:
    """What is wrong with a change over a fixer of two ingredients, two notes and one keeping time."""
    small_library(folder, {FIXER: NOTED, SULFITE: ("source:", "storage: [Dry., Cool.]\ncautions: [Old.]\nsource:")})
    text = f"id: {Path(name).stem}\nchanges: {{{changes}}}\n{more}{OWN}"
    try:
        load_checked(lay(folder, {name: text}), TODAY)
    except HandbookError as told:
        return [str(problem).removeprefix(f"formulas/{name}:") for problem in told.problems]
    return []


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("ingredients", f"[{HYPO}, {SALT}]", ""),
        ("ingredients", f"[{SALT}, {HYPO}]", ""),
        ("ingredients", f"[{HYPO}, {HYPO}]", "1 of the library's 2 entries: sodium-sulfite"),
        ("ingredients", f"[{HYPO}]", "1 of the library's 2 entries: sodium-sulfite"),
        ("notes", "[Mine., Ours.]", ""),
        ("notes", "[Mine.]", "1 of the library's 2 entries"),
        ("keeping", "[{state: working, time: 2 weeks, certainty: invented}]", ""),
        ("keeping", "[{state: full bottle, time: 2 weeks, certainty: invented}]", "the library's one entry: working"),
        ("mixing", "[Pour.]", ""),
    ],
)
def test_what_a_list_leaves_out_is_a_fault_at_its_key(tmp_path: Path, key: str, value: str, said: str) -> None:
    wanted = [f"2:11: {key} leaves out {said} ({ADVICE.format(key)})"] if said else []
    assert faults(tmp_path / "asked", f"{key}: {value}") == wanted
    meant = faults(tmp_path / "meant", f"{key}: {value}", f"leaves_out: [{key}]\n")
    needless = f"3:14: '{key}' need not stand here: it leaves nothing out (take it out)"
    assert meant == ([] if said else [needless])


def test_every_list_is_told_at_once(tmp_path: Path) -> None:
    said = faults(tmp_path, f"ingredients: [{HYPO}], notes: []", "leaves_out: [uses]\n")
    assert [line.partition(" (")[0] for line in said] == [
        "2:11: ingredients leaves out 1 of the library's 2 entries: sodium-sulfite",
        f"2:{13 + len(f'ingredients: [{HYPO}]')}: notes leaves out 2 of the library's 2 entries",
        "3:14: 'uses' need not stand here: it leaves nothing out",
    ]


def test_of_a_chemicals_dangers_the_milder_rule_asks(tmp_path: Path) -> None:
    (line,) = faults(tmp_path / "asked", "cautions: []", name=SULFITE)
    assert "milder than the library's record: no caution 'Old.'" in line
    assert "write milder_because: beside id:, at the top of the file" in line
    assert faults(tmp_path / "said", "cautions: []", "milder_because: A test.\n", SULFITE) == []
    (line,) = faults(tmp_path / "both", "cautions: []", "milder_because: A test.\nleaves_out: [cautions]\n", SULFITE)
    assert line == "4:14: 'cautions' need not stand here: milder_because: says why there is less in it (take it out)"
    (line,) = faults(tmp_path / "names", "storage: [Dry.]", name=SULFITE)
    assert "storage leaves out 1 of the library's 2 entries" in line


def test_a_reason_inside_a_hazard_record_is_told_where_it_goes(tmp_path: Path) -> None:
    said = faults(tmp_path, "hazards: [{forms: [anhydrous], milder_because: so}]", name=SULFITE)
    assert "unknown key 'milder_because' (write milder_because: beside id:, at the top of the file)" in "\n".join(said)
