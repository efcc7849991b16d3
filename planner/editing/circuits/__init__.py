"""Circuits of a panel schedule, made loads by the words of `planner.editing.everyday`."""
