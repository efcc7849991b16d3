"""Which must-run loads a simulated outage made wait, or left without power."""

from __future__ import annotations

from planner.report.words import number, span
from planner.simulation.outcome.results import LoadResult, Results

SELDOM = 0.005  # a day; less often is not said, since it would be written 0.00


def broken_sentences(results: Results) -> list[str]:
    """Name the must-run loads that had to wait and how often; nothing if none had to."""
    broken = [said for one in results.loads() if (said := _broken(results, one))]
    if not broken:
        return []
    return [f"Wishes that the outage did not keep, per day: {'; '.join(broken)}."]


def _broken(results: Results, one: LoadResult) -> str:
    part = results.plan.load(one.id)
    load = results.plan.menu.house.home.load(one.id)
    if part.connection == "off" or not part.must_run:
        return ""
    said = []
    if one.late >= SELDOM:
        allowed = f"may wait {span(load.wait_h)}" if load.wait_h else "may not wait"
        said.append(f"{allowed} and waits longer {number(one.late, 2)} times, "
                    f"{span(one.longest_wait_h)} at most")
    if one.missed >= SELDOM:
        said.append(f"is given up {number(one.missed, 2)} times")
    if not said:
        return ""
    return (f"{one.label} (must run) {', '.join(said)}")
