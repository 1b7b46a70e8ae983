"""The command ``formula-handbook``: what an owner does beside building. It knows the core, and not MkDocs."""
