"""The whole road: load, check, calculate, render. No printing, no MkDocs, no clock."""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from reckoner.calc.ageing import Aged
from reckoner.calc.results import Results, work_out
from reckoner.checks import check
from reckoner.loading.catalogue import load_folder, require
from reckoner.pages.kinds import pages
from reckoner.pages.page import Page
from reckoner.pages.price_news import newest_list
from reckoner.problems import Location, Problem, Severity
from reckoner.records.catalogue import Catalogue


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


def load_checked(folder: Path, today: date) -> tuple[Catalogue, tuple[Problem, ...]]:
    """Load and check a data folder.

    Raises:
        HandbookError: with every fault of every file.
    """
    catalogue, problems = load_folder(folder, today, folder.name)
    if catalogue is not None:
        problems = problems + check(catalogue)
    checked = require(catalogue, problems)
    return checked, tuple(sorted(problems))


def build(folder: Path, today: date, directories: bool = True, site_url: str = "") -> Built:
    """Build every page of a handbook.

    Args:
        folder: the data, as ``formulas``.
        today: the day that ages are counted to.
        directories: whether addresses end in a slash.
        site_url: address the site will have, for labels; empty where it is not known.

    Raises:
        HandbookError: faults in the data, or a template that fails.
    """
    begun = time.perf_counter()
    catalogue, problems = load_checked(folder, today)
    loaded = time.perf_counter()
    results = work_out(catalogue)
    worked = time.perf_counter()
    made = tuple(pages(results, directories, site_url))
    done = time.perf_counter()
    stages = (("load and check", loaded - begun), ("calculate", worked - loaded), ("render", done - worked))
    warnings = (*old_warnings(results.ages), *neighbour_warnings(results))
    news = newest_list(results)
    return Built(results, made, (*problems, *warnings), stages, (news,) if news else ())


def neighbour_warnings(results: Results) -> tuple[Problem, ...]:
    """Baths that must not meet and have no wash between them."""
    found = []
    for process_id, pairs in results.neighbours.items():
        for pair in pairs:
            if pair.danger:
                place = results.catalogue.place("process", process_id, "steps", pair.first_step)
                why = next(m.pair.result for m in pair.meetings if m.pair.severity == "danger")
                what = f"{pair.first} and {pair.second} follow one another without a wash: {why}"
                found.append(Problem(place, f"{what} (put a wash between them)", Severity.WARNING))
    return tuple(found)


def old_warnings(ages: Iterable[Aged]) -> tuple[Problem, ...]:
    """Everything past its limit as warnings, so that a strict build fails."""
    return tuple(
        Problem(
            Location(one.file),
            f"{one.kind} {one.subject} of {one.day} is past its limit since {one.good_until} "
            f"(check it again and write the new date)",
            Severity.WARNING,
        )
        for one in ages
        if one.old
    )
