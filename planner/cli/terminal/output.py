"""Where text goes and how it looks; works at 100 columns and through a pipe."""

from __future__ import annotations

import json
import sys
import traceback
from collections.abc import Iterable, Mapping, Sequence
from io import StringIO
from textwrap import fill
from typing import Any, TextIO, TypeVar

import click
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table as Drawn
from rich.text import Text

from planner.cli.state import State
from planner.cli.terminal.interrupt import INTERRUPTED, NO_ANSWER, in_one_piece
from planner.errors import Finding, PlannerError, Severity
from planner.plan.schema import SCHEMA
from planner.quoting import MOST_QUOTED, harmless, harmless_json, shortened
from planner.report.cautions import CAUTIONS
from planner.report.findings import finding_data
from planner.report.tables.column import Table

Item = TypeVar("Item")

PIPED_WIDTH = 100
STYLES = {Severity.ERROR: "bold red", Severity.WARNING: "yellow", Severity.NOTE: "cyan"}


class Harmless(Console):
    """A console on which no sign of a text acts: whatever is printed passes `render_str`."""

    def render_str(self, text: str, **settings: Any) -> Text:  # noqa: ANN401
        """Turn text, that of a table's cell as well, into what is drawn."""
        return super().render_str(harmless(text, keep="\n"), **settings)


def console(stream: TextIO | None = None) -> Console:
    """Make a console for standard output, or for another stream."""
    target = stream or sys.stdout
    width = None if target.isatty() else PIPED_WIDTH
    return Harmless(file=target, width=width, highlight=False, markup=False, emoji=False)


def emit(data: Mapping[str, object]) -> None:
    """Write an answer as JSON, whole or not at all; the version of its shape comes first."""
    whole = {"schema": SCHEMA, **data}
    text = harmless_json(json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False))
    with in_one_piece():
        click.echo(text)


def tell(text: str) -> None:
    """Write text as it stands to standard error."""
    click.echo(harmless(text, keep="\n"), err=True)


def draw(
    table: Table[Item], *, total: Sequence[str] | None = None, footnote: str = ""
) -> None:
    """Draw a table, its last row a total if one is given."""
    drawn = Drawn(box=SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0),
                  show_footer=total is not None)
    for place, column in enumerate(table.columns):
        drawn.add_column(column.heading, justify="right" if column.right else "left",
                         footer=total[place] if total else "", vertical="top")
    for row in table.cells:
        drawn.add_row(*row)
    out = console()
    out.print(table.title, style="bold")
    out.print(drawn)
    if footnote:
        out.print(footnote)
    out.print()


def say(sentence: str = "") -> None:
    """Write a paragraph of the answer."""
    console().print(sentence, soft_wrap=False)


def show_cautions() -> None:
    """Write the cautions that end every answer."""
    out = console()
    out.print("Cautions", style="bold")
    for caution in CAUTIONS:
        out.print(fill(caution, out.width, initial_indent="- ", subsequent_indent="  "))


def show_findings(findings: Iterable[Finding]) -> None:
    """Write findings to standard error, one paragraph each."""
    err = console(sys.stderr)
    for finding in findings:
        err.print(f"{finding.severity}:", style=STYLES[finding.severity], end=" ")
        err.print(str(finding).removeprefix(f"{finding.severity}: "), soft_wrap=True)


def show_usage_error(problem: click.ClickException, arguments: Iterable[str]) -> None:
    """Say what is wrong with the arguments; one that is long is repeated in part."""
    said = StringIO()
    problem.show(file=said)
    text = said.getvalue().rstrip("\n")
    for argument in arguments:
        for value in (argument, argument.partition("=")[2]):
            if len(value) > MOST_QUOTED:
                text = text.replace(value, shortened(value))
                text = text.replace(repr(value)[1:-1], shortened(value))
    tell(text)


def show_error(problem: PlannerError, state: State) -> None:
    """Say what went wrong on standard error, and as JSON on standard output if that was asked."""
    if state.debug:
        tell("".join(traceback.format_exception(problem)).rstrip("\n"))
    tell(problem.message)
    show_findings(problem.findings)
    if state.as_json:
        _emit_error(type(problem).__name__, problem.message, problem.exit_code, problem.findings)


def show_interrupted(state: State, message: str = NO_ANSWER) -> None:
    """Say on standard error that the work was interrupted, and as JSON if that was asked."""
    click.echo(message, err=True)
    if state.as_json:
        _emit_error("Interrupted", message, INTERRUPTED, ())


def _emit_error(kind: str, message: str, code: int, findings: Iterable[Finding]) -> None:
    emit({"error": {"kind": kind, "message": message, "exit_code": code,
                    "findings": finding_data(findings)}})
