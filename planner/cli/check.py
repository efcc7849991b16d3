"""``planner check``: whether the file is sound, and what had to be assumed."""

from __future__ import annotations

from pathlib import Path

import click

from planner.cli.given import read_given
from planner.cli.schedule import scheduled, write_schedule
from planner.cli.state import State, common
from planner.cli.terminal.output import draw, emit, say, show_findings
from planner.report.findings import finding_data
from planner.report.home import home_data
from planner.report.tables.design_days import design_day_table
from planner.report.tables.home_comforts import comfort_table
from planner.report.tables.loads import FOOTNOTE, assumption_table, load_table
from planner.report.words import count


@click.command(name="check", short_help="Read a home and show every finding and every assumption.")
@click.argument("home_file", metavar="HOME")
@click.option("--assumed", is_flag=True, help="List every assumed value with its source.")
@scheduled("Write the panel schedule to this file, as CSV.")
@common
@click.pass_obj
def command(state: State, home_file: str, assumed: bool, schedule: Path | None) -> None:
    """Read a home and show every finding and every assumption."""
    home, findings = read_given(home_file)
    show_findings(findings)
    write_schedule(schedule, home)
    if state.as_json:
        emit({**home_data(home), "findings": finding_data(findings)})
        return
    say(f"{home.label}: {home.service_a:g} A service, {home.floor_area_ft2:,.0f} ft², "
        f"{count(len(home.loads), 'load')}, {count(len(home.comforts), 'comfort')}, "
        f"{count(len(home.days), 'design day')} of {count(home.spell_days, 'day')} each, "
        f"{home.fuel}.")
    say()
    marked = bool(home.assumed) or any(one.assumed for one in home.loads) or any(
        one.assumed for one in home.comforts)
    if home.weather is not None:
        draw(design_day_table(home))
    draw(comfort_table(home))
    draw(load_table(home), footnote=FOOTNOTE if marked and not assumed else "")
    if assumed:
        draw(assumption_table(home))
    say("The file is sound.")
