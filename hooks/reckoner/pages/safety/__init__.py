"""Hazards, what to keep apart, accident, law."""
