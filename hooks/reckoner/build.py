"""The whole road: load, check, calculate, render. No printing, no MkDocs, no clock."""

from __future__ import annotations

import time
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from reckoner.audience import for_audience
from reckoner.calc.results import Results, work_out
from reckoner.checks import check
from reckoner.choice import with_what_is_chosen
from reckoner.guide import guide_page
from reckoner.library_news import library_notes
from reckoner.loading.catalogue import load_folder, require
from reckoner.loading.files import LIBRARY
from reckoner.pages.kinds import pages
from reckoner.pages.prices.price_news import newest_list
from reckoner.pages.shared.page import Page
from reckoner.problems import Problem, Severity
from reckoner.records.catalogue import PERSONAL, Catalogue
from reckoner.warn import WARNINGS


@dataclass(frozen=True)
class Built:
    """Everything a site needs.

    Attributes:
        problems: warnings and notes; errors never get here.
        notes: news without a fault in it, for the log.
        stages: seconds spent in each stage.
    """

    results: Results
    pages: tuple[Page, ...]
    problems: tuple[Problem, ...]
    stages: tuple[tuple[str, float], ...]
    notes: tuple[str, ...] = ()


def day_of(source_date_epoch: str | None, local: date) -> date:
    """Today: ``SOURCE_DATE_EPOCH`` in UTC where set, else the local day.

    Raises:
        ValueError: the variable is no whole number of seconds.
    """
    if not source_date_epoch:
        return local
    try:
        return datetime.fromtimestamp(int(source_date_epoch), UTC).date()
    except (OverflowError, OSError) as error:
        raise ValueError(str(error)) from None


def load_checked(folder: Path, today: date, fixed: bool = True) -> tuple[Catalogue, tuple[Problem, ...]]:
    """Load and check a data folder; ``fixed`` as for ``build``.

    Raises:
        HandbookError: with every fault of every file.
    """
    catalogue, problems = load_folder(folder, today, folder.name, fixed)
    if catalogue is not None:
        catalogue = with_what_is_chosen(catalogue)
        problems = problems + check(catalogue)
    checked = require(catalogue, problems)
    return checked, tuple(sorted(problems))


def load_for(folder: Path, today: date, audience: str, fixed: bool = True) -> tuple[Catalogue, tuple[Problem, ...]]:
    """Load and check a data folder, then leave out what this audience must not see.

    What is left is checked again, so that warnings tell of nothing else; ``fixed`` as for ``build``.

    Raises:
        HandbookError: with every fault of every file, private ones too.
    """
    checked, problems = load_checked(folder, today, fixed)
    if audience == PERSONAL:
        return checked, problems
    # What only private records need is gone with them.
    catalogue = with_what_is_chosen(for_audience(checked, audience))
    return require(catalogue, faults := check(catalogue)), tuple(sorted(faults))


def _its_authors_alone(problem: Problem) -> bool:
    """Whether it is a note in an installed library, which nobody who reads it can follow."""
    return problem.severity is Severity.NOTE and problem.at.file.startswith(f"{LIBRARY}/")


def build(
    folder: Path,
    today: date,
    directories: bool = True,
    site_url: str = "",
    audience: str = PERSONAL,
    fixed: bool = True,
) -> Built:
    """Build every page of a handbook.

    Args:
        folder: the data, as ``formulas``.
        today: the day that ages are counted to.
        directories: whether addresses end in a slash.
        site_url: address the site will have, for labels; empty where it is not known.
        audience: for whom; see ``audience.py``.
        fixed: whether today was asked for; the calendar's day gives way to the one that a demonstration states.

    Raises:
        HandbookError: faults in the data, or a template that fails.
    """
    begun = time.perf_counter()
    catalogue, problems = load_for(folder, today, audience, fixed)
    loaded = time.perf_counter()
    results = work_out(catalogue)
    worked = time.perf_counter()
    made = (*pages(results, directories, site_url), guide_page(catalogue))
    ended = time.perf_counter()
    stages = (("load and check", loaded - begun), ("calculate", worked - loaded), ("render", ended - worked))
    newer = library_notes(folder, catalogue)
    warnings = tuple(problem for warn in WARNINGS for problem in warn(results))
    news = newest_list(results)
    told = tuple(problem for problem in (*problems, *newer, *warnings) if not _its_authors_alone(problem))
    return Built(results, made, told, stages, (news,) if news else ())
