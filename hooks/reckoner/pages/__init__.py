"""Results to Markdown text: views choose the words, templates lay them out. No generator is known here."""
