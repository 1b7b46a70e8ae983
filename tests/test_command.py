"""The command: what it finds from where, what its exit codes mean, and what it says to wrong words."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from importlib import import_module
from pathlib import Path

import pytest
import yaml

from bad_input import VALID
from data_layers import LIBRARY
from handbook_command.command import SUBCOMMANDS, main
from handbook_command.subcommand import Subcommand
from handbook_command.where import data_around, data_of
from site_build import FIXED_DAY, ROOT

Capture = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("fixed_day")
IN_ORDER = "2 formulas, 5 chemicals: in order\n"
#: A configuration as owners write it, with tags and other things that data files may not have.
TAGGED = "site_url: !ENV [ADDRESS, '']\nemoji: !!python/name:os.path.join\nextra:\n  data: our data\n"


@pytest.fixture
def ours(tmp_path: Path) -> Path:
    """A handbook whose folder, and whose data, have a space in their names."""
    folder = tmp_path / "our handbook"
    shutil.copytree(VALID, folder / "our data")
    (folder / "mkdocs.yml").write_text(TAGGED, "utf-8")
    (folder / "pages" / "inside").mkdir(parents=True)
    return folder


@pytest.mark.parametrize("where", [".", "pages", "pages/inside", "our data/solutions"])
def test_without_words_the_handbook_one_stands_in_is_checked(
    where: str, ours: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(ours / where)
    assert main(["check"]) == 0
    assert capsys.readouterr().out == IN_ORDER


@pytest.mark.parametrize("what", ["our handbook", "our handbook/our data"])
def test_a_handbook_or_its_data_may_be_named(
    what: str, ours: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(ours.parent)
    assert main(["check", what]) == 0
    assert capsys.readouterr().out == IN_ORDER


@pytest.mark.process
def test_who_reads_only_the_first_lines_sees_no_other_fault(ours: Path) -> None:
    command = f"{sys.executable} -m handbook_command check '{ours}' | true"
    path = {**os.environ, "PYTHONPATH": str(ROOT / "hooks")}
    (ours / "our data" / "shelf.yml").write_text("bottels: []\n" * 5000, "utf-8")
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, env=path, check=False)
    assert done.stderr == ""


def test_faults_are_told_as_the_build_tells_them(ours: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.chdir(ours)
    (ours / "our data" / "shelf.yml").write_text("bottels: []\n", "utf-8")
    assert main(["check"]) == 1
    assert capsys.readouterr().out.splitlines() == [
        "our data/shelf.yml:1:1: unknown key 'bottels' (did you mean 'bottles'?)",
        "1 error: not in order",
    ]


@pytest.mark.parametrize("stands_in", ["our handbook", "."])
def test_a_file_is_judged_for_the_handbook_at_hand_or_for_the_one_it_lies_in(
    stands_in: str, ours: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(ours.parent / stands_in)
    file = ours / "our data" / "solutions" / "fixers" / "fixer.yml"
    assert main(["check", str(file)]) == 0
    assert capsys.readouterr().out == f"{file}: a formula, in order\n"


def test_a_file_may_be_judged_for_a_handbook_that_is_named(
    ours: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(ours.parent)
    text = (VALID / "solutions" / "fixers" / "fixer.yml").read_text("utf-8")
    Path("sent.yml").write_text(text.replace("id: fixer\n", "id: sent\n").replace("name: Plain", "name: Sent"), "utf-8")
    assert main(["check", "sent.yml", "our handbook"]) == 0
    assert capsys.readouterr().out == "sent.yml: a formula, in order (put it at our data/solutions/sent.yml)\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "the following arguments are required: WHAT"),
        (["chekc"], "invalid choice: 'chekc' (did you mean 'check'?)"),
        (["updates", "."], "invalid choice: 'updates' (did you mean 'update'?)"),
        (["xyz"], "invalid choice: 'xyz' (write one of: begin, check, from-table, changes, update)"),
        (["check"], "no mkdocs.yml in this folder or above it (go to your handbook's folder, or name it)"),
        (["check", "mine.yml"], "no mkdocs.yml in this folder or above it"),
        (["check", ".", "."], "a second folder goes with one file (name a file before it)"),
        (["check", "a.yml", "b", "c"], "unrecognized arguments: c"),
        (["from-table"], "the following arguments are required: TABLE, FOLDER"),
    ],
)
def test_wrong_use_is_answered_with_the_words_that_fit(
    words: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 2
    answer = capsys.readouterr().err
    assert answer.startswith("usage: formula-handbook")
    assert said in answer


def test_the_version_is_that_of_engine_and_library(capsys: Capture) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    engine = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"]
    library = yaml.safe_load((LIBRARY / "library.yml").read_text("utf-8"))
    said = f"formula-handbook {engine}, library {library['version']} of {library['date']}"
    assert capsys.readouterr().out == f"{said}\n"


@pytest.mark.parametrize("subcommand", SUBCOMMANDS, ids=lambda subcommand: subcommand.name)
def test_each_tells_what_it_does(subcommand: Subcommand, capsys: Capture) -> None:
    with pytest.raises(SystemExit) as ended:
        main([subcommand.name, "--help"])
    assert ended.value.code == 0
    assert subcommand.about in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("written", "data"),
    [
        ("site_name: x\n", "formulas"),
        ("extra: {data: '  '}\n", "formulas"),
        ("extra: none\n", "formulas"),
        ("extra: {data: ours}\n", "ours"),
        ("INHERIT: base.yml\n", "of the base"),
        ("INHERIT: base.yml\nextra: {data: ours}\n", "ours"),
        ("INHERIT: mkdocs.yml\n", "formulas"),
        ("INHERIT: gone.yml\n", "formulas"),
        ('site_name: "never closed\n', "formulas"),
    ],
)
def test_the_data_are_where_the_configuration_says(written: str, data: str, tmp_path: Path) -> None:
    (tmp_path / "mkdocs.yml").write_text(written, "utf-8")
    (tmp_path / "base.yml").write_text("extra: {data: of the base}\n", "utf-8")
    assert data_of(tmp_path) == data_around(tmp_path / "some" / "where") == tmp_path / data


def test_a_folder_without_a_configuration_is_the_data(tmp_path: Path) -> None:
    assert data_of(tmp_path) == tmp_path
    assert data_around(tmp_path) is None


def test_the_script_is_this_command() -> None:
    script = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["scripts"]["formula-handbook"]
    module, _, function = script.partition(":")
    assert getattr(import_module(module), function) is main


@pytest.mark.process
def test_it_runs_from_any_folder(ours: Path, tmp_path: Path) -> None:
    environment = {**os.environ, "SOURCE_DATE_EPOCH": FIXED_DAY, "PYTHONPATH": str(ROOT / "hooks")}
    command = [sys.executable, "-m", "handbook_command", "check", str(ours)]
    done = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, IN_ORDER, "")
