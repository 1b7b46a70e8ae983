"""Fixtures shared by all tests."""

pytest_plugins = ["site_fixtures"]
