"""Kit against mixing in words and pictures."""
