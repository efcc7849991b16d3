"""``planner simulate``: a plan put through many outages, second by second."""

from __future__ import annotations

import click

from planner.case.bounds import ENGINE_CALL, MOST_SEEDS, OUTAGE_H, START_H
from planner.cli.pricing import affordable, covering, priced, read_plan, read_priced
from planner.cli.quantity import NumberOption, QuantityOption
from planner.cli.state import State, common
from planner.cli.terminal.interrupt import INTERRUPTED, plain_interruption
from planner.cli.terminal.output import (
    draw,
    emit,
    say,
    show_cautions,
    show_findings,
    show_interrupted,
)
from planner.cli.terminal.progress import progress
from planner.facts.home import Home, OrderRule
from planner.plan.generator_lines import to_verify_of_generator
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.quoting import quoted, some
from planner.report.outage import outage_data
from planner.report.tables.lived import FOOTNOTE as LIVED
from planner.report.tables.lived import lived_table
from planner.report.tables.outage import (
    comfort_table,
    equipment_table,
    interval,
    outage_table,
    room_table,
    weights_sentence,
)
from planner.report.tables.settings import settings_table
from planner.report.verdict import certainty, verdict_sentences
from planner.report.words import count, share
from planner.simulation.faults import NO_FAULT, Fault
from planner.simulation.outage import simulate
from planner.simulation.outcome.agreement import agreement_of
from planner.simulation.outcome.results import Results
from planner.simulation.outcome.summary import Summary
from planner.simulation.run import outages
from planner.simulation.settings import Settings
from planner.study.recommend import recommend

USUAL = Settings()
USUAL_SEEDS = 20  # answers within 10 s; more narrow the intervals
SECONDS = QuantityOption(ENGINE_CALL, "s")


@click.command(name="simulate", short_help="Put a plan through many outages, second by second.")
@click.argument("home_file", metavar="HOME")
@covering("Least share of what the family wants that is kept (coverage); 97 % if nothing "
          "else is asked for.")
@affordable
@click.option("--plan", "plan_file", metavar="FILE",
              help="Play this plan, as plan --json wrote it.")
@click.option("--hours", type=NumberOption(*OUTAGE_H), default=None,
              help="How long the utility is gone; as long as the spell of the home (72 h unless "
                   "its file says otherwise) if nothing is said.")
@click.option("--seeds", type=click.IntRange(1, MOST_SEEDS), default=USUAL_SEEDS, show_default=True,
              help="How many outages on each design day.")
@click.option("--start", "start_h", type=NumberOption(*START_H), default=0.0,
              show_default=True, help="Hour of the day at which the utility is lost.")
@click.option("--log", "want_log", is_flag=True,
              help="Write down the first outage of the day that weighs most, second by second.")
@click.option("--sensing", "sensing_s", type=SECONDS, metavar='"5 s"',
              default=USUAL.sensing_s,
              help="How long the utility must be gone before the engine is called, in whole "
                   f"seconds; {USUAL.sensing_s:g} s if nothing is said.")
@click.option("--warm-up", "warm_up_s", type=SECONDS, metavar='"25 s"',
              default=USUAL.warm_up_s,
              help="From the call for the engine to the transfer, longer for a cold engine; "
                   f"{USUAL.warm_up_s:g} s if nothing is said.")
@click.option("--by-hand", "by_hand_h", type=NumberOption(0.0, OUTAGE_H[1]),
              default=USUAL.by_hand_h, show_default=True, metavar="HOURS",
              help="How long what the family switches off by hand stays on, because nobody is "
                   "home; 0: somebody does it before the generator takes over.")
