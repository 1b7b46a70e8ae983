"""A demonstration states its day: no build of it fails by the calendar alone, and its pages say of which day it is."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from handbook_command import command
from handbook_command.command import main
from long_run import sampled
from reckoner.build import load_checked
from reckoner.records.catalogue import Catalogue
from site_build import ROOT, Site
from small import SETTINGS, SOURCE

#: Years after and before everything in the demonstration, and days after it.
MACHINE_DAYS = ("2031-06-01", "2020-01-01", "2026-11-30")
#: Read by Python as it starts: the machine's calendar says another day.
ANOTHER_DAY = """
import datetime
class Kind(type(datetime.date)):
    def __instancecheck__(cls, value):
        return isinstance(value, real)
class Date(datetime.date, metaclass=Kind):
    @classmethod
    def today(cls):
        return cls.fromisoformat("{day}")
real, datetime.date = datetime.date, Date
"""
Capture = pytest.CaptureFixture[str]


@pytest.fixture
def calendar(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """The day that the machine's calendar says, for the command."""

    def says(day: str) -> None:
        class Calendar(date):
            @classmethod
            def today(cls) -> date:  # type: ignore[override]
                return date.fromisoformat(day)

        monkeypatch.setattr(command, "date", Calendar)

    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    return says


def handbook(folder: Path, settings: str) -> Path:
    """A small handbook with an exchange rate of 2026-11-01, good for two months."""
    data = folder / "formulas"
    data.mkdir(parents=True)
    (data / "settings.yml").write_text(SETTINGS + settings, "utf-8")
    rate = "rates:\n  - {base: GBP, quote: EUR, rate: 1.2, date: 2026-11-01}\n"
    (data / "exchange_rates.yml").write_text(f"{rate}{SOURCE}\n", "utf-8")
    return data


@pytest.mark.parametrize("day", sampled(MACHINE_DAYS, 3))
def test_the_demonstration_is_in_order_on_any_day(day: str, calendar: Callable[[str], None], capsys: Capture) -> None:
    calendar(day)
    assert main(["check", str(ROOT)]) == 0
    said = capsys.readouterr().out
    assert "a demonstration: every date is judged as of 2026-11-25" in said
    assert "out of date" not in said
    assert "after today" not in said


@pytest.mark.parametrize("day", MACHINE_DAYS[1:])
def test_the_demonstration_is_the_same_on_any_day(day: str, demo: Catalogue) -> None:
    catalogue, _ = load_checked(ROOT / "formulas", date.fromisoformat(day), fixed=False)
    assert catalogue == replace(demo, demo=True)


@pytest.mark.process
def test_a_strict_build_of_it_ends_well_years_later(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(ANOTHER_DAY.format(day=MACHINE_DAYS[0]), "utf-8")
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(tmp_path)}
    for name in ("SOURCE_DATE_EPOCH", "HANDBOOK_EDITION"):
        environment.pop(name, None)
    site = tmp_path / "site"
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "-f", str(ROOT / "mkdocs.yml"), "-d", str(site)]
    done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
    assert done.returncode == 0, done.stderr
    home = (site / "index.html").read_text("utf-8").replace("\u00a0", " ")
    assert "Demonstration: all dates as of 25 Nov 2026." in home
    for page in ("index.html", "shelf/index.html", "bench/bw-mq-borax/index.html", "404.html"):
        assert '<meta name="handbook-day" content="2026-11-25">' in (site / page).read_text("utf-8")


@pytest.mark.parametrize(("settings", "old"), [("", True), ("demo_day: 2026-12-31\n", False)])
def test_only_a_stated_day_stops_the_calendar(
    settings: str, old: bool, tmp_path: Path, calendar: Callable[[str], None], capsys: Capture
) -> None:
    calendar("2027-06-01")
    assert main(["check", str(handbook(tmp_path, settings))]) == 0
    assert ("exchange rate GBP to EUR" in capsys.readouterr().out) == old


def test_a_day_that_is_asked_for_counts_before_it(
    tmp_path: Path, calendar: Callable[[str], None], monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    calendar("2026-11-25")
    # 2027-06-01 12:00 UTC
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1811851200")
    assert main(["check", str(handbook(tmp_path, "demo_day: 2026-12-31\n"))]) == 0
    said = capsys.readouterr().out
    assert "exchange rate GBP to EUR" in said
    assert "demonstration" not in said


def test_a_build_of_a_day_that_is_asked_for_hands_none_to_the_phone(site: Site) -> None:
    """The site of most tests is one: its pages follow the phone's calendar."""
    pages = ["", "shelf", "out-of-date", "bench/bw-mq-borax"]
    assert [page for page in pages if "handbook-day" in site.page(page)] == []
    assert "Demonstration: all dates" not in site.page("")


def test_one_file_is_judged_as_of_the_stated_day(
    tmp_path: Path, calendar: Callable[[str], None], capsys: Capture
) -> None:
    """Checked before the stated day, and after the machine's."""
    data = handbook(tmp_path, "demo_day: 2026-12-31\n")
    calendar("2020-01-01")
    assert main(["check", str(data / "exchange_rates.yml"), str(data)]) == 0
    assert "after today" not in capsys.readouterr().out


def test_settings_with_another_fault_still_state_the_day(
    tmp_path: Path, calendar: Callable[[str], None], capsys: Capture
) -> None:
    """Else every record of it would be dated after today, faults that nobody made."""
    data = handbook(tmp_path, "demo_day: 2026-12-31\nrolls_a_week: 2\n")
    calendar("2020-01-01")
    assert main(["check", str(data)]) == 1
    said = capsys.readouterr().out
    assert "rolls_a_week" in said
    assert "after today" not in said


@pytest.mark.parametrize("written", ["soon", "2026-02-30", "[2026-11-25]", "25.11.2026", ""])
def test_a_day_that_cannot_be_read_is_a_fault_with_its_place(
    written: str, tmp_path: Path, calendar: Callable[[str], None], capsys: Capture
) -> None:
    calendar("2026-11-25")
    data = handbook(tmp_path, f"demo_day: {written}\n")
    assert main(["check", str(data)]) == 1
    line = (data / "settings.yml").read_text("utf-8").splitlines().index(f"demo_day: {written}") + 1
    assert f"formulas/settings.yml:{line}:" in capsys.readouterr().out
