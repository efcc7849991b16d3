"""Rows about the feeder: breaker, size, voltage drop, neutral, and the wire on to the panel."""

from __future__ import annotations

from collections.abc import Mapping

from planner.facts.home import CodeEdition
from planner.facts.site import Raceway
from planner.physics.demand.tables import clause
from planner.physics.draw import LEG_VOLTS
from planner.physics.wire.feeder import generator_breaker_a
from planner.physics.wire.voltage_drop import (
    BRANCH_DROP,
    TOTAL_DROP,
    highest_ohm_per_kft,
    longest_run_ft,
)
from planner.plan.plan import Plan
from planner.plan.site.feeder import named, nameplate_a
from planner.site.neutral import Neutral, neutral_of
from planner.site.sheet.panel_wire import panel_rows
from planner.site.sheet.rows import Row, missing, to_do
from planner.site.wire import FeederRun, drop_share, feeder_by_code, site_of
from planner.tolerances import ceiled, floored

LENGTH = "the length of the wire from the generator to the transfer equipment (site.wire)"
RECEPTACLES_A, RECEPTACLES_SIZE = 16.0, "12"
"""A 20 A circuit for receptacles at 80 % of its breaker, NEC 210.20(A): the usual farthest one."""
COVER_IN: Mapping[Raceway, int] = {"PVC": 18, "steel": 6}
"""NEC Table 300.5 (300.5(A) in 2023), from memory: least cover over a raceway outside a drive or
street, columns of rigid nonmetallic and of rigid metal conduit [in]."""
DIRECT_COVER_IN = 24
"""The same over cable that is buried without a raceway, from memory [in]."""
RACEWAY_WORDS: Mapping[Raceway, str] = {"PVC": "PVC conduit", "steel": "rigid metal conduit"}


def conductor_rows(plan: Plan, run: FeederRun | str) -> tuple[Row, ...]:
    """List what the wire of a plan must be."""
    rows = [_breaker(plan)]
    if isinstance(run, str):
        rows.append(Row("feeder", "Wire from generator to transfer equipment", "not ok",
                        "no single conductor fits", clause="Table 310.16",
                        todo=f"{run} Ask an electrical engineer."))
    else:
        neutral = neutral_of(plan, run)
        rows += [_size(plan, run), *_drop(plan, run, neutral),
                 _neutral(run, neutral, plan.menu.house.home.code.edition)]
    return (*rows, *_cover(plan), *panel_rows(plan))


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


def _drop(plan: Plan, run: FeederRun, neutral: Neutral) -> list[Row]:
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
    return [first, _left(plan, run, neutral)]


def _left(plan: Plan, run: FeederRun, neutral: Neutral) -> Row:
    """What the feeder leaves a circuit of one leg: both lines in balance but for that circuit."""
    site = site_of(plan)
    back_ohm = highest_ohm_per_kft(neutral.size, site.material, site.raceway) * (
        run.length_ft or 0.0) / 1000.0
    left = TOTAL_DROP - drop_share(plan, run, run.laid) - RECEPTACLES_A * back_ohm / LEG_VOLTS
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


def _neutral(run: FeederRun, found: Neutral, edition: CodeEdition) -> Row:
    material = run.by_code.material
    text = f"{named(found.size, material)} or larger"
    why = "As large as the lines is always right."
    if found.grown:
        text = f"{named(found.size, material)}, as large as the lines"
        why = (f"The lines are larger than the {named(run.by_code.size)} by code, and what a leg "
               "loses comes back through the neutral.")
    number = f"{clause(edition, '220.61')}, 445.13, 215.2" + (", 250.122(B)" if found.grown else "")
    return Row("feeder-neutral", "Neutral of that wire", "ok",
               f"{text}, for {ceiled(found.load_a, 1.0):g} A", found.load_a, "A",
               f"no smaller than its ground, {named(found.least, material)}", number,
               f"Counted: all that the plan connects, up to the {run.by_code.breaker_a:g} A of the "
               f"breaker. {why}")


def _cover(plan: Plan) -> list[Row]:
    """How deep a feeder lies, where something is dug."""
    site = site_of(plan)
    if not site.trench_ft:
        return []
    return [to_do("burial", "Cover over that wire in its trench",
                  f"{COVER_IN[site.raceway]} in over {RACEWAY_WORDS[site.raceway]}",
                  f"{DIRECT_COVER_IN} in over cable laid without a raceway. Have buried lines "
                  "marked before anybody digs; ask the inspector before the trench is filled.",
                  "Table 300.5 (from memory)")]
