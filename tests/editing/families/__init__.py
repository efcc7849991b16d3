"""Families' own lists, each with what a careful estimator understands of it."""
