"""Parts of pages: each draws one thing and returns what its user did with it."""
