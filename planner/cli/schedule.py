"""The option to write a panel schedule beside an answer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from planner.cli.terminal.output import tell
from planner.editing.save import save_text
from planner.errors import CaseError
from planner.facts.home import Home
from planner.plan.plan import Plan
from planner.quoting import quoted
from planner.report.panel_schedule import schedule_text

Command = TypeVar("Command", bound=Callable[..., Any])


def scheduled(words: str) -> Callable[[Command], Command]:
    """Give a command the option; refused at once where the file is there already."""
    return click.option("--panel-schedule", "schedule", metavar="FILE", callback=_new_file,
                        help=words)


def write_schedule(target: Path | None, home: Home, plan: Plan | None = None) -> None:
    """Write the panel schedule of a home, or of a plan, if it was asked for.

    Raises
    ------
    CaseError
        It cannot be written.
    """
    if target is None:
        return
    try:
        save_text(target, schedule_text(home, plan))
    except OSError as problem:
        raise CaseError(f"{quoted(str(target))} cannot be written: {problem.strerror}.") from None
    tell(f"{target}: panel schedule; positions by rule, verify them on site.")


def _new_file(
    _context: click.Context, _parameter: click.Parameter, name: str | None
) -> Path | None:
    if name is None:
        return None
    if Path(name).exists():
        raise CaseError(f"{quoted(name)} is there already. Give another name.")
    return Path(name)
