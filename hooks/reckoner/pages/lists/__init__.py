"""Home, lists, choosing, and the page on writing a formula."""
