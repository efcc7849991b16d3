"""A search on the command line: Ctrl-C ends it with what it has, and the code says how it ended."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from planner.cli.terminal.interrupt import INTERRUPTED, plain_interruption
from planner.cli.terminal.progress import progress
from planner.errors import NoPlanError, NotFoundError
from planner.facts.home import Home
from planner.progress import OnProgress
from planner.search.limits import SearchLimits


@contextmanager
def searching(what: str, home: Home, limits: SearchLimits) -> Iterator[OnProgress]:
    """Show progress while a search goes on that hears a signal by its limits.

    Raises
    ------
    KeyboardInterrupt
        If there was a signal before any plan was found.
    """
    try:
        with plain_interruption(), progress(what, ends=False) as tick:
            yield tick
    except NotFoundError as problem:
        if limits.stop is None or limits.stop.ended != "asked":
            raise
        raise KeyboardInterrupt(f"{home.label}: interrupted before a plan was found.") from problem


def ending_code(limits: SearchLimits, *, reached: bool = True) -> int:
    """Give the exit code of a command that has shown what its search found."""
    if limits.stop is not None and limits.stop.ended == "asked":
        return INTERRUPTED
    return 0 if reached else NoPlanError.exit_code
