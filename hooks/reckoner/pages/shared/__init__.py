"""What every page uses: formats, links, escaping, the template environment and its macros."""
