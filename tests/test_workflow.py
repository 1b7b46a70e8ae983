"""The workflow that publishes a club's handbook: what it builds, when, and that it fits any host's repository."""

from __future__ import annotations

import re
from typing import Any

import yaml

from site_build import ROOT

FILE = ROOT / ".github" / "workflows" / "publish.yml"


def workflow() -> Any:
    """As YAML 1.2 has it, where ``on`` is a word."""
    return yaml.load(FILE.read_text("utf-8"), Loader=yaml.BaseLoader)


def steps(job: str) -> list[dict[str, Any]]:
    return list(workflow()["jobs"][job]["steps"])


def test_it_runs_on_a_push_and_every_month() -> None:
    on = workflow()["on"]
    assert on["push"]["branches"] == ["main"]
    (every,) = on["schedule"]
    minute, hour, day, month, weekday = every["cron"].split()
    assert (day, month, weekday) == ("1", "*", "*")
    assert int(minute) < 60
    assert int(hour) < 24


def test_it_builds_strictly_and_for_the_club() -> None:
    (build,) = [step for step in steps("build") if "mkdocs" in step.get("run", "")]
    assert build["run"] == "mkdocs build --strict"
    assert build["env"]["HANDBOOK_AUDIENCE"] == "club"
    (upload,) = [step for step in steps("build") if "upload-pages-artifact" in step.get("uses", "")]
    assert (
        upload["with"]["path"]
        == yaml.load((ROOT / "mkdocs.yml").read_text("utf-8"), Loader=yaml.BaseLoader)["site_dir"]
    )
    assert workflow()["jobs"]["deploy"]["needs"] == "build"


def test_no_address_path_or_secret_stands_in_it() -> None:
    text = FILE.read_text("utf-8")
    assert not re.search(r"https?://|(?<![\w.])/(?:home|root|work|tmp|opt)/|secrets\.|index-url", text)
    assert all(
        re.fullmatch(r"[\w-]+/[\w-]+@v\d+", s["uses"]) for job in ("build", "deploy") for s in steps(job) if "uses" in s
    )
