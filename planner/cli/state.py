"""What every command knows: how to answer and how much to say about a failure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

import click

INTERRUPTED = 130

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass
class State:
    """Choices that hold for the whole run of a command."""

    as_json: bool = False
    debug: bool = False


def common(command: Command) -> Command:
    """Give a command the options that all of them take."""
    options = (
        click.option("--json", "as_json", is_flag=True, expose_value=False, is_eager=True,
                     callback=_set("as_json"), help="Answer as JSON on standard output."),
        click.option("--debug", is_flag=True, expose_value=False, is_eager=True,
                     callback=_set("debug"), help="Show the traceback of an error."),
    )
    for option in options:
        command = option(command)
    return command


def _set(name: str) -> Callable[[click.Context, click.Parameter, bool], None]:
    def keep(context: click.Context, _parameter: click.Parameter, given: bool) -> None:
        if given:
            setattr(context.ensure_object(State), name, True)

    return keep
