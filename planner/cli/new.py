"""``planner new``: a home file from a list in everyday words."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import get_args

import click

from planner.case.book.read import read_book
from planner.case.messages import note
from planner.case.read import read_home_text
from planner.case.text import MOST_BYTES
from planner.cli.state import State, common
from planner.cli.terminal.output import emit, say, show_findings
from planner.editing.any_list import Form, read_any, text_of_any
from planner.editing.lists import Listed, refuse_without_loads, with_usual_sizes
from planner.editing.new_home import new_home_text
from planner.editing.save import save_text
from planner.errors import CaseError, Finding, Severity
from planner.facts.home import Home
from planner.importing.content import opened
from planner.quoting import quoted
from planner.report.findings import finding_data
from planner.report.words import count

STANDARD_INPUT = "-"
USUAL_LABEL = "New home"


@click.command(name="new", short_help="Make a home file from a list in everyday words.")
@click.argument("list_file", metavar="LIST")
@click.option("-o", "--output", metavar="HOME",
              help="File to write; standard output if none is given.")
@click.option("--label", default=USUAL_LABEL, show_default=True, help="What the home is called.")
@click.option("--book", metavar="FILE", help="Price book that the home is to name.")
@click.option("--weather", metavar="FILE", help="Weather file (EPW) that gives its design days.")
@click.option("--force", is_flag=True, help="Write over a file that is there already.")
@click.option("--form", type=click.Choice(get_args(Form)), help="What LIST is; its header says so "
              "if this is not given.")
@common
@click.pass_obj
def command(
    state: State, *, list_file: str, output: str | None, label: str, book: str | None,
    weather: str | None, force: bool, form: Form | None,
) -> None:
    """Make a home file from a list in everyday words; - reads it from standard input.

    A line for each load ("central air, 3 ton"), a table with a header line, or a panel schedule as
    CSV ("circuit,description,breaker,poles"), its columns in any order. What the list
    does not say is assumed and marked so in the file; what was not understood stays in it as a
    comment.
    """
    target = None if output is None else Path(output)
    if target is not None and target.exists() and not force:
        raise CaseError(f"{quoted(output)} is there already. Give another name, or --force to "
                        "write over it.")
    listed = with_usual_sizes(_listed(list_file, form))
    refuse_without_loads(listed, _name_of(list_file))
    folder = Path() if target is None else target.parent
    if book is not None:
        read_book(Path(book))
    text = new_home_text(listed, label, _named(book, folder), _named(weather, folder))
    home, of_home = read_home_text(text, "new home" if target is None else target.name, folder)
    findings = (*listed.findings, *of_home)
    show_findings(findings)
    if listed.budget_usd is not None:
        show_findings([note(USUAL_LABEL, f"its budget is {listed.budget_usd:,.0f} USD.",
                            f'Plan with --budget "{listed.budget_usd:.0f} USD".')])
    if target is not None:
        _write(target, text)
    if state.as_json:
        emit({"home": text, "loads": [load.id for load in home.loads],
              "written": None if target is None else str(target),
              "findings": finding_data(findings)})
    elif target is None:
        click.echo(text, nl=False)
    else:
        _say_written(target, home, listed.findings)


def _listed(list_file: str, form: Form | None) -> Listed:
    if list_file == STANDARD_INPUT:
        content = sys.stdin.buffer.read(MOST_BYTES + 1)
    else:
        with opened(Path(list_file), MOST_BYTES) as stream:
            content = stream.read(MOST_BYTES + 1)
    name = _name_of(list_file)
    return read_any(text_of_any(content, name), name, form)


def _name_of(list_file: str) -> str:
    return "standard input" if list_file == STANDARD_INPUT else Path(list_file).name


def _named(file: str | None, folder: Path) -> str | None:
    """Give the path by which the home file names a file."""
    return None if file is None else Path(os.path.relpath(file, folder)).as_posix()


def _write(target: Path, text: str) -> None:
    try:
        save_text(target, text)
    except OSError as problem:
        raise CaseError(f"{quoted(str(target))} cannot be written: {problem.strerror}.") from None


def _say_written(target: Path, home: Home, doubts: tuple[Finding, ...]) -> None:
    assumed = len(home.assumed) + sum(len(load.assumed) for load in home.loads)
    say(f"{target}: {home.label}, {count(len(home.loads), 'load')}; "
        f"{count(assumed, 'value')} assumed.")
    warned = sum(one.severity is not Severity.NOTE for one in doubts)
    said = [count(number, word) for number, word in (
        (warned, "warning"), (len(doubts) - warned, "note")) if number]
    if said:
        say(f"{' and '.join(said)} about the list: see the end of the file.")
    say(f"Next: planner check {target} --assumed")
