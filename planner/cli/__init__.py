"""The command line: results to standard output, findings and progress to standard error.

Nothing is imported here: `planner.__main__` listens for Ctrl-C before the rest comes.
"""
