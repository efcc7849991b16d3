"""Rows about the feeder: breaker, size, voltage drop, neutral, and the wire on to the panel."""

from __future__ import annotations

from planner.physics.conductor import dwelling_conductor, smallest_conductor
from planner.physics.conductor_tables import CIRCULAR_MILS
from planner.physics.demand.tables import clause
from planner.physics.draw import LEG_VOLTS
from planner.physics.feeder import generator_breaker_a, neutral_conductor
from planner.physics.grounding import equipment_grounding_size
from planner.physics.voltage_drop import (
    BRANCH_DROP,
    TOTAL_DROP,
    highest_ohm_per_kft,
    longest_run_ft,
)
from planner.plan.code import WHOLE, direct_demand
from planner.plan.plan import Plan
from planner.plan.site.feeder import ambient_degc, named, nameplate_a
from planner.service.choice import OFF
from planner.site.sheet.rows import Row, missing, passed, to_do
from planner.site.wire import FeederRun, drop_share, feeder_by_code, site_of
from planner.tolerances import ceiled, floored

LENGTH = "the length of the wire from the generator to the transfer equipment (site.wire)"
RECEPTACLES_A, RECEPTACLES_SIZE = 16.0, "12"
"""A 20 A circuit for receptacles at 80 % of its breaker, NEC 210.20(A): the usual farthest one."""


def conductor_rows(plan: Plan, run: FeederRun | str) -> tuple[Row, ...]:
    """List what the wire of a plan must be."""
    rows = [_breaker(plan)]
    if isinstance(run, str):
        rows.append(Row("feeder", "Wire from generator to transfer equipment", "not ok",
                        "no single conductor fits", clause="Table 310.16",
                        todo=f"{run} Ask an electrical engineer."))
    else:
        rows += [_size(plan, run), *_drop(plan, run), _neutral(plan, run)]
    return (*rows, *_to_the_panel(plan))


def _breaker(plan: Plan) -> Row:
    generator = plan.supply.generator
    rated_a = nameplate_a(generator)
    breaker_a = generator_breaker_a(rated_a, generator.breaker_a)
    stated = generator.breaker_a is not None
    return Row("generator-breaker", "Breaker at the generator", "ok" if stated else "to do",
               f"{breaker_a:g} A", breaker_a, "A", f"nameplate {rated_a:g} A", "240.6(A)",
               "" if stated else "The price book states none: the next standard rating is taken. "
               "Verify it on the nameplate.")


def _size(plan: Plan, run: FeederRun) -> Row:
    found, todo = run.by_code, ""
    if site_of(plan).terminals_degc is None and found.terminals_degc == 60:
        marked = feeder_by_code(plan, 75)
        if marked.size != found.size:
            todo = (f"If both ends are marked 75 degC, the code asks for {named(marked.size)} only "
                    "(site.terminals).")
    feeder = plan.menu.works.feeder
    if feeder is None or feeder.size == found.size:
        laid, carried_a = "", found.ampacity_a
    else:
        laid, carried_a = f"; by code {named(found.size)}", feeder.ampacity_a
    return Row(
        "feeder", "Wire from generator to transfer equipment, each line", "ok",
        f"{named(run.laid, found.material)}, carries {floored(carried_a, 0.1):g} A with "
        f"terminals of {found.terminals_degc} degC{laid}", carried_a, "A",
        f"at least {ceiled(found.needed_a, 0.1):.1f} A, 115 % of the nameplate; behind "
        f"{found.breaker_a:g} A", found.clause, todo)


