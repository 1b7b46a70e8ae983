"""Frozen records: what authors write, as the rest of the core reads it. No disk, no text parsing beyond one value."""
