"""Costs and changed prices in words."""
