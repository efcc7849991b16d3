"""``planner frontier``: what every dollar buys."""

from __future__ import annotations

import click

from planner.cli.answer import show_points
from planner.cli.pricing import limited, limits_of, priced, read_priced
from planner.cli.searching import ending_code, searching
from planner.cli.state import State, common
from planner.cli.terminal.output import emit, show_findings
from planner.facts.home import OrderRule
from planner.report.data import frontier_data
from planner.search.frontier import frontier


@click.command(name="frontier",
               short_help="Find every plan that no other beats on both counts.")
@click.argument("home_file", metavar="HOME")
@limited
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, seconds: float | None, gap: float | None, book: str | None,
    order: OrderRule | None,
) -> int:
    """Find every plan that no other beats on both installed cost and coverage.

    Interrupted, it shows what it has found so far, with what might still be won, and leaves with
    code 130.
    """
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    limits = limits_of(seconds, gap)
    with searching("Looking for plans", home, limits) as tick:
        found = frontier(home, offered, on_progress=tick, limits=limits)
    if state.as_json:
        emit(frontier_data(home, offered, found, limits.stop))
    else:
        show_points(home, offered, found, limits.stop)
    return ending_code(limits)
