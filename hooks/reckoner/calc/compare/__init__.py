"""Kits, labs and concentrates against mixing: money spent roll by roll on each side."""
