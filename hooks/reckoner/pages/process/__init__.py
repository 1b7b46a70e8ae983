"""Processes, schedules, tanks, control tests, film formats."""
