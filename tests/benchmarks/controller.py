"""`python -m tests.benchmarks.controller [HOME ...] [--seeds N] [--plans DIR]`: what goes wrong.

Plays the recommended plan of each home on every design day, 24 h from midnight, with what the
modules sense as bought. A row for each home and day: outages in which the engine stalled, was
stopped or the breaker tripped, and in which a start dipped beyond the limit, each with its 95 %
interval (Clopper and Pearson) and its causes; the lowest frequency; how often all modules opened.
`--plans` keeps the plans as files, so that they are looked for once.
"""

from __future__ import annotations

import argparse
from collections import Counter
from pathlib import Path

import numpy as np
from scipy.stats import binomtest

from planner.simulation import events, falls, tally
from planner.simulation.outage import simulate
from planner.simulation.settings import Settings
from tests.benchmarks.agreement import HOMES, plan_for

HEADINGS = ("home", "day", "stalls, % of outages", "trips", "dips beyond the limit", "causes",
            "lowest Hz", "all modules opened, a day", "made room, a day", "served, %")


def with_interval(count, of):
    """Write a share of outages with its 95 % interval, in percent."""
    low, high = binomtest(count, of).proportion_ci(method="exact")
    return f"{100 * count / of:.1f} ({100 * low:.1f}-{100 * high:.1f})"


def row(name, plan, day, seeds, settings):
    """Play a day; gives the cells of its row."""
    had, causes, lowest, opened, yielded, served = Counter(), Counter(), 99.0, 0, 0, []
    for seed in range(seeds):
        outage = simulate(plan, day, seed, hours=24.0, settings=settings)
        found = outage.tally.falls[: int(outage.tally.falls_count[0])].astype(int)
        kinds = {falls.KINDS[what].partition(",")[0] for what in found[:, tally.FALL_WHAT]}
        had.update(kinds)
        causes.update((falls.KINDS[one[tally.FALL_WHAT]], falls.CAUSES[one[tally.FALL_CAUSE]])
                      for one in found)
        lowest = min(lowest, 60.0 * float(outage.tally.sums[tally.LOWEST_FREQUENCY]))
        codes = outage.log.rows[: int(outage.log.written[0]), 1]
        opened += int((codes == events.OPENED_ALL).sum())
        yielded += int((codes == events.YIELDED).sum())
        served.append(outage.service)
    service = np.nanmean(served, axis=0)
    weight = np.where(np.isnan(service), 0.0, plan.menu.house.importance)
    said = "; ".join(f"{what}: {why}, {number}" for (what, why), number in causes.most_common())
    return (name, day.id, *(with_interval(had[what], seeds)
                            for what in ("stall", "trip", "dip beyond the limit")), said or "none",
            f"{lowest:.1f}", f"{opened / seeds:.2f}", f"{yielded / seeds:.0f}",
            f"{100 * float(np.nan_to_num(service) @ weight) / weight.sum():.1f}")


def main():
    """Print the table."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.controller")
    asked.add_argument("homes", nargs="*", default=HOMES)
    asked.add_argument("--seeds", type=int, default=200)
    asked.add_argument("--coverage", type=float, default=0.97)
    asked.add_argument("--senses", default="as bought")
    asked.add_argument("--plans", type=Path)
    given = asked.parse_args()
    print(f"| {' | '.join(HEADINGS)} |\n|{' --- |' * len(HEADINGS)}")
    for name in given.homes:
        plan = plan_for(name, given.coverage, given.plans)
        for day in plan.menu.house.home.days:
            cells = row(name, plan, day, given.seeds, Settings(senses=given.senses))
            print(f"| {' | '.join(cells)} |", flush=True)


if __name__ == "__main__":
    main()
