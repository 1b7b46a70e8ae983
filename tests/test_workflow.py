"""Workflows that publish a club's handbook, of this tree and of a folder just begun: what they build, and when."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path
from typing import Any

import pytest
import yaml

from handbook_command.begin import FIRST
from site_build import ROOT

PUBLISH = Path(".github", "workflows", "publish.yml")
HERE, BEGUN = ROOT / PUBLISH, FIRST / PUBLISH
both = pytest.mark.parametrize("file", [HERE, BEGUN], ids=["here", "begun"])


def workflow(file: Path) -> Any:
    """As YAML 1.2 has it, where ``on`` is a word."""
    return yaml.load(file.read_text("utf-8"), Loader=yaml.BaseLoader)


def steps(file: Path, job: str) -> list[dict[str, Any]]:
    return list(workflow(file)["jobs"][job]["steps"])


def test_that_of_a_begun_folder_differs_in_nothing_but_what_is_installed() -> None:
    here, begun = workflow(HERE), workflow(BEGUN)
    assert begun.pop("env") == {"HANDBOOK_ENGINE": ""}
    ours, theirs = here["jobs"]["build"]["steps"], begun["jobs"]["build"]["steps"]
    assert [step for step in ours if step not in theirs] == [{"run": "python -m pip install -e '.[spreadsheets]'"}]
    (install,) = [step for step in theirs if step not in ours]
    assert install["run"].splitlines()[-1] == 'python -m pip install "$HANDBOOK_ENGINE"'
    here["jobs"]["build"]["steps"] = begun["jobs"]["build"]["steps"] = []
    assert here == begun


@pytest.mark.process
@pytest.mark.parametrize(("engine", "code"), [("", 1), ("a.whl", 0)])
def test_an_engine_that_is_not_filled_in_is_said(engine: str, code: int, tmp_path: Path) -> None:
    (tmp_path / "python").write_text('#!/bin/sh\necho "$@"\n', "utf-8")
    (tmp_path / "python").chmod(0o755)
    (install,) = [step for step in steps(BEGUN, "build") if "pip install" in step.get("run", "")]
    told = {"PATH": f"{tmp_path}:/usr/bin:/bin", "HANDBOOK_ENGINE": engine}
    done = subprocess.run(["bash", "-e", "-c", install["run"]], env=told, capture_output=True, text=True, check=False)
    assert done.returncode == code
    assert ("HANDBOOK_ENGINE is empty (fill it in" in done.stdout) == (not engine)
    assert ("-m pip install a.whl" in done.stdout) == bool(engine)


@both
def test_it_runs_on_a_push_and_every_month(file: Path) -> None:
    on = workflow(file)["on"]
    assert on["push"]["branches"] == ["main"]
    (every,) = on["schedule"]
    minute, hour, day, month, weekday = every["cron"].split()
    assert (day, month, weekday) == ("1", "*", "*")
    assert int(minute) < 60
    assert int(hour) < 24


@both
def test_it_builds_strictly_and_for_the_club(file: Path) -> None:
    (build,) = [step for step in steps(file, "build") if "mkdocs" in step.get("run", "")]
    assert build["run"] == "mkdocs build --strict"
    assert build["env"]["HANDBOOK_AUDIENCE"] == "club"
    (upload,) = [step for step in steps(file, "build") if "upload-pages-artifact" in step.get("uses", "")]
    assert (
        upload["with"]["path"]
        == yaml.load((ROOT / "mkdocs.yml").read_text("utf-8"), Loader=yaml.BaseLoader)["site_dir"]
    )
    assert workflow(file)["jobs"]["deploy"]["needs"] == "build"


@both
def test_no_address_path_or_secret_stands_in_it(file: Path) -> None:
    text = file.read_text("utf-8")
    assert not re.search(r"https?://|(?<![\w.])/(?:home|root|work|tmp|opt)/|secrets\.|index-url", text)
    assert all(
        re.fullmatch(r"[\w-]+/[\w-]+@v\d+", s["uses"])
        for job in ("build", "deploy")
        for s in steps(file, job)
        if "uses" in s
    )
