"""Fixtures shared by all tests."""

pytest_plugins = ["demo_fixtures", "site_fixtures"]
