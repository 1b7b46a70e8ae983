"""The demonstration data, loaded and worked out once a process on a fixed day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from reckoner.build import load_checked
from reckoner.calc.results import Results, work_out
from reckoner.pages.kinds import pages
from reckoner.pages.shared.page import Page
from reckoner.records.catalogue import Catalogue

TODAY = date(2026, 11, 25)


@cache
def demonstration() -> Catalogue:
    """The catalogue of ``formulas/``, for cases that are drawn from it before a test runs."""
    catalogue, _ = load_checked(Path(__file__).parent.parent / "formulas", TODAY)
    return catalogue


@cache
def demonstration_results() -> Results:
    """Everything worked out from ``formulas/``: two seconds, so never while tests are collected."""
    return work_out(demonstration())


@cache
def demonstration_pages() -> tuple[Page, ...]:
    """Every page made of ``formulas/``."""
    return tuple(pages(demonstration_results()))


@pytest.fixture(scope="session")
def demo() -> Catalogue:
    """The catalogue of ``formulas/``."""
    return demonstration()


@pytest.fixture(scope="session")
def demo_results() -> Results:
    """Everything worked out from ``formulas/``."""
    return demonstration_results()


@pytest.fixture(scope="session")
def demo_pages() -> Mapping[str, str]:
    """The Markdown of every page of ``formulas/``, by its path: never made anew for a single page."""
    return {page.path: page.markdown for page in demonstration_pages()}
