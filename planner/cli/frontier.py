"""``planner frontier``: what every dollar buys."""

from __future__ import annotations

import click

from planner.cli.answer import show_points
from planner.cli.interrupt import INTERRUPTED, plain_interruption
from planner.cli.output import emit, show_findings, show_interrupted
from planner.cli.pricing import priced, read_priced
from planner.cli.progress import progress
from planner.cli.state import State, common
from planner.facts.home import OrderRule
from planner.plan.plan import Plan
from planner.report.data import frontier_data
from planner.search.frontier import frontier
from planner.study.owning import unbeaten_by


@click.command(name="frontier",
               short_help="Find every plan that no other beats on both counts.")
@click.argument("home_file", metavar="HOME")
@priced
@common
@click.pass_obj
def command(
    state: State, home_file: str, book: str | None, order: OrderRule | None
) -> int:
    """Find every plan that no other beats on both installed cost and coverage.

    Interrupted, it shows what it has found so far and leaves with code 130.
    """
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    found: list[Plan] = []
    try:
        with plain_interruption(), progress("Looking for plans") as tick:
            plans = frontier(home, offered, on_point=found.append, on_progress=tick).points
        complete = True
    except KeyboardInterrupt:
        plans = unbeaten_by(found, lambda plan: plan.cost_usd)
        complete = False
    if state.as_json:
        emit(frontier_data(home, offered, plans, complete=complete))
    elif not plans:
        show_interrupted(state, f"{home.label}: interrupted before a plan was found.")
    else:
        show_points(home, offered, plans, complete=complete)
    return 0 if complete else INTERRUPTED
