"""From text to records: the only place that reads the disk, and it finds all faults at once."""
