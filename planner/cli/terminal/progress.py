"""A progress bar on standard error while long work goes on, if someone is there to see it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn, TimeElapsedColumn

from planner.cli.terminal.interrupt import attended, hearing
from planner.cli.terminal.output import console
from planner.progress import OnProgress


@contextmanager
def progress(what: str, *, ends: bool = True) -> Iterator[OnProgress]:
    """Show a bar and yield the function that moves it; it takes the share done, 0-1.

    Until it is told a share it only shows that work goes on. Called after a signal, the function
    ends the work (KeyboardInterrupt), unless the work hears the signal itself.
    """
    bar = Progress(TextColumn("{task.description}", markup=False), BarColumn(),
                   TaskProgressColumn(), TimeElapsedColumn(), console=console(sys.stderr),
                   transient=True, disable=not sys.stderr.isatty())
    with bar, attended():
        task = bar.add_task(what, total=None)

        def tick(done: float) -> None:
            if ends:
                hearing.look()
            bar.update(task, completed=done, total=1.0)

        yield tick
