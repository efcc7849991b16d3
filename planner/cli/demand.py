"""``planner demand``: the calculated load by code, line by line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import get_args

import click

from planner.cli.given import read_given
from planner.cli.pricing import read_plan, read_priced
from planner.cli.state import State, common
from planner.cli.terminal.output import draw, emit, say, show_cautions, show_findings, tell
from planner.errors import CaseError, Finding, Severity
from planner.facts.home import CodeEdition, CodeMethod, Home
from planner.physics.demand import calculated_load
from planner.plan.compliance import compliance_of
from planner.plan.module_lines import to_verify_of_modules
from planner.quoting import quoted, some
from planner.report.cautions import CAUTIONS
from planner.report.code_words import (
    counted_sentence,
    plan_demand_data,
    sheets_shown,
    way_sentence,
)
from planner.report.demand import demand_data
from planner.report.tables.demand import (
    demand_table,
    limits_sentence,
    neutral_table,
    rating_sentence,
)
from planner.report.tables.modules import module_table
from planner.report.words import number


@click.command(name="demand", short_help="Work out the calculated load by code, line by line.")
@click.argument("home_file", metavar="HOME")
@click.option("--edition", type=click.Choice(get_args(CodeEdition)),
              help="Edition of the code instead of the file's.")
@click.option("--method", type=click.Choice(get_args(CodeMethod)),
              help="Method instead of the file's.")
@click.option("--load", "load_ids", multiple=True, metavar="ID",
              help="Count this load only; repeat for several.")
@click.option("--plan", "plan_file", metavar="FILE",
              help="Of what is always connected in this plan, as plan --json wrote it.")
@click.option("--book", metavar="FILE",
              help="Price book of that plan instead of the one the home names.")
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, edition: CodeEdition | None, method: CodeMethod | None,
    load_ids: tuple[str, ...], plan_file: str | None, book: str | None,
) -> int:
    """Work out the calculated load by code, line by line.

    With --plan: of what is always connected in a plan, by each method that may be permitted, and
    how the plan meets NEC 702.4.
    """
    if plan_file is not None:
        if method or load_ids:
            message = "--plan works out each method for its own loads; give it without the others."
            raise click.UsageError(message)
        return _show_plan(state, home_file, plan_file, book, edition)
    if book is not None:
        raise click.UsageError("--book belongs to --plan.")
    home, findings = read_given(home_file)
    show_findings(findings)
    code = replace(home.code, edition=edition or home.code.edition,
                   method=method or home.code.method)
    if code.method == "measured" and code.measured_peak_kva is None:
        message = "The measured method needs a measured demand: add [code.measured] to the file."
        raise CaseError(message)
    sheet = calculated_load(replace(home, code=code), _known(home, load_ids))
    leave_with = _exit_code(sheet.findings)
    if state.as_json:
        emit({"case": home.id, **demand_data(sheet), "cautions": list(CAUTIONS)})
        show_findings(sheet.findings)
        return leave_with
    draw(demand_table(sheet), total=["Calculated load", "", "", number(sheet.total_va, 0)])
    if sheet.neutral_lines:
        draw(neutral_table(sheet), total=["Neutral", "", "", number(sheet.neutral_va, 0)])
    say(f"{rating_sentence(sheet)} Neutral {number(sheet.neutral_a)} A.")
    say(limits_sentence(sheet))
    say()
    show_cautions()
    show_findings(sheet.findings)
    if leave_with:
        tell("This sheet does not count until the errors above are mended.")
    return leave_with


def _show_plan(
    state: State, home_file: str, plan_file: str, book_file: str | None,
    edition: CodeEdition | None,
) -> int:
    home, book, findings = read_priced(home_file, book_file, None)
    show_findings(findings)
    home = replace(home, code=replace(home.code, edition=edition or home.code.edition))
    plan = read_plan(home, book, plan_file)
    found = compliance_of(plan)
    of_plan = (*found.findings, *to_verify_of_modules(plan))
    if state.as_json:
        emit({"case": home.id, **plan_demand_data(plan), "cautions": list(CAUTIONS)})
        show_findings(of_plan)
        return 0
    say(f"{home.label}: {plan.supply.generator.label}, {plan.price.transfer.label}.")
    say(counted_sentence(found))
    say(way_sentence(found))
    say()
    for sheet in sheets_shown(found.sheets):
        draw(demand_table(sheet), total=["Calculated load", "", "", number(sheet.total_va, 0)])
    say(rating_sentence(found.sheets.counts))
    say(limits_sentence(found.sheets.counts))
    say()
    if plan.price.controller is not None:
        draw(module_table(plan))
    show_cautions()
    show_findings(of_plan)
    return 0


def _exit_code(findings: Iterable[Finding]) -> int:
    """That of a file with an error, where a condition of the method is not met; else 0."""
    wrong = any(finding.severity is Severity.ERROR for finding in findings)
    return CaseError.exit_code if wrong else 0


def _known(home: Home, load_ids: tuple[str, ...]) -> frozenset[str] | None:
    if not load_ids:
        return None
    known = [load.id for load in home.loads]
    for load_id in load_ids:
        if load_id not in known:
            message = f"{quoted(load_id)} is no load of this home; its loads are {some(known)}."
            raise click.BadParameter(message, param_hint="--load")
    return frozenset(load_ids)
