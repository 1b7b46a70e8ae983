"""Offers in force, what formulas and complete processes cost, and how that changed."""
