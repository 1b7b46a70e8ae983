"""Formula, bench sheet, label, chemical."""
