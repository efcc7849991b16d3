"""``planner plan``: one plan for one goal."""

from __future__ import annotations

from pathlib import Path

import click

from planner.cli.answer import show_plan
from planner.cli.given import goal_of
from planner.cli.pricing import (
    affordable,
    confident,
    covering,
    limited,
    limits_of,
    priced,
    read_priced,
)
from planner.cli.schedule import scheduled, write_schedule
from planner.cli.searching import ending_code, searching
from planner.cli.state import State, common
from planner.cli.terminal.output import emit, say, show_findings
from planner.facts.home import OrderRule
from planner.plan.findings import findings_of_plan
from planner.plan.goal import USUAL_COVERAGE
from planner.report.data import single_data
from planner.report.ended_words import search_sentences
from planner.report.words import share
from planner.study.recommend import recommend
from planner.study.smallest import smallest


@click.command(name="plan", short_help="Choose generator, modules and priorities for one goal.")
@click.argument("home_file", metavar="HOME")
@covering("Least share of what the family wants that is kept (coverage); 97 % if neither this nor "
          "a budget is given.")
@affordable
@confident
@click.option("--smallest", "want_smallest", is_flag=True,
              help="Prefer the smallest generator to the least cost.")
@scheduled("Write the panel schedule to this file, as CSV, with connections and priorities.")
@limited
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, coverage: float | None, budget: float | None,
    confidence: float, allow_unserved: bool, want_smallest: bool, seconds: float | None,
    gap: float | None, book: str | None, order: OrderRule | None, schedule: Path | None,
) -> int:
    """Choose generator, modules and priorities for one goal.

    The goal is the least cost for a share of what the family wants (coverage), or with --smallest
    the smallest generator for it, or with --budget the most coverage for an installed cost. Every
    plan keeps what is promised; the cheapest is one that holds in enough of the houses that fit the
    file. Interrupted, it shows the best that it has found so far, with what might still be won, and
    leaves with code 130.
    """
    if budget is not None and (coverage is not None or want_smallest):
        message = "--budget asks for the most coverage; give it without --coverage and --smallest."
        raise click.UsageError(message)
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    if coverage is None and budget is None:
        coverage, budget, said = goal_of(home_file, smallest=want_smallest)
        show_findings(said)
    goal = USUAL_COVERAGE if coverage is None else coverage
    held = None if budget is not None else goal
    limits = limits_of(seconds, gap)
    with searching("Looking for the plan", home, limits) as tick:
        found = (smallest(home, offered, goal, none_starved=not allow_unserved, limits=limits,
                          on_progress=tick)
                 if want_smallest
                 else recommend(home, offered, goal, budget_usd=budget,
                                none_starved=not allow_unserved, share=confidence, limits=limits,
                                on_progress=tick))
    write_schedule(schedule, home, found.plan)
    if state.as_json:
        emit(single_data(home, offered, found, held, of_its_size=want_smallest, stop=limits.stop))
        show_findings(findings_of_plan(found.plan))
    else:
        if coverage is None and budget is None:
            say(f"Goal, as none was given: {share(goal)} of what the family wants is kept.")
        show_plan(home, found, held, of_its_size=want_smallest,
                  notes=search_sentences(found, limits.stop))
    return ending_code(limits, reached=found.reached)
