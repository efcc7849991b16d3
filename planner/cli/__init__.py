"""The command line: results to standard output, findings and progress to standard error."""

from planner.cli.main import main

__all__ = ["main"]
