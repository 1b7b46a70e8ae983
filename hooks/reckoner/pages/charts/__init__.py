"""Pictures: their geometry, their words, and the macros that draw them."""
