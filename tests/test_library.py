"""A handbook over the library: what appears, what the owner's files change, and what may not be lost."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path

import pytest
import yaml

from data_layers import LIBRARY
from reckoner.build import build, load_checked
from reckoner.problems import HandbookError, Problem, Severity
from reckoner.records.catalogue import Catalogue
from small import SETTINGS, SOURCE, formula

TODAY = date(2026, 11, 25)


def laid(folder: Path, files: dict[str, str], chosen: str) -> Path:
    """The data of a handbook of one's own over the library that comes with the engine."""
    for name, text in {"settings.yml": f"{SETTINGS}library: {chosen}\n", **files}.items():
        path = folder / "formulas" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder / "formulas"


def catalogue(folder: Path, files: dict[str, str], chosen: str) -> Catalogue:
    """What such a handbook holds."""
    return load_checked(laid(folder, files, chosen), TODAY)[0]


def test_a_process_brings_all_that_it_needs_and_nothing_else(tmp_path: Path, demo: Catalogue) -> None:
    chosen = catalogue(tmp_path, {}, "{processes: [motion-picture-colour-negative]}")
    process = demo.processes["motion-picture-colour-negative"]
    needed = {bath.formula for step in process.steps for bath in step.baths}
    while more := {name for i in needed for name in _formulas_in(demo, i)} - needed:
        needed |= more
    assert set(chosen.processes) == {process.id}
    assert set(chosen.formulas) == needed
    used = {item.chemical for i in needed for item in demo.formulas[i].items if item.chemical}
    assert used <= set(chosen.chemicals) < set(demo.chemicals)


def _formulas_in(demo: Catalogue, formula_id: str) -> set[str]:
    formula = demo.formulas[formula_id]
    replenishers = {entry.formula for entry in formula.replenishment if entry.formula}
    return {*formula.of, *(item.formula for item in formula.items if item.formula), *replenishers}


def test_what_yours_name_appears_without_being_chosen(tmp_path: Path) -> None:
    mine = "id: mine\nname: Mine\npurpose: fixer\nstrength: working\ndilution: 1+1\nof: [fixer-plain-hypo]\n"
    mine += f"makes: 1 L\ncautions: [gloves]\ndisposal: silver-bearing\n{SOURCE}\n"
    chosen = catalogue(tmp_path, {"solutions/mine.yml": mine}, "{purposes: [wash aid]}")
    assert {"mine", "fixer-plain-hypo"} <= set(chosen.formulas)
    assert {formula.purpose for i, formula in chosen.formulas.items() if i not in ("mine", "fixer-plain-hypo")} == {
        "wash aid"
    }


def test_notes_of_an_installed_library_are_its_authors_alone(tmp_path: Path) -> None:
    """One of a rule, and one of a warning."""

    def notes(problems: tuple[Problem, ...]) -> set[str]:
        return {Path(problem.at.file).stem for problem in problems if "library/" in problem.at.file}

    data = laid(tmp_path, {}, "{formulas: [bw-pyrocatechin-b, bleach-permanganate-b]}")
    assert notes(build(data, TODAY).problems) == notes(load_checked(data, TODAY)[1]) == set()
    shutil.copytree(LIBRARY, data / "library")
    assert "bleach-permanganate-b" in notes(build(data, TODAY).problems)
    assert "bw-pyrocatechin-b" in notes(load_checked(laid(tmp_path, {}, "{everything: yes}"), TODAY)[1])


def test_single_keys_change_and_the_rest_stays(tmp_path: Path, demo: Catalogue) -> None:
    change = f"id: metol\nchanges:\n  use: my developing agent\n{SOURCE}\n"
    mine = catalogue(tmp_path, {"chemicals/metol.yml": change}, "{everything: yes}").chemicals["metol"]
    assert mine.use == "my developing agent"
    assert mine == demo.chemicals["metol"].model_copy(update={"use": mine.use})


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("changes: {hazards: []}", "formulas/chemicals/metol.yml:2:20: milder than the library's record: not assessed"),
        ("changes: {uses: x}", "formulas/chemicals/metol.yml:2:11: unknown key 'uses' (did you mean 'use'?)"),
        ("changes: {id: x}", "formulas/chemicals/metol.yml:2:11: 'id' of a record of the library stays"),
        ("changes: none", "formulas/chemicals/metol.yml:2:10: keys are needed here"),
        ("changes: {use: a}\nmilder_because: so", "formulas/chemicals/metol.yml:3:17: nothing here is milder"),
    ],
)
def test_a_change_that_cannot_stand_is_told_with_its_place(tmp_path: Path, change: str, said: str) -> None:
    files = {"chemicals/metol.yml": f"id: metol\n{change}\n{SOURCE}\n"}
    with pytest.raises(HandbookError) as faults:
        catalogue(tmp_path, files, "{everything: yes}")
    assert [line for line in str(faults.value).splitlines() if line.startswith(said)], str(faults.value)


def test_a_milder_record_says_why(tmp_path: Path) -> None:
    change = f"id: metol\nchanges: {{hazards: []}}\nmilder_because: Not looked up anew.\n{SOURCE}\n"
    mine = catalogue(tmp_path, {"chemicals/metol.yml": change}, "{everything: yes}")
    assert mine.chemicals["metol"].milder_because == "Not looked up anew."


