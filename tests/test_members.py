"""A club's handbook with a folder for each member: judged alone and together, one private and one public."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from handbook_command.command import main
from reckoner.audience import CLUB
from reckoner.build import Built, build
from reckoner.one_file import judge_member
from reckoner.outputs.export import handbook_json
from reckoner.problems import HandbookError
from reckoner.records.catalogue import PERSONAL
from small import SETTINGS, WATER, chemical, formula

Capture = pytest.CaptureFixture[str]
TODAY = date(2026, 11, 25)
SALT = chemical("salt", "[{id: dry, name: salt}]").replace("role: other", "role: other\nkeep_apart: none known")
INGREDIENTS = "[{chemical: salt, form: dry, amount: 10 g}]"


def club(folder: Path, files: dict[str, str]) -> Path:
    """The data of a club with two members, Ada and Ben (invented), of whom Ben keeps his to himself."""
    base = {
        "settings.yml": SETTINGS,
        "chemicals/water.yml": WATER,
        "chemicals/salt.yml": SALT,
        "solutions/shared.yml": formula("shared", INGREDIENTS),
        "members/ada/member.yml": "name: Ada (invented)\n",
        "members/ada/solutions/ada-bath.yml": formula("ada-bath", INGREDIENTS),
        "members/ben/member.yml": "name: Ben zqjxv (invented)\nprivate: yes\n",
        "members/ben/solutions/deep/ben-bath.yml": formula("ben-bath", INGREDIENTS),
    }
    for name, text in {**base, **files}.items():
        path = folder / "formulas" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder / "formulas"


def made(folder: Path, audience: str) -> Built:
    return build(folder, TODAY, audience=audience)


def test_together_all_of_them_are_pages_and_say_whose_they_are(tmp_path: Path) -> None:
    built = made(club(tmp_path, {}), PERSONAL)
    catalogue = built.results.catalogue
    assert set(catalogue.formulas) == {"shared", "ada-bath", "ben-bath"}
    names = {i: member.name for i in catalogue.formulas if (member := catalogue.member_of("formula", i))}
    pages = {page.path.rpartition("/")[2]: page.markdown for page in built.pages if "solutions/" in page.path}
    assert "kept by Ada (invented)</p>" in pages["ada-bath.md"]
    assert "kept by Ben zqjxv (invented), private</p>" in pages["ben-bath.md"]
    assert names == {"ada-bath": "Ada (invented)", "ben-bath": "Ben zqjxv (invented)"}


def test_nothing_of_a_private_member_is_given_away(tmp_path: Path) -> None:
    built = made(club(tmp_path, {}), CLUB)
    assert set(built.results.catalogue.formulas) == {"shared", "ada-bath"}
    every = [page.markdown for page in built.pages] + [handbook_json(built.results), str(built.problems)]
    assert not [text for text in every if "ben-bath" in text or "zqjxv" in text]


def test_what_others_see_is_built_on_nothing_private(tmp_path: Path) -> None:
    working = formula("ada-work", "[{formula: ben-bath, amount: 100 mL}]")
    folder = club(tmp_path, {"members/ada/solutions/ada-work.yml": working})
    with pytest.raises(HandbookError, match=r"members/ada/solutions/ada-work.yml:\d+:\d+: the formula 'ben-bath' is p"):
        made(folder, PERSONAL)


def test_each_is_judged_alone_too(tmp_path: Path) -> None:
    spoiled = formula("ben-bath", "[{chemical: slat, form: dry, amount: 10 g}]")
    folder = club(tmp_path, {"members/ben/solutions/deep/ben-bath.yml": spoiled})
    assert judge_member(folder / "members" / "ada", TODAY).problems == ()
    (problem,) = judge_member(folder / "members" / "ben", TODAY).problems
    assert str(problem).startswith("formulas/members/ben/solutions/deep/ben-bath.yml:7:26: unknown chemical 'slat'")


def test_an_id_of_two_members_is_told_together_and_not_alone(tmp_path: Path) -> None:
    folder = club(tmp_path, {"members/ada/solutions/ben-bath.yml": formula("ben-bath", INGREDIENTS)})
    assert judge_member(folder / "members" / "ada", TODAY).problems == ()
    with pytest.raises(HandbookError, match="id 'ben-bath' is also the id of formulas/members/ada/solutions/ben-bath"):
        made(folder, PERSONAL)


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        (
            "members/cleo/solutions/x.yml",
            formula("x", INGREDIENTS),
            "formulas/members/cleo/member.yml:1:1: the file",
        ),
        (
            "members/ada/prices/a/2026-11-01.yml",
            "a: b",
            "formulas/members/ada/prices/a/2026-11-01.yml:1:1: no data",
        ),
        ("members/ada/member.yml", "nam: Ada", "formulas/members/ada/member.yml:1:1: unknown key 'nam'"),
        ("member.yml", "name: Ada", "formulas/member.yml:1:1: no data file belongs here"),
    ],
)
def test_a_folder_that_is_not_in_order_is_told(tmp_path: Path, name: str, text: str, said: str) -> None:
    with pytest.raises(HandbookError) as faults:
        made(club(tmp_path, {name: text}), PERSONAL)
    assert [line for line in str(faults.value).splitlines() if line.startswith(said)], str(faults.value)


def test_a_member_changes_no_record_of_the_library(tmp_path: Path) -> None:
    text = formula("fixer-plain-hypo", INGREDIENTS)
    folder = club(
        tmp_path,
        {
            "settings.yml": f"{SETTINGS}library: {{formulas: [fixer-plain-hypo]}}\n",
            "members/ada/solutions/fixer-plain-hypo.yml": text,
        },
    )
    (folder / "chemicals" / "water.yml").unlink()
    with pytest.raises(HandbookError, match="the library has a formula 'fixer-plain-hypo'"):
        made(folder, PERSONAL)


def test_the_command_judges_a_member_alone_and_then_together(tmp_path: Path, capsys: Capture) -> None:
    folder = club(tmp_path, {})
    assert main(["check", str(folder / "members" / "ada")]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert "ada: in order alone; together with the others:" in lines
    assert lines[-1].startswith("3 formulas, 2 chemicals: in order")
    (folder / "members" / "ben" / "member.yml").write_text("nam: Ben\n", "utf-8")
    assert main(["check", str(folder / "members" / "ada")]) == 1
    assert "formulas/members/ben/member.yml:1:1: unknown key 'nam'" in capsys.readouterr().out
    assert main(["check", str(folder / "members" / "ben")]) == 1
    assert "not in order alone" in capsys.readouterr().out
