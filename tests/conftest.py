"""Fixtures shared by all tests."""

import os

from hypothesis import settings

pytest_plugins = ["demo_fixtures", "site_fixtures"]

# The same examples in every run, however slow the machine, so that a failure repeats; FAST=1 tries fewer.
settings.register_profile(
    "handbook", database=None, deadline=None, derandomize=True, max_examples=10 if os.environ.get("FAST") else 100
)
settings.load_profile("handbook")
