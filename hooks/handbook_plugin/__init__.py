"""The adapter: the only package that knows MkDocs. It hands the core's pages to a build and its problems to the log."""