def test_a_change_of_nothing_in_the_library_is_told(tmp_path: Path) -> None:
    files = {"chemicals/metoll.yml": f"id: metoll\nchanges: {{use: a}}\n{SOURCE}\n"}
    with pytest.raises(HandbookError, match="the library has no chemical 'metoll' to change \\(did you mean 'metol'"):
        catalogue(tmp_path, files, "{everything: yes}")


def test_a_pair_of_yours_adds_to_what_must_not_meet(tmp_path: Path, demo: Catalogue) -> None:
    pair = "{groups: [mine, acids], result: Heat (invented), severity: caution, certainty: invented}"
    files = {
        "incompatibilities.yml": f"groups: [{{id: mine, name: mine, chemicals: [metol]}}]\npairs: [{pair}]\n{SOURCE}\n"
    }
    assert demo.incompatibilities is not None
    held = {group.id for group in demo.incompatibilities.groups}
    files["incompatibilities.yml"] = files["incompatibilities.yml"].replace("acids", sorted(held)[0])
    table = catalogue(tmp_path, files, "{everything: yes}").incompatibilities
    assert table is not None
    assert table.pairs[:-1] == demo.incompatibilities.pairs
    assert table.pairs[-1].result == "Heat (invented)"


@pytest.mark.parametrize("kind", ["processes", "formulas"])
def test_an_unknown_choice_is_told(tmp_path: Path, kind: str) -> None:
    with pytest.raises(HandbookError, match=r"formulas/settings.yml:\d+:\d+: unknown (process|formula) 'nothing'"):
        catalogue(tmp_path, {}, f"{{{kind}: [nothing-at-all, nothing]}}")


def test_what_the_library_says_too_need_not_be_there(tmp_path: Path, demo: Catalogue) -> None:
    """So a handbook that was a copy of everything shrinks to what is its own."""
    kept = ("chemicals/metol.yml", "solutions/fixers/fixer-plain-hypo.yml", "cautions.yml", "incompatibilities.yml")
    files = {name: (LIBRARY / name).read_text("utf-8") for name in kept}
    files["cautions.yml"] += "\n"
    mine, problems = load_checked(laid(tmp_path, files, "{everything: yes}"), TODAY)
    said = {problem.at.file: problem for problem in problems if "word for word" in problem.message}
    assert set(said) == {f"formulas/{name}" for name in kept}
    assert {problem.severity for problem in said.values()} == {Severity.WARNING}
    assert mine.cautions == demo.cautions
    assert mine.incompatibilities == demo.incompatibilities


def test_an_installed_library_is_not_judged_by_what_its_owner_has(tmp_path: Path) -> None:
    """Nobody can mend a file of it: formulas of one's own may make its amounts look far off, whatever is chosen."""
    weak = "[{chemical: sodium-thiosulfate, form: pentahydrate, amount: 2 g}]"
    files = {f"solutions/weak-{n}.yml": formula(f"weak-{n}", weak) for n in range(24)}

    def asked(chosen: str) -> set[str]:
        problems = load_checked(laid(tmp_path, files, chosen), TODAY)[1]
        return {problem.at.file.split("/")[0] for problem in problems if "the usual 2 g" in problem.message}

    assert asked("{everything: yes}") == asked("{formulas: [fixer-plain-hypo]}") == set()
    # Judged it is where it lies in the handbook.
    shutil.copytree(LIBRARY, tmp_path / "formulas" / "library")
    assert asked("{everything: yes}") == {"formulas"}


def test_an_amount_of_the_library_in_an_owners_volume_is_asked_about_there(tmp_path: Path) -> None:
    for changes, asked in (("makes: 100 mL, start_water: 80 mL", True), ("idle: Wait.", False)):
        text = f"id: fixer-plain-hypo\nchanges: {{{changes}, name: Mine}}\n{SOURCE}\n"
        data = laid(tmp_path, {"solutions/fixer-plain-hypo.yml": text}, "{everything: yes}")
        said = [str(problem) for problem in load_checked(data, TODAY)[1] if "for each litre of" in problem.message]
        assert [line.startswith("formulas/solutions/fixer-plain-hypo.yml:2:18: ") for line in said] == [True] * asked


def test_texts_of_an_installed_library_are_not_judged_by_a_milder_record(tmp_path: Path) -> None:
    record = yaml.safe_load((LIBRARY / "chemicals" / "metol.yml").read_text("utf-8"))["hazards"]
    for entry in record:
        entry["classes"] = [each for each in entry["classes"] if each["h"] != "H317"]
    change = {"hazards": record, "cautions": ["Anyone may sensitise to it."]}
    text = f"id: metol\nchanges: {json.dumps(change, default=str)}\nmilder_because: A test.\n{SOURCE}\n"
    made = build(laid(tmp_path, {"chemicals/metol.yml": text}, "{everything: yes}"), TODAY)
    said = [problem.at.file for problem in made.problems if "no ground in metol" in problem.message]
    assert said == ["formulas/chemicals/metol.yml"]
