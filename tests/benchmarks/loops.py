"""How long one simulated outage of 72 h takes: ``python -m tests.benchmarks.loops [HOME ...]``."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

import planner
from planner.simulation.outage import simulate

CASES = Path(__file__).parents[2] / "cases"
SEEDS = 9


def seconds_of(plan, day):
    """Seconds of a processor that each of some outages takes."""
    taken = []
    for seed in range(SEEDS):
        start = time.thread_time()
        simulate(plan, day, seed, hours=72.0)
        taken.append(time.thread_time() - start)
    return np.array(taken)


def main(names):
    """Print best and middle time of every design day of each home."""
    for name in names or ("suburban", "large_estate"):
        home = planner.read_home(CASES / f"{name}.toml")
        plan = planner.recommend(home)
        for day in home.days:
            taken = 1000.0 * seconds_of(plan, day)
            print(f"{name}, {len(home.loads)} loads, {day.id}: best {taken.min():.0f} ms, "
                  f"middle {np.median(taken):.0f} ms")


if __name__ == "__main__":
    main(sys.argv[1:])
