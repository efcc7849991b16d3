"""The compiled loops of the search."""
