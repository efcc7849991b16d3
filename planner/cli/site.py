"""``planner site``: what a plan asks of its site, with every clause, and what is missing."""

from __future__ import annotations

from textwrap import fill

import click

from planner.cli.pricing import affordable, confident, covering, priced, read_plan, read_priced
from planner.cli.state import State, common
from planner.cli.terminal.drawing import checked_directory, drawn_to, write_drawings
from planner.cli.terminal.output import console, draw, emit, say, show_cautions, show_findings
from planner.cli.terminal.progress import progress
from planner.facts.home import Home, OrderRule
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.plan.site.findings import site_findings
from planner.report.cautions import CAUTIONS, price_notice
from planner.report.site.drawings import drawings
from planner.report.site.words import site_data, site_sentence, todo_sentences, works_sentence
from planner.report.tables.site import site_table
from planner.site.sheet.sheet import site_sheet
from planner.study.recommend import recommend


@click.command(name="site", short_help="Show what a plan asks of its site, clause by clause.")
@click.argument("home_file", metavar="HOME")
@click.option("--plan", "plan_file", metavar="FILE",
              help="This plan, as plan --json wrote it, instead of the recommended one.")
@covering("Least share of what the family wants that is kept, for the recommended plan; 97 % if "
          "not given.")
@drawn_to
@affordable
@confident
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, plan_file: str | None, coverage: float | None,
    budget: float | None, confidence: float, allow_unserved: bool, book: str | None,
    order: OrderRule | None, drawings_folder: str | None,
) -> None:
    """Show what a plan asks of its site: wire, transfer, fuel, grounding, modules, placement.

    Each row says what was found, what it is held against, and the clause; what nobody measured is
    said to be missing, with the key of the home file that it belongs to.
    """
    if plan_file is not None and (coverage is not None or budget is not None):
        raise click.UsageError("--plan names a plan; give it without --coverage and --budget.")
    folder = None if drawings_folder is None else checked_directory(drawings_folder)
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    plan = (read_plan(home, offered, plan_file) if plan_file is not None
            else _recommended(home, offered, coverage, budget, confidence,
                              none_starved=not allow_unserved))
    sheet = site_sheet(plan)
    written = () if folder is None else write_drawings(folder, drawings(plan, sheet))
    if state.as_json:
        emit({"case": home.id, **site_data(plan, sheet), "notice": price_notice(offered),
              "cautions": list(CAUTIONS), "drawings": [str(path) for path in written]})
        show_findings(site_findings(plan))
        return
    say(f"{home.label}: {plan.supply.generator.label}, {plan.price.transfer.label}.")
    say(site_sentence(sheet))
    say(works_sentence(plan))
    for row in sheet.of("not ok"):
        say(f"NOT OK: {row.what}: {row.text}, {row.limit}. {row.todo}")
    say()
    for group in sheet.groups:
        draw(site_table(group))
        out = console()
        for sentence in todo_sentences(group):
            out.print(fill(sentence, out.width, initial_indent="- ", subsequent_indent="  "))
        out.print()
    for path in written:
        console().print(f"Written: {path}", soft_wrap=True)
    say(price_notice(offered))
    show_cautions()
    show_findings(site_findings(plan))


def _recommended(
    home: Home, book: PriceBook, coverage: float | None, budget: float | None, confidence: float,
    *, none_starved: bool,
) -> Plan:
    with progress("Looking for the plan") as tick:
        return recommend(home, book, USUAL_COVERAGE if coverage is None else coverage,
                         budget_usd=budget, none_starved=none_starved, share=confidence,
                         on_progress=tick).plan