@click.option("--blind", is_flag=True, help="No module senses anything of its load.")
@click.option("--all-sense", is_flag=True, help="Every module senses the call of its load.")
@click.option("--stuck-open", metavar="LOAD", help="A module that never closes.")
@click.option("--stuck-closed", metavar="LOAD", help="A module that never opens.")
@click.option("--sensor-lost", is_flag=True, help="The controller does not measure the load.")
@click.option("--failed-starts", type=click.IntRange(0, 99), default=0,
              help="How many starts of the engine fail.")
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, coverage: float | None, allow_unserved: bool,
    budget: float | None, plan_file: str | None, hours: float | None, seeds: int, start_h: float,
    want_log: bool, sensing_s: float, warm_up_s: float, by_hand_h: float, blind: bool,
    all_sense: bool, stuck_open: str | None, stuck_closed: str | None, sensor_lost: bool,
    failed_starts: int, book: str | None, order: OrderRule | None,
) -> int:
    """Put a plan through many outages, second by second, with random but repeatable use.

    Interrupted, it shows what it has played so far and leaves with code 130.
    """
    if sum(one is not None for one in (coverage, budget, plan_file)) > 1:
        message = "Give one of --coverage, --budget and --plan: each says which plan to play."
        raise click.UsageError(message)
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    fault = Fault(stuck_open, stuck_closed, sensor_lost, failed_starts)
    with progress("Looking for the plan") as tick:
        plan = (read_plan(home, offered, plan_file) if plan_file
                else recommend(home, offered, USUAL_COVERAGE if coverage is None else coverage,
                               budget_usd=budget, none_starved=not allow_unserved,
                               on_progress=tick).plan)
    _check(plan, fault)
    settings = Settings(sensing_s=sensing_s, warm_up_s=warm_up_s, by_hand_h=by_hand_h,
                        senses="nothing" if blind else "calls" if all_sense else "as bought")
    long_h = 24.0 * home.spell_days if hours is None else hours
    found, complete = _played(plan, seeds, long_h, start_h, settings, fault)
    if not found:
        show_interrupted(state, f"{home.label}: interrupted before an outage was played on every "
                                "design day.")
        return INTERRUPTED
    results = Results(plan, long_h, tuple(found))
    log = None
    if want_log:
        day = max(home.days, key=lambda one: one.weight)
        log = simulate(plan, day, 0, hours=long_h, start_h=start_h, settings=settings,
                       fault=fault).lines()
    if state.as_json:
        emit(outage_data(results, settings, complete=complete, log=log,
                         fault=fault != NO_FAULT))
    else:
        _show(home, results, settings, complete=complete, log=log, fault=fault != NO_FAULT)
    return 0 if complete else INTERRUPTED


def _check(plan: Plan, fault: Fault) -> None:
    """Refuse a fault of a module that the plan does not have."""
    for load_id in (fault.stuck_open, fault.stuck_closed):
        modules = [part.id for part in plan.loads if part.module is not None]
        if load_id is not None and load_id not in modules:
            known = some(modules) or "none"
            message = f"The plan has no module at {quoted(load_id)}. Loads with a module: {known}."
            raise click.UsageError(message)


def _played(
    plan: Plan, seeds: int, hours: float, start_h: float, settings: Settings, fault: Fault
) -> tuple[list[Summary], bool]:
    """Play until done or interrupted; gives whole seeds only."""
    days = len(plan.menu.house.home.days)
    found: list[Summary] = []
    try:
        with plain_interruption(), progress("Playing outages") as tick:
            for one in outages(plan, seeds=seeds, hours=hours, start_h=start_h, settings=settings,
                               fault=fault):
                found.append(one)
                tick(len(found) / (seeds * days))
        return found, True
    except KeyboardInterrupt:
        return found[: len(found) // days * days], False


def _show(home: Home, results: Results, settings: Settings, *, complete: bool,
          log: tuple[str, ...] | None, fault: bool) -> None:
    gap = agreement_of(results).coverage
    played = (f"{count(results.seeds, 'outage')} of {results.hours:g} h on each of "
              f"{count(len(home.days), 'design day')}")
    say(f"{home.label}: {results.plan.supply.generator.label}, {played}"
        f"{'' if complete else '; interrupted, these are the ones that were played'}.")
    say(f"Kept by importance: planned {share(gap.planned)}, simulated {interval(gap.simulated)}"
        f"{' under the fault' if fault else ''}.")
    say(certainty(results))
    for sentence in verdict_sentences(results, fault=fault):
        say(sentence)
    say()
    draw(lived_table(results), footnote=LIVED)
    draw(outage_table(results), footnote=f"{weights_sentence(results)} Energy it got: of what "
         "it wanted in the same outage with unlimited power, at most 100 %; what a thermostat "
         "makes up later counts. ±: 95 % interval of the mean. Longest wait: of all outages; what "
         "keeps a level may wait long and lack nothing. Given up: uses.")
    if comfort_table(results).items:
        draw(comfort_table(results), footnote="Warmest and coldest: of all outages. Too warm: "
             "above what the food is with the utility.")
    draw(room_table(results), footnote="Worst of all outages, beside the worst of the same outages "
         "with the utility. Off: more than 3 degF behind the set point; unlivable: below 54 or "
         "above 86 degF, or 7 degF behind the set point where that is farther. Both: above what "
         "they are with the utility.")
    draw(equipment_table(results), footnote="±: 95 % interval of the mean. Worst of all: of all "
         "outages. A share of the rating is taken over 24 h of running, a highest load with its "
         "starts.")
    if results.plan.price.controller is not None:
        draw(settings_table(results.plan, settings), footnote="Chosen, and held by simulation; set "
             "the controller alike, or the outage is another.")
    for line in log or ():
        say(line)
    if log:
        say()
    show_cautions()
    show_findings(to_verify_of_generator(results.plan))