def _drop(plan: Plan, run: FeederRun) -> list[Row]:
    limit = f"{100.0 * BRANCH_DROP:g} % (recommended)"
    number = "215.2, informational note; Chapter 9, Table 9"
    what = "Voltage drop of that wire at full load"
    if run.length_ft is None:
        return [missing("feeder-drop", what, LENGTH, limit=limit, clause=number)]
    share = drop_share(plan, run, run.laid)
    todo = ""
    if share > BRANCH_DROP:
        todo = "No single conductor keeps it: shorten the way, or ask an electrical engineer."
    elif run.laid != run.by_code.size:
        least = ceiled(100.0 * drop_share(plan, run, run.by_code.size), 0.01)
        todo = (f"Lay {named(run.laid, run.by_code.material)}, not the least by code, which loses "
                f"{least:.2f} %.")
    first = Row("feeder-drop", what, "to do" if todo else "ok",
                f"{ceiled(100.0 * share, 0.01):.2f} % over {run.length_ft:g} ft of "
                f"{named(run.laid)} at {run.amperes:.1f} A", 100.0 * share, "%", limit, number,
                todo)
    return [first, _left(drop_share(plan, run, run.laid))]


def _left(share: float) -> Row:
    left = TOTAL_DROP - share
    number = "210.19, 215.2, informational notes"
    limit = f"{100.0 * TOTAL_DROP:g} % in all (recommended)"
    what = "What is left of the voltage for branch circuits"
    if left <= 0.0:
        return Row("branch-drop", what, "to do", "nothing", 0.0, "ft", limit, number,
                   "Lay a larger feeder, or shorten its way.")
    ohm_per_kft = highest_ohm_per_kft(RECEPTACLES_SIZE)
    far_ft = longest_run_ft(RECEPTACLES_A, min(left, BRANCH_DROP) * LEG_VOLTS, ohm_per_kft)
    return Row("branch-drop", what, "to do",
               f"{RECEPTACLES_SIZE} AWG copper, {RECEPTACLES_A:g} A at 120 V, up to "
               f"{floored(far_ft, 1.0):g} ft", far_ft, "ft", limit, number,
               "Measure the longest branch circuit on standby power.")


def _neutral(plan: Plan, run: FeederRun) -> Row:
    home, choice = plan.menu.house.home, plan.choice
    on = frozenset(load.id for i, load in enumerate(home.loads) if choice.connection[i] != OFF)
    whole = plan.menu.kind == WHOLE
    sheets = direct_demand(home, on, whole_area=whole, entire=whole and OFF not in
                           choice.connection)
    neutral_a = min(sheets.counts.neutral_a, run.by_code.breaker_a)
    least = equipment_grounding_size(run.by_code.breaker_a, run.by_code.material)
    size = neutral_conductor(neutral_a, run.by_code, least, ambient_degc=ambient_degc(home))
    return Row("feeder-neutral", "Neutral of that wire", "ok",
               f"{named(size, run.by_code.material)} or larger, for {ceiled(neutral_a, 1.0):g} A",
               neutral_a, "A", f"no smaller than {named(least)}",
               f"{clause(home.code.edition, '220.61')}, 445.13, 215.2",
               f"Counted: all that the plan connects, up to the {run.by_code.breaker_a:g} A of the "
               "breaker. As large as the lines is always right.")


def _to_the_panel(plan: Plan) -> list[Row]:
    if plan.menu.kind != WHOLE:
        return []
    home, service = plan.menu.house.home, site_of(plan).service
    entire = OFF not in plan.choice.connection
    what = "Wire from transfer equipment to panel, each line"
    try:
        size = (dwelling_conductor(home.service_a, service.material) if entire
                else smallest_conductor(home.service_a, service.material))
    except ValueError as problem:
        return [to_do("panel-feeder", what, f"for {home.service_a:g} A",
                      f"{problem} Ask an electrical engineer.", "310.12, Table 310.16")]
    number = "310.12" if entire else "Table 310.16, 75 degC (310.12 asks for the entire dwelling)"
    text = f"{named(size, service.material)} or larger for {home.service_a:g} A"
    if service.conductor is None:
        return [to_do("panel-feeder", what, text, "Match it to what is there, or lay it new "
                      "(site.service.conductor).", number)]
    there = named(service.conductor, service.material)
    ok = CIRCULAR_MILS[service.conductor] >= CIRCULAR_MILS[size]
    return [Row("panel-feeder", what, passed(ok=ok), f"{there} is there", limit=text,
                clause=number, todo="" if ok else f"Lay {named(size)} or larger, or a smaller "
                "main breaker ahead of it.")]


