"""Drawings written to a directory: all of them, or a sentence that says why not."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, TypeVar

import click

from planner.editing.save import save_text
from planner.errors import CaseError
from planner.quoting import quoted
from planner.report.site.drawings import Drawing

Command = TypeVar("Command", bound=Callable[..., Any])


def checked_directory(name: str) -> Path:
    """Give the directory that drawings go to, made where only its last part is missing.

    It is asked for before the plan is looked for, so that nobody waits for a refusal.

    Raises
    ------
    CaseError
        It is a file, has no name, or cannot be made.
    """
    if not name:
        raise CaseError("--drawings names nothing. Give the name of a directory.")
    folder = Path(name)
    try:
        folder.mkdir(exist_ok=True)
    except FileExistsError:
        raise CaseError(f"{quoted(name)} is a file; drawings are written to a directory. Give "
                        "another name.") from None
    except FileNotFoundError:
        raise CaseError(f"{quoted(name)} cannot be made: the directory it is to stand in is not "
                        "there.") from None
    except (OSError, ValueError) as problem:
        raise CaseError(_refusal(name, problem)) from None
    if not os.access(folder, os.W_OK):
        raise CaseError(f"{quoted(name)} cannot be written to. Give another directory.")
    return folder


def write_drawings(folder: Path, drawn: Iterable[Drawing]) -> tuple[Path, ...]:
    """Write drawings, each whole or not at all; give the files.

    Raises
    ------
    CaseError
        The directory cannot be written to.
    """
    written = []
    for one in drawn:
        path = folder / one.file_name
        try:
            save_text(path, one.svg)
        except OSError as problem:
            message = (f"{quoted(one.file_name)} cannot be written to {quoted(str(folder))}: "
                       f"{problem.strerror}.")
            raise CaseError(message) from None
        written.append(path)
    return tuple(written)


def drawn_to(command: Command) -> Command:
    """Give a command the option for the directory of the drawings."""
    return click.option(
        "--drawings", "drawings_folder", metavar="DIR",
        help="Write the one-line diagram and a sketch of the place there, as SVG.")(command)


def _refusal(name: str, problem: OSError | ValueError) -> str:
    why = problem.strerror if isinstance(problem, OSError) else str(problem)
    return f"{quoted(name)} cannot be written: {why}."
