"""Runs a command and turns whatever goes wrong into a sentence and a code."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Sequence
from importlib.metadata import version

import click

from planner.cli.lazy import LazyGroup
from planner.cli.state import State
from planner.cli.terminal.interrupt import INTERRUPTED, NO_ANSWER, plain_interruption
from planner.cli.terminal.output import show_error, show_interrupted, show_usage_error
from planner.cli.terminal.streams import NotWritten
from planner.errors import PlannerError, VerificationError

TABLE = {
    "new": ("planner.cli.new", "Make a home file from a list in everyday words."),
    "check": ("planner.cli.check", "Read a home and show every finding and every assumption."),
    "demand": ("planner.cli.demand", "Work out the calculated load by code, line by line."),
    "plan": ("planner.cli.plan", "Choose generator, modules and priorities for one goal."),
    "frontier": ("planner.cli.frontier", "Find every plan that no other beats on both counts."),
    "compare": ("planner.cli.compare", "Put several sizes side by side, load by load."),
    "explain": ("planner.cli.explain", "Say why no smaller one, and what each wish costs."),
    "site": ("planner.cli.site", "Show what a plan asks of its site, clause by clause."),
    "portable": ("planner.cli.portable", "Show the cheapest way: a generator worked by hand."),
    "simulate": ("planner.cli.simulate", "Put a plan through many outages, second by second."),
    "app": ("planner.cli.app", "Plan in a browser, on this machine only."),
}


def _version(context: click.Context, _parameter: click.Parameter, asked: bool) -> None:
    if asked:
        click.echo(version("standby-planner"))
        context.exit()


app = LazyGroup(
    name="planner",
    table=TABLE,
    params=[click.Option(["--version"], is_flag=True, expose_value=False, is_eager=True,
                         callback=_version, help="Show the version and leave.")],
    help="Plan standby power for a home: the smallest generator, which loads are shed in which "
         "priority order, and what every dollar buys.",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Exit codes: 0 done, 1 no plan is possible or none was found, 2 the input cannot be "
           "read or has an error, 3 the solver failed, 4 a mistake of the planner, 5 the answer "
           "cannot be written, 130 interrupted, 141 the reader of the answer left.",
)


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code; no exception leaves this function."""
    state = State()
    try:
        code = _answered(arguments, state)
        sys.stdout.flush()
    except NotWritten as problem:
        return problem.say()
    return code


def _answered(arguments: Sequence[str], state: State) -> int:
    try:
        with plain_interruption():
            code = app.main(list(arguments), prog_name="planner", standalone_mode=False, obj=state)
    except (KeyboardInterrupt, click.Abort) as problem:
        first = problem.__cause__ if isinstance(problem, click.Abort) else problem
        show_interrupted(state, str(first or "") or NO_ANSWER)
        return INTERRUPTED
    except click.ClickException as problem:
        show_usage_error(problem, arguments)
        return problem.exit_code
    except PlannerError as problem:
        show_error(problem, state)
        return problem.exit_code
    except NotWritten:
        raise
    except Exception as problem:
        show_error(_mistake(problem), state)
        return VerificationError.exit_code
    return code if isinstance(code, int) else 0


def _mistake(problem: Exception) -> VerificationError:
    last = traceback.extract_tb(problem.__traceback__)[-1]
    message = (f"A mistake of the planner, not yours: {type(problem).__name__} in {last.name}: "
               f"{problem}. Run again with --debug and report what it prints.")
    wrapped = VerificationError(message)
    wrapped.__cause__ = problem
    return wrapped
