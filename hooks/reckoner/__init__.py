"""The handbook's core: data in, page text and figures out. It never imports MkDocs."""
