"""Parts about jobs: whether one is kept, what was changed, quotes that went out."""
