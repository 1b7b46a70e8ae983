"""How far to trust it: sources, workings, gaps, and how old the facts are."""
